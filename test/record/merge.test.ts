import { describe, expect, it } from "vitest";
import { checkContent, photoContent, planContent } from "../../src/record/content.ts";
import {
  addCheck,
  addNote,
  addPlan,
  changeNote,
  mergeRecords,
  NO_RECORDS,
  newWing,
  planInUse,
  type WingRecord,
  type WingRecords,
  whatMerged,
} from "../../src/record/index.ts";
import { checkText, fullWing, PLAN_TEXT, planText, randomRecords, recordsOf, stamp } from "./made.ts";

const SEEDS = Array.from({ length: 60 }, (_, seed) => seed * 3);

/** Every content of a record, by wing. */
function contents(records: WingRecords): ReadonlySet<string> {
  return new Set(
    records.wings.flatMap(({ id, plans, checks, photos, notes, hours, books }) => [
      ...plans.map((plan) => `${id} plan ${planContent(plan)}`),
      ...checks.map((check) => `${id} check ${checkContent(check)}`),
      ...photos.map((photo) => `${id} photo ${photoContent(photo)}`),
      ...[...notes, ...hours, ...books].map(
        (item) => `${id} ${JSON.stringify({ ...item, id: "", differsFrom: "", earlier: [], changedAt: "" })}`,
      ),
    ]),
  );
}

describe("merging", () => {
  it.each(SEEDS)("a record with itself changes nothing, nor does merging with nothing (%i)", (seed) => {
    const a = randomRecords(seed);
    expect(mergeRecords(a, a)).toEqual(a);
    expect(mergeRecords(a, NO_RECORDS)).toEqual(a);
    expect(mergeRecords(NO_RECORDS, a)).toEqual(a);
  });

  it.each(SEEDS)("is the same in whatever order (%i)", (seed) => {
    const [a, b, c] = [randomRecords(seed), randomRecords(seed + 1), randomRecords(seed + 2)];
    const once = mergeRecords(mergeRecords(a, b), c);
    expect(mergeRecords(c, mergeRecords(b, a))).toEqual(once);
    expect(mergeRecords(mergeRecords(a, c), b)).toEqual(once);
    // What comes in again brings nothing.
    expect(mergeRecords(once, b)).toEqual(once);
  });

  it.each(SEEDS)("loses no plan version, check or photo, and doubles none (%i)", (seed) => {
    const [a, b] = [randomRecords(seed), randomRecords(seed + 1)];
    const merged = mergeRecords(a, b);
    const all = new Set([...contents(a), ...contents(b)]);
    const lasting = (texts: ReadonlySet<string>) =>
      [...texts].filter((text) => /^w\d (plan|check|photo)/.test(text)).sort();
    expect(lasting(contents(merged))).toEqual(lasting(all));
    for (const { plans, checks, photos, notes, hours, books } of merged.wings)
      for (const items of [plans, checks, photos, notes, hours, books])
        expect(new Set(items.map(({ id }) => id)).size).toBe(items.length);
    for (const { plans } of merged.wings) expect(new Set(plans.map(planContent)).size).toBe(plans.length);
  });

  it("can clash in every way: the records by chance do", () => {
    const all = SEEDS.map((seed) => mergeRecords(randomRecords(seed), randomRecords(seed + 1)));
    const marked = (list: "plans" | "checks" | "notes" | "photos") =>
      all.some(({ wings }) =>
        wings.some((wing) => wing[list].some(({ differsFrom }) => differsFrom !== undefined)),
      );
    expect([marked("plans"), marked("checks"), marked("notes"), marked("photos")]).toEqual([
      true,
      true,
      true,
      true,
    ]);
  });
});

