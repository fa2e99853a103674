import { describe, expect, it } from "vitest";
import type { Side, Wing } from "../../src/plan/index.ts";
import {
  type Check,
  deviations,
  expectedReadingM,
  lookUp,
  type Reading,
  unmatchedTargets,
} from "../../src/readings/index.ts";
import { check, read, testWing } from "./wing.ts";

const wing = testWing();
const deviationOf = (of: Check, tabKey: string, on: Wing = wing) =>
  deviations(on, of).paths.find((path) => path.tabKey === tabKey);

/** Everything read as it should be if the wing were as specified, each tab off by what `offM` says [m]. */
function readAll(on: Wing, conditions: Partial<Check>, offM: (tabKey: string) => number = () => 0): Check {
  const frame = check([], conditions);
  const lookup = lookUp(on);
  const readings = on.tabs.map((tab): Reading => {
    const target = { kind: "tab", id: tab.id, side: tab.side } as const;
    return {
      target,
      valuesM: [(expectedReadingM(lookup, target, frame) ?? Number.NaN) + offM(tab.key)],
      note: undefined,
    };
  });
  return { ...frame, readings };
}

describe("deviation of a path", () => {
  it("is measured less specified: a path read 8 mm short is at −8 mm", () => {
    // A1: 4000 + 1950 + 360 − 13 + 470 = 6767 mm.
    const path = deviationOf(check([read("tab", "A1", "left", 6759)]), "left:A1");
    expect(path?.specifiedM).toBeCloseTo(6.767, 12);
    expect(path?.measuredM).toBeCloseTo(6.759, 12);
    expect((path?.deviationM ?? 0) * 1000).toBeCloseTo(-8, 9);
  });

  it("is taken from the mean of repeats, whose spread is told", () => {
    const path = deviationOf(check([read("tab", "A1", "left", 6765, 6767, 6772)]), "left:A1");
    expect((path?.deviationM ?? 0) * 1000).toBeCloseTo(1, 9);
    expect(path?.repeats).toBe(3);
    // Squares of −3, −1, 4: 26; over two: 13.
    expect((path?.repeatSpreadM ?? 0) * 1000).toBeCloseTo(Math.sqrt(13), 9);
  });

  it("has no spread with a single reading, and nothing at all without one", () => {
    const of = check([read("tab", "A1", "left", 6765)]);
    expect(deviationOf(of, "left:A1")).toMatchObject({ repeats: 1, repeatSpreadM: undefined });
    expect(deviationOf(of, "right:A1")).toMatchObject({
      repeats: 0,
      measuredM: undefined,
      deviationM: undefined,
    });
  });

  it("takes two entries for one tab together", () => {
    const of = check([
      read("tab", "A1", "left", 6765),
      read("tab", "B1", "left", 6800),
      read("tab", "A1", "left", 6767),
    ]);
    expect(deviationOf(of, "left:A1")?.repeats).toBe(2);
  });

  it("has the instrument's zero taken off", () => {
    const path = deviationOf(check([read("tab", "A1", "left", 6769)], { instrumentZeroM: 0.002 }), "left:A1");
    expect((path?.deviationM ?? 1) * 1000).toBeCloseTo(0, 9);
  });

  it("is corrected from 20 N: 6760.9 mm read is 6767.0 mm at 50 N", () => {
    const path = deviationOf(check([read("tab", "A1", "left", 6760.8886)], { tensionN: 20 }), "left:A1");
    expect((path?.deviationM ?? 1) * 1000).toBeCloseTo(0, 3);
  });

  it("doesn't depend on where from the paths were read, once that is said", () => {
    const fromMaillon = deviationOf(
      check([read("tab", "A1", "left", 6759 - 470)], { from: "maillon" }),
      "left:A1",
    );
    expect((fromMaillon?.deviationM ?? 0) * 1000).toBeCloseTo(-8, 9);
    const planned = testWing("maillon");
    const fromRiser = deviationOf(
      check([read("tab", "A1", "left", 6759)], { from: "riser" }),
      "left:A1",
      planned,
    );
    expect((fromRiser?.deviationM ?? 0) * 1000).toBeCloseTo(-8, 9);
    expect(fromRiser?.specifiedM).toBeCloseTo(6.297, 12);
  });

  it("of a brake is the same from riser and maillon", () => {
    for (const from of ["riser", "maillon"] as const) {
      const path = deviationOf(check([read("tab", "K1", "right", 6270)], { from }), "right:K1");
      expect((path?.deviationM ?? 0) * 1000).toBeCloseTo(-30, 9);
    }
  });
});

