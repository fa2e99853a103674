/** Records made up for tests, with time and ids that are the same in every run. */
import { seededRandom } from "../../src/demo/random.ts";
import { planFile } from "../../src/plan/index.ts";
import { stateMark } from "../../src/record/content.ts";
import {
  addBook,
  addCheck,
  addHours,
  addNote,
  addPhoto,
  addPlan,
  mergeRecords,
  NO_RECORDS,
  newWing,
  RECORD_VERSION,
  type Stamp,
  setNextCheck,
  type WingRecord,
  type WingRecords,
} from "../../src/record/index.ts";
import { testWing } from "../readings/wing.ts";

/** Ids `<prefix>1`, `<prefix>2`, … at one instant. */
export function stamp(at = "2026-03-14T09:00:00.000Z", prefix = "id"): Stamp {
  let count = 0;
  return { at, newId: () => `${prefix}${++count}` };
}

export const PLAN_TEXT = JSON.stringify(planFile(testWing()));

/** The test wing's plan under another name: another content. */
export function planText(note: string): string {
  const plan = planFile(testWing());
  return JSON.stringify({ ...plan, wing: { ...plan.wing, note } });
}

/** A check file of some tabs, all read as long [mm]. */
export function checkText(date: string, mm: number, tabs: readonly string[] = ["A1", "A2"]): string {
  const readings = tabs.map((tab) => ({ tab, side: "left", mm }));
  return JSON.stringify({
    format: "linewright-check",
    version: 1,
    date,
    tensionN: 50,
    from: "riser",
    readings,
  });
}

export function bookText(recorded: string, loop = "girth hitch"): string {
  return JSON.stringify({
    format: "linewright-loops",
    version: 1,
    present: [{ line: "AL1", side: "left", loop }],
    maillons: [
      { maillon: "A", side: "left", order: ["AL1"], loops: ["girth hitch"], recorded, closed: ["AL1"] },
    ],
  });
}

/** A wing with everything that a record can hold. */
export function fullWing(): WingRecord {
  const at = stamp("2025-05-01T10:00:00.000Z", "w");
  const later = stamp("2026-03-14T09:30:00.000Z", "x");
  let wing = addPlan(newWing("Quiet Rook", at), { name: "rook.plan.json", text: PLAN_TEXT }, at);
  wing = addPlan(
    wing,
    { name: "rook.plan.json", text: planText("B row"), changed: "row B put right" },
    later,
  );
  wing = addCheck(wing, { name: "2025.json", text: checkText("2025-05-01", 6770) }, at);
  const table = "tab,left,right\nA1,6767,6768\n";
  const frame = {
    wingName: undefined,
    date: "2026-03-14",
    tensionN: 50,
    from: "riser",
    instrumentZeroM: 0.002,
    instrument: "laser on a rail",
    resolutionM: 0.001,
    note: undefined,
  } as const;
  wing = addCheck(wing, { name: "2026.csv", text: table, frame }, later);
  wing = addBook(wing, { name: "rook.loops.json", text: bookText("2025-05-02") }, at);
  wing = addNote(wing, { day: "2025-05-03", text: "Bremsgriff links geflickt; “wie neu”." }, at);
  wing = addHours(wing, { day: "2025-05-01", totalHours: 40 }, at);
  wing = addHours(wing, { day: "2026-03-14", totalHours: 95.5 }, later);
  const bytes = Uint8Array.from({ length: 3000 }, (_, at) => (at * 37) & 0xff);
  wing = addPhoto(
    wing,
    { name: "maillon A left.jpg", type: "image/jpeg", bytes, about: "before opening" },
    at,
  );
  return setNextCheck(wing, "2027-03-14", later.at);
}

export function recordsOf(...wings: readonly WingRecord[]): WingRecords {
  return { version: RECORD_VERSION, wings };
}

/** Records by chance, from few ids, instants and contents, so that all kinds of clashes come about. In order, as all that is kept. */
export function randomRecords(seed: number): WingRecords {
  const random = seededRandom(seed);
  const pick = <T>(of: readonly T[]): T => of[random.below(of.length)] as T;
  const instant = () => `2026-0${1 + random.below(4)}-01T00:00:00.000Z`;
  const id = () => `i${random.below(4)}`;
  const some = <T>(make: () => T): readonly T[] => Array.from({ length: random.below(4) }, make);
  const lasting = () => {
    const addedAt = instant();
    return {
      id: id(),
      addedAt,
      changedAt: pick([addedAt, "2026-05-01T00:00:00.000Z"]),
      name: pick(["a", "b"]),
    };
  };
  /** What an item says with what it said before: by chance one of the states that others have as their last. */
  const edited = <T extends object>(says: () => T) => {
    const changedAt = instant();
    const before = some(() => stateMark({ id: "", changedAt: instant(), ...says() }));
    const earlier = [...new Set(before.filter((state) => state < changedAt))].sort();
    return { id: id(), changedAt, ...says(), ...(earlier.length === 0 ? {} : { earlier }) };
  };
  const wing = (): WingRecord => {
    const plans = some(() => ({ ...lasting(), text: planText(pick(["p", "q", "r"])) }));
    return {
      id: pick(["w1", "w2"]),
      name: { value: pick(["Rook", "Daw"]), changedAt: instant() },
      plans,
      ...(plans[0] === undefined ? {} : { planInUse: { value: plans[0].id, changedAt: instant() } }),
      checks: some(() => ({
        ...lasting(),
        text: checkText(pick(["2026-01-02", "2026-02-02"]), pick([6770, 6771])),
      })),
      books: some(() =>
        edited(() => ({ name: "loops.json", text: bookText(pick(["2026-01-03", "2026-02-03"])) })),
      ),
      notes: some(() => edited(() => ({ day: "2026-01-04", text: pick(["dry", "wet", "sandy"]) }))),
      hours: some(() => edited(() => ({ day: "2026-01-04", totalHours: pick([10, 20]) }))),
      photos: some(() => ({ ...lasting(), type: "image/png", bytes: Uint8Array.of(random.below(3), 1, 2) })),
      nextCheck: { value: pick(["2027-01-01", null]), changedAt: instant() },
    };
  };
  return some(wing).reduce((all: WingRecords, each) => mergeRecords(all, recordsOf(each)), NO_RECORDS);
}
