/**
 * Floors are set below what was measured with 100 to 250 checks a kind (in brackets: detected / told rightly). A lower line off by a
 * wrong loop, a worse side or a trend towards the tip is in most of these checks.
 */
import { afterAll, describe, expect, it } from "vitest";
import { findMistakes } from "../../../src/diagnosis/mistakes/index.ts";
import * as inject from "./injections.ts";
import { CASES, type Fault, madeCheck, pick, withValues } from "./made-checks.ts";
import { type Rates, rates, ratesTable } from "./rates.ts";

const all: Rates[] = [];
const found = (name: string, injection: inject.Injection, count = 20): Rates => {
  const of = rates(name, injection, count);
  all.push(of);
  return of;
};

afterAll(() => {
  if (process.env.LINEWRIGHT_RATES) console.log(ratesTable(all));
});

const PATIENCE = { timeout: 60_000 };

describe("mistakes made on purpose are caught", PATIENCE, () => {
  it("a slip of a hundred or a thousand millimetres, always (100 % / 100 %; another digit there 100 % / 97 %)", () => {
    for (const place of [100, 1000]) {
      const slip = found(`off by ${place}`, inject.offByOne(place));
      expect(slip.detected).toBeGreaterThanOrEqual(0.99);
      expect(slip.identified).toBeGreaterThanOrEqual(0.85);
      expect(slip.misled).toBeLessThanOrEqual(0.04);
    }
    const other = found("another hundreds digit", inject.anotherDigit(100));
    expect(other.detected).toBeGreaterThanOrEqual(0.99);
    expect(other.identified).toBeGreaterThanOrEqual(0.85);
  });

  it("a slip of ten hardly ever (13 %): a line that short is as likely real, and is left to the outliers", () => {
    expect(found("off by 10", inject.offByOne(10)).misled).toBe(0);
  });

  it("digits transposed, where that makes 45 mm or more (100 % / 97 %)", () => {
    const turned = found("transposed", inject.transposed(45));
    expect(turned.detected).toBeGreaterThanOrEqual(0.96);
    expect(turned.identified).toBeGreaterThanOrEqual(0.8);
    expect(turned.misled).toBeLessThanOrEqual(0.07);
  });

  it("a digit too few (100 % / 98 %) or too many (100 % / 100 %); and a lost last digit isn't made up", () => {
    for (const injection of [inject.digitMissing, inject.digitDoubled]) {
      const key = found("keystroke", injection);
      expect(key.detected).toBeGreaterThanOrEqual(0.99);
      expect(key.identified).toBeGreaterThanOrEqual(0.9);
    }
    const made = madeCheck(4, [], CASES[0]);
    const check = withValues(made.check, ({ target, valuesM }) =>
      target.id === "A3" && target.side === "left"
        ? [Math.floor((valuesM[0] as number) * 100) / 1000]
        : valuesM,
    );
    const [lost] = findMistakes(made.of.wing, check);
    expect(lost).toMatchObject({
      kind: "keystroke",
      offer: "read again",
      concerns: [{ insteadM: undefined }],
    });
    expect(lost?.correction).toMatchObject({ edits: [{ to: undefined }] });
  });

  it("fifteen for fifty (98 % / 82 %)", () => {
    const heard = found("misheard", inject.misheard);
    expect(heard.detected).toBeGreaterThanOrEqual(0.85);
    expect(heard.listed).toBeGreaterThanOrEqual(0.8);
  });

  it("two neighbours exchanged whose lengths differ by more than four standard deviations (99 % / 99 %), surely from eight on", () => {
    const some = found("neighbours", inject.neighboursSwapped(4), 40);
    expect(some.detected).toBeGreaterThanOrEqual(0.95);
    expect(some.identified).toBeGreaterThanOrEqual(0.93);
    expect(found("neighbours", inject.neighboursSwapped(8)).identified).toBeGreaterThanOrEqual(0.98);
  });

  it("left and right of one pair exchanged, only where they differ (67 % / 62 % from six standard deviations on)", () => {
    expect(found("sides", inject.sidesSwapped(6)).detected).toBeGreaterThanOrEqual(0.45);
  });

  it("a reading at the wrong tab: the next one (100 % / 99 %), or the next row's (98 % / 85 %)", () => {
    const next = found("next", inject.wrongTab("next", 10));
    expect(next.detected).toBeGreaterThanOrEqual(0.97);
    expect(next.identified).toBeGreaterThanOrEqual(0.9);
    const row = found("row", inject.wrongTab("row", 15));
    expect(row.detected).toBeGreaterThanOrEqual(0.93);
    expect(row.listed).toBeGreaterThanOrEqual(0.9);
  });

  it("entries slipped by one, on wings whose neighbours differ (100 % / 96 %; on evenly spaced ones 60 % / 10 %)", () => {
    for (const by of [1, -1] as const) {
      const slipped = found(
        "shifted",
        (made) => (made.of === CASES[2] ? undefined : inject.shifted(by)(made)),
        20,
      );
      expect(slipped.detected).toBeGreaterThanOrEqual(0.95);
      expect(slipped.identified).toBeGreaterThanOrEqual(0.8);
    }
  });

  it("a row read from the riser's other end (100 % / 100 %), or from any point a decimetre away (99 % / 99 %)", () => {
    for (const step of ["riser", 0.1, 0.6] as const) {
      const stepped = found("row", inject.rowStepped(step), 20);
      expect(stepped.identified).toBeGreaterThanOrEqual(0.94);
      expect(stepped.misled).toBe(0);
    }
  });

  it("a side or a whole check read from another point (100 % / 100 %)", () => {
    expect(found("side", inject.sideStepped(0.1), 15).identified).toBeGreaterThanOrEqual(0.93);
    expect(found("datum", inject.otherDatum, 15).identified).toBeGreaterThanOrEqual(0.99);
  });
});