describe("a whole check", () => {
  it("gives every tab of the wing, in the wing's order", () => {
    const { paths } = deviations(wing, check([]));
    expect(paths.map((path) => path.tabKey)).toEqual(wing.tabs.map((tab) => tab.key));
  });

  it("of a wing exactly as specified shows nothing, whatever tension, datum and zero", () => {
    for (const on of [testWing("riser"), testWing("maillon")]) {
      for (const from of ["riser", "maillon"] as const) {
        for (const tensionN of [10, 50, 120]) {
          const of = readAll(on, { from, tensionN, instrumentZeroM: -0.0035 });
          for (const path of deviations(on, of).paths) expect(path.deviationM).toBeCloseTo(0, 12);
        }
      }
    }
  });

  it("shows what each path is off by, and the mirrored check the mirror image", () => {
    const offM = (tabKey: string): number =>
      [...tabKey].reduce((sum, letter) => (sum * 31 + letter.charCodeAt(0)) % 41, 7) / 1000 - 0.02;
    const of = readAll(wing, { tensionN: 30, from: "maillon" }, offM);
    const across = (side: Side): Side => (side === "left" ? "right" : "left");
    const mirrored = {
      ...of,
      readings: of.readings.map((one) => ({
        ...one,
        target: { ...one.target, side: across(one.target.side) },
      })),
    };
    const seen = deviations(wing, of).paths;
    for (const path of seen) {
      expect(path.deviationM).toBeCloseTo(offM(path.tabKey), 12);
      const twin = wing.tabs.find((tab) => tab.key === path.tabKey)?.mirrorKey ?? "";
      expect(deviationOf(mirrored, twin)?.deviationM).toBeCloseTo(path.deviationM ?? Number.NaN, 12);
    }
    expect(seen.some((path) => Math.abs(path.deviationM ?? 0) > 0.01)).toBe(true);
  });
});

describe("lines read on their own", () => {
  it("are held against their specified length before the loop takes any up", () => {
    const { lines } = deviations(wing, check([read("line", "AL1", "left", 4003)]));
    expect(lines).toHaveLength(1);
    expect(lines[0]?.lineKey).toBe("left:AL1");
    expect((lines[0]?.deviationM ?? 0) * 1000).toBeCloseTo(3, 9);
  });

  it("have zero and their own stretch taken off, but no strap", () => {
    // AM1 at 20 N: 1950/1.002·1.0008 = 1947.6647 mm; the instrument shows 2 mm more.
    const of = check([read("line", "AM1", "left", 1949.66467)], {
      tensionN: 20,
      from: "maillon",
      instrumentZeroM: 0.002,
    });
    expect((deviations(wing, of).lines[0]?.deviationM ?? 1) * 1000).toBeCloseTo(0, 4);
  });

  it("don't count as readings of the tab of the same name", () => {
    const of = check([read("line", "AM1", "left", 1950)]);
    expect(deviations(wing, of).paths.every((path) => path.measuredM === undefined)).toBe(true);
  });
});

it("readings of a tab that a changed plan no longer has are left out and can be listed", () => {
  const of = check([read("tab", "C1", "left", 7000), read("tab", "A1", "left", 6767)]);
  expect(deviations(wing, of).paths.filter((path) => path.measuredM !== undefined)).toHaveLength(1);
  expect(unmatchedTargets(wing, of)).toEqual([{ kind: "tab", id: "C1", side: "left" }]);
});