describe("two devices", () => {
  const base = addPlan(newWing("Rook", stamp()), { name: "p", text: PLAN_TEXT }, stamp(undefined, "p"));
  const merged = (one: WingRecord, other: WingRecord): WingRecord => {
    const [wing] = mergeRecords(recordsOf(one), recordsOf(other)).wings;
    if (wing === undefined) throw new Error("the wing is gone");
    return wing;
  };
  const on = (day: string, prefix: string) => stamp(`${day}T08:00:00.000Z`, prefix);

  it("that each brought the same check have it once, under the id that it had first", () => {
    const phone = addCheck(
      base,
      { name: "p", text: checkText("2026-04-01", 6770) },
      on("2026-04-02", "phone"),
    );
    const bench = addCheck(
      base,
      { name: "b", text: checkText("2026-04-01", 6770) },
      on("2026-04-01", "bench"),
    );
    expect(merged(phone, bench).checks.map(({ id }) => id)).toEqual(["bench1"]);
  });

  it("that hold different checks under one id have both, the one added first marked", () => {
    const one = addCheck(base, { name: "p", text: checkText("2026-04-01", 6770) }, on("2026-04-01", "c"));
    const other = addCheck(base, { name: "b", text: checkText("2026-04-01", 6999) }, on("2026-04-02", "c"));
    const { checks } = merged(one, other);
    expect(checks.length).toBe(2);
    expect(checks.map(({ differsFrom }) => differsFrom)).toEqual(["c1", undefined]);
    expect(checks.find(({ id }) => id === "c1")?.text).toContain("6999");
  });

  it("take a note’s later state for the earlier one’s where nobody else changed it", () => {
    const noted = addNote(base, { day: "2026-04-01", text: "wet" }, on("2026-04-01", "n"));
    const changed = changeNote(noted, "n1", { text: "wet, dried" }, "2026-04-03T00:00:00.000Z");
    expect(merged(noted, changed).notes.map(({ text }) => text)).toEqual(["wet, dried"]);
    expect(merged(changed, noted).notes.map(({ text }) => text)).toEqual(["wet, dried"]);
  });

  it("keep both states of a note that was changed on both", () => {
    const noted = addNote(base, { day: "2026-04-01", text: "wet" }, on("2026-04-01", "n"));
    const phone = changeNote(noted, "n1", { text: "wet, dried" }, "2026-04-03T00:00:00.000Z");
    const bench = changeNote(noted, "n1", { text: "wet, sandy" }, "2026-04-04T00:00:00.000Z");
    const { notes } = merged(phone, bench);
    expect(notes.map(({ text }) => text).sort()).toEqual(["wet, dried", "wet, sandy"]);
    expect(notes.find(({ id }) => id === "n1")?.text).toBe("wet, sandy");
    expect(notes.filter(({ differsFrom }) => differsFrom === "n1").length).toBe(1);
  });

  it("have that plan in use which was put in use last, also where it is under another id", () => {
    const phone = addPlan(base, { name: "q", text: planText("q") }, on("2026-04-01", "phone"));
    const bench = addPlan(base, { name: "q", text: planText("q") }, on("2026-04-05", "bench"));
    const back = addPlan(phone, { name: "p", text: PLAN_TEXT }, on("2026-04-03", "again"));
    const both = merged(back, bench);
    expect(both.plans.length).toBe(2);
    expect(planInUse(both)?.text).toBe(planText("q"));
  });

  it("keep wings apart that have one plan but are two wings", () => {
    const twin = { ...base, id: "twin" };
    expect(mergeRecords(recordsOf(base), recordsOf(twin)).wings.length).toBe(2);
  });
});

describe("what a merge brought", () => {
  it("is counted by wing and kind, and nothing where it brought nothing", () => {
    const wing = fullWing();
    const before = recordsOf(wing);
    const more = addNote(wing, { day: "2026-06-01", text: "new" }, stamp("2026-06-01T00:00:00.000Z", "m"));
    const merged = mergeRecords(before, recordsOf(more));
    expect(whatMerged(before, merged)).toEqual([
      {
        wingId: wing.id,
        name: "Quiet Rook",
        isNew: false,
        added: { plans: 0, checks: 0, books: 0, notes: 1, hours: 0, photos: 0 },
        renewed: 0,
        twofold: 0,
      },
    ]);
    expect(whatMerged(merged, mergeRecords(merged, before))).toEqual([]);
    expect(whatMerged(NO_RECORDS, before)[0]?.isNew).toBe(true);
  });
});