describe("where nothing was mistaken nothing is said", PATIENCE, () => {
  const alarms = (faults: readonly Fault[], count: number): number => {
    let checks = 0;
    for (let seed = 1; seed <= count; seed++) {
      const made = madeCheck(2000 * (faults.length + 1) + seed, faults);
      if (findMistakes(made.of.wing, made.check).length > 0) checks++;
    }
    return checks;
  };

  it("in 100 clean checks: at most one (0 in 250)", () => {
    expect(alarms([], 100)).toBeLessThanOrEqual(1);
  });

  it("about wrong loops, worse sides, trends to the tip and middle lines that are off: at most 2 in 100 (5 in 1250)", () => {
    const kinds: readonly Fault[][] = [
      ["wrong loop"],
      ["worse side", "tip trend"],
      ["wrong loop", "worse side", "tip trend"],
      ["middle line"],
    ];
    expect(kinds.reduce((sum, faults) => sum + alarms(faults, 25), 0)).toBeLessThanOrEqual(2);
  });

  it("about rows that were trimmed by 20 mm on both sides, or one side that shrank by 15 mm", () => {
    for (let seed = 1; seed <= 10; seed++) {
      const made = madeCheck(7000 + seed);
      const rowOf = new Map(made.of.wing.tabs.map((tab) => [`${tab.side} ${tab.id}`, tab.row]));
      const trimmed = withValues(made.check, ({ target, valuesM }) =>
        valuesM.map((value) => value + (rowOf.get(`${target.side} ${target.id}`) === "C" ? 0.02 : 0)),
      );
      expect(findMistakes(made.of.wing, trimmed)).toEqual([]);
      const shrunk = withValues(made.check, ({ target, valuesM }) =>
        valuesM.map((value) => value - (target.side === "left" ? 0.015 : 0)),
      );
      expect(findMistakes(made.of.wing, shrunk)).toEqual([]);
    }
  });

  it("with confidence about a single line that really is 12 mm off: a correction is hardly ever offered for use", () => {
    let offered = 0;
    for (let seed = 1; seed <= 40; seed++) {
      const made = madeCheck(8000 + seed);
      const off = pick(made.random, made.check.readings);
      const check = withValues(made.check, (reading) =>
        reading === off ? reading.valuesM.map((value) => value - 0.012) : reading.valuesM,
      );
      if (findMistakes(made.of.wing, check).some((one) => one.offer === "correct")) offered++;
    }
    expect(offered).toBeLessThanOrEqual(1);
  });
});
