/**
 * Rates over the demo wings, the wing with round figures, and wings of random lengths, aged and read with 1 to 2 mm of scatter, in
 * all four orders, slips anywhere in the session. Bounds are set outside what was measured over 40 sessions: asked for again without a slip 13 of
 * 4436 clean readings (none with a check before), 22 of 4435 with a wrong loop, 16 of 4443 with a worse side and a trend to the tip;
 * of slips asked about, and named rightly: a thousand off 100 / 100 %, a hundred 97 / 95 %, another digit of the hundreds 99 / 98 %,
 * a digit twice 100 / 99 %, missing 100 / 73 %, transposed 98 / 95 %, a neighbour's number 99 / 97 %, another row's 98 / 91 %, another
 * digit of the tens 77 / 68 %, ten off 51 / 48 %. More sessions: set LINEWRIGHT_RATES to how many.
 */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { plausibleNow } from "../../../src/diagnosis/session/index.ts";
import { expectedReadingM } from "../../../src/readings/index.ts";
import {
  checkOf,
  enter,
  makeOrder,
  ownOrder,
  type Session,
  startSession,
} from "../../../src/readings/session/index.ts";
import { CASES, type Case, type Fault } from "../mistakes/made-checks.ts";
import { alarmsIn, LEAST_SLIP_M, madeSession, ratesText, type SlipRate, slipsIn } from "./made-sessions.ts";

const SCHOOL = CASES[0] as Case;
const FRAME = {
  wingName: SCHOOL.wing.name,
  date: "2026-03-14",
  tensionN: SCHOOL.wing.reference.tensionN,
  from: SCHOOL.wing.reference.from,
  instrumentZeroM: 0,
  instrument: undefined,
  resolutionM: 0.001,
  note: undefined,
};
const judge = plausibleNow(SCHOOL.wing);
const started = (): Session => startSession(FRAME, makeOrder(SCHOOL.wing, "rows"), 0);
const shouldMm = (session: Session): number =>
  Math.round(
    1000 *
      (expectedReadingM(SCHOOL.lookup, session.state.next?.target as never, session.state.frame) as number),
  );
/** Reads so many tabs, each `offMm` off the plan. */
function readTo(session: Session, count: number, offMm: (i: number) => number): Session {
  let now = session;
  for (let i = 0; i < count; i++) {
    const entered = enter(now, String(shouldMm(now) + offMm(i)), later(), judge);
    expect(entered.verdict).toMatchObject({ level: "fine" });
    now = entered.session;
  }
  return now;
}

/** Each reading takes its time. */
let clockMs = 0;
const later = (): number => {
  clockMs += 10_000;
  return clockMs;
};

describe("a number is held against all that was read before", () => {
  const row = readTo(started(), 6, (i) => -12 + (i % 3));
  const mm = shouldMm(row) - 11;

  it("what is off as its row is, is fine; as the plan has it, after a row that shrank by centimetres, is not", () => {
    expect(enter(row, String(mm), later(), judge).verdict.level).toBe("fine");
    const far = readTo(started(), 6, (i) => -30 + (i % 3));
    expect(enter(far, String(shouldMm(far)), later(), judge).verdict.level).toBe("doubtful");
  });

  it("says what was expected, in a range around the row's deviation", () => {
    const { expected } = enter(row, String(mm), later(), judge).verdict;
    expect(Math.abs((expected?.valueM as number) * 1000 - mm)).toBeLessThan(3);
    const widthMm = 1000 * ((expected?.highM as number) - (expected?.lowM as number));
    expect(widthMm).toBeGreaterThan(10);
    // A single line may really be off by centimetres, more often than a number is typed that is no known slip.
    expect(widthMm).toBeLessThan(100);
  });

  it("names the number that was meant where it is a hundred off", () => {
    const { verdict } = enter(row, String(mm + 100), later(), judge);
    expect(verdict).toMatchObject({ level: "doubtful", better: { kind: "hundred off", valueM: mm / 1000 } });
    expect(verdict.reason?.text).toBe(`${mm} mm? It is a round 100 mm off. Read A7 left again.`);
  });

  it("names the tab that reads so", () => {
    const behind = enter(row, String(shouldMm(readTo(started(), 5, () => -12)) - 12), later(), judge).verdict;
    expect(behind).toMatchObject({ level: "doubtful", better: { kind: "neighbour", target: { id: "A6" } } });
    expect(behind.reason?.text).toContain("is what A6 left should read");
  });

  it("takes the last three digits, marked; and asks where they would be a doubtful length", () => {
    const short = enter(row, String(mm).slice(-3), later(), judge);
    expect(short.valuesM).toEqual([mm / 1000]);
    expect(short.session.journal.at(-1)).toMatchObject({ taken: "last three digits" });
    const other = enter(row, String(mm + 60).slice(-3), later(), judge);
    expect(other.verdict.level).toBe("doubtful");
  });

  it("a number that was doubted counts when it is read again alike, and the check has both", () => {
    const doubted = enter(row, String(mm + 45), later(), judge);
    expect(doubted.verdict.level).toBe("doubtful");
    const again = enter(doubted.session, String(mm + 44), later(), judge);
    expect(again.verdict.level).toBe("fine");
    expect(checkOf(again.session).readings.at(-1)?.valuesM).toEqual([(mm + 45) / 1000, (mm + 44) / 1000]);
  });

  it("a real wrong loop is asked about at its first tabs at most; its others are expected then", () => {
    let session = readTo(started(), 4, () => -3);
    let doubts = 0;
    for (let i = 0; i < 9; i++) {
      // The second lower line carries A5 to A9.
      const text = String(shouldMm(session) - 3 + (i < 5 ? 18 : 0));
      const entered = enter(session, text, later(), judge);
      session = entered.session;
      if (entered.verdict.level === "doubtful") {
        doubts++;
        session = enter(session, text, later(), judge).session;
      }
    }
    expect(session.state.next?.target).toMatchObject({ id: "A1", side: "right" });
    expect(doubts).toBeLessThanOrEqual(2);
  });

  it("the check before tells which line was off already", () => {
    const readings = SCHOOL.wing.tabs.map(({ id, side }) => {
      const target = { kind: "tab", id, side } as const;
      const should = expectedReadingM(SCHOOL.lookup, target, FRAME) as number;
      return { target, valuesM: [should + (id === "A7" && side === "left" ? -0.035 : 0)], note: undefined };
    });
    const knowing = plausibleNow(SCHOOL.wing, { lastCheck: { ...FRAME, date: "2025-03-14", readings } });
    const text = String(shouldMm(row) - 11 - 35);
    expect(enter(row, text, later(), judge).verdict.level).toBe("doubtful");
    expect(enter(row, text, 0, knowing).verdict.level).toBe("fine");
    expect(enter(row, String(mm), 0, knowing).verdict.level).toBe("fine");
  });

  it("a line read alone is held against the plan and its row", () => {
    const line = SCHOOL.wing.lines.find(({ id, side }) => id === "AL1" && side === "left");
    const target = { kind: "line", id: "AL1", side: "left" } as const;
    const session = startSession(FRAME, ownOrder(SCHOOL.wing, [target]).order, 0);
    const should = Math.round(1000 * (line?.lengthM as number));
    expect(enter(session, String(should - 4), later(), judge).verdict.level).toBe("fine");
    expect(enter(session, String(should + 100), later(), judge).verdict).toMatchObject({
      level: "doubtful",
      better: { kind: "hundred off" },
    });
  });

  it("the same readings give the same verdict, in whatever order they were taken", () => {
    const forward = { frame: FRAME, readings: checkOf(row).readings };
    const backward = { frame: FRAME, readings: [...forward.readings].reverse() };
    const target = row.state.next?.target as never;
    for (const offMm of [-100, -20, 0, 9, 20]) {
      const [one, other] = [forward, backward].map((of) => judge.judge(of, target, [(mm + offMm) / 1000]));
      expect(one).toEqual(other);
    }
  });
});

describe("how often", () => {
  const SESSIONS = Number(process.env.LINEWRIGHT_RATES ?? 10);
  const rates = new Map<string, SlipRate>();
  const alarms = (faults: readonly Fault[], lastCheck = false): number => {
    let [readings, asked] = [0, 0];
    for (let seed = 1; seed <= SESSIONS; seed++) {
      const session = madeSession(seed, faults, lastCheck);
      const of = alarmsIn(session);
      readings += of.readings;
      asked += of.alarms;
      if (faults.length === 0 && !lastCheck) {
        const places = Array.from({ length: 12 }, () => session.made.random.below(session.readings.length));
        slipsIn(session, places, rates, (kind) => (kind === "ten off" ? 0 : LEAST_SLIP_M));
      }
    }
    if (process.env.LINEWRIGHT_RATES)
      console.log(
        `${faults.join(", ") || "clean"}${lastCheck ? " with a check before" : ""}: ${asked} of ${readings}`,
      );
    return (100 * asked) / readings;
  };

  let clean: number;
  beforeAll(() => {
    clean = alarms([]);
  });

  afterAll(() => {
    if (process.env.LINEWRIGHT_RATES) console.log(ratesText(rates));
  });

  it("an honest reading of a wing without faults is asked for again: in less than one of a hundred", () => {
    expect(clean).toBeLessThan(1);
    expect(alarms([], true)).toBeLessThan(1);
  });

  it("one of a wing with a wrong loop, a worse side or a trend to the tip: in less than 1.5 of a hundred", () => {
    expect(alarms(["wrong loop"])).toBeLessThan(1.5);
    expect(alarms(["worse side", "tip trend"])).toBeLessThan(1.5);
  });

  it.each([
    ["thousand off", 0.99, 0.98],
    ["hundred off", 0.9, 0.88],
    ["hundreds digit", 0.93, 0.9],
    ["digit twice", 0.99, 0.95],
    ["digit missing", 0.98, 0.5],
    ["transposed", 0.9, 0.85],
    ["neighbour's", 0.85, 0.8],
    ["other row's", 0.82, 0.75],
    ["tens digit", 0.6, 0.5],
  ])(
    "a slip (%s) of 20 mm or more is asked about at once: in more than %d of all, the right figure or tab named in %d",
    (kind, found, named) => {
      const rate = rates.get(kind) as SlipRate;
      expect(rate.tried).toBeGreaterThan(40);
      expect(rate.found / rate.tried).toBeGreaterThan(found);
      expect(rate.named / rate.tried).toBeGreaterThan(named);
    },
  );

  it("a slip of ten in about every second, no more: a line that short is as likely", () => {
    const { found, tried } = rates.get("ten off") as SlipRate;
    expect(found / tried).toBeGreaterThan(0.25);
    expect(found / tried).toBeLessThan(0.8);
  });
});
