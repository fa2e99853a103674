import { describe, expect, it } from "vitest";
import type { Path, Wing } from "../../src/plan/index.ts";
import {
  correctedM,
  expectedReadingM,
  lineCorrections,
  lookUp,
  pathCompliance,
  pathCorrections,
  unstretchedM,
} from "../../src/readings/index.ts";
import { testWing } from "./wing.ts";

const pathTo = (wing: Wing, tabKey: string): Path => {
  const path = wing.paths.find((one) => one.tabKey === tabKey);
  if (path === undefined) throw new Error(tabKey);
  return path;
};
const at = (tensionN: number, from: "riser" | "maillon" = "riser", instrumentZeroM = 0) => ({
  tensionN,
  from,
  instrumentZeroM,
});

describe("stretch of a cascade", () => {
  const lookup = lookUp(testWing());
  const path = pathTo(testWing(), "left:A1");

  it("is what is worked out by hand for 4.0 + 1.95 + 0.36 m at 40, 25 and 13.8 kN", () => {
    // L0: 4.0/1.00125 = 3.9950062; 1.95/1.002 = 1.9461078; 0.36/1.00362319 = 0.3587004 m.
    // L0/EA: 9.987516e-5 + 7.784431e-5 + 2.599278e-5 = 2.0371225e-4 m/N.
    expect(pathCompliance(lookup, path)).toBeCloseTo(2.0371225e-4, 10);
  });

  it("agrees with the trade's figure: about 10 mm at 50 N, 0.20 mm a newton (common practice, no source)", () => {
    const mmPerN = pathCompliance(lookup, path) * 1000;
    expect(mmPerN).toBeCloseTo(0.2, 2);
    expect(mmPerN * 50).toBeGreaterThan(9.5);
    expect(mmPerN * 50).toBeLessThan(10.5);
  });

  it("makes a path read at 20 N too short by 30 N times the compliance, 6.11 mm", () => {
    expect(pathCorrections(lookup, path, at(20)).stretchM * 1000).toBeCloseTo(-6.1114, 4);
    expect(pathCorrections(lookup, path, at(50)).stretchM).toBe(0);
  });

  it("is the exact sum of L0·(1 + T/EA) over straight elastic members at any tension", () => {
    for (const tensionN of [5, 20, 50, 80, 200]) {
      const lengthM = [
        [4, 40_000],
        [1.95, 25_000],
        [0.36, 13_800],
      ].reduce(
        (sum, [lengthAt50M = 0, stiffnessN = 0]) =>
          sum + (lengthAt50M / (1 + 50 / stiffnessN)) * (1 + tensionN / stiffnessN),
        0.47 - 0.013,
      );
      expect(expectedReadingM(lookup, { kind: "tab", id: "A1", side: "left" }, at(tensionN))).toBeCloseTo(
        lengthM,
        12,
      );
    }
  });

  it("of a line that is 30 mm off is wrong by no more than 0.03 mm", () => {
    const offM = 0.03;
    const trueM =
      unstretchedM(4 + offM, 40_000, 50) * (1 + 20 / 40_000) +
      unstretchedM(1.95, 25_000, 50) * (1 + 20 / 25_000) +
      unstretchedM(0.36, 13_800, 50) * (1 + 20 / 13_800);
    const correctedToReferenceM = correctedM(trueM + 0.47 - 0.013, pathCorrections(lookup, path, at(20)));
    expect(Math.abs(correctedToReferenceM - path.specifiedM - offM)).toBeLessThan(0.03e-3);
  });
});

describe("a single line's correction", () => {
  it("is exact whatever the line's own deviation", () => {
    const lookup = lookUp(testWing());
    for (const lengthM of [1.9, 1.95, 2.05]) {
      const readM = unstretchedM(lengthM, 25_000, 50) * (1 + 20 / 25_000) + 0.002;
      const corrections = lineCorrections(lookup, "left:AM1", readM, at(20, "riser", 0.002));
      expect(correctedM(readM, corrections)).toBeCloseTo(lengthM, 12);
    }
  });

  it("has no strap in it, from whatever datum the paths were read", () => {
    const lookup = lookUp(testWing());
    expect(lineCorrections(lookup, "left:AM1", 1.95, at(50, "maillon")).datumM).toBe(0);
  });
});

describe("the measuring point", () => {
  it("read from the riser against a plan from the maillon: the path's own strap comes off", () => {
    const wing = testWing("maillon");
    const lookup = lookUp(wing);
    expect(pathCorrections(lookup, pathTo(wing, "left:A1"), at(50, "riser")).datumM).toBeCloseTo(0.47, 12);
    expect(pathCorrections(lookup, pathTo(wing, "left:B1"), at(50, "riser")).datumM).toBeCloseTo(0.475, 12);
  });

  it("read from the maillon against a plan from the riser: the strap is added", () => {
    const wing = testWing("riser");
    expect(pathCorrections(lookUp(wing), pathTo(wing, "right:B2"), at(50, "maillon")).datumM).toBeCloseTo(
      -0.475,
      12,
    );
  });

  it("read where the plan counts from: nothing", () => {
    for (const from of ["riser", "maillon"] as const) {
      const wing = testWing(from);
      expect(pathCorrections(lookUp(wing), pathTo(wing, "left:A1"), at(50, from)).datumM).toBe(0);
    }
  });

  it("never adds a strap to a brake, which starts at its pulley", () => {
    for (const [planned, used] of [
      ["riser", "maillon"],
      ["maillon", "riser"],
    ] as const) {
      const wing = testWing(planned);
      expect(pathCorrections(lookUp(wing), pathTo(wing, "left:K1"), at(50, used)).datumM).toBe(0);
    }
  });
});

describe("the reading to expect", () => {
  it("has all corrections in it, the other way round", () => {
    const lookup = lookUp(testWing("maillon"));
    const conditions = at(30, "riser", 0.004);
    const expectedM = expectedReadingM(lookup, { kind: "tab", id: "B3", side: "right" }, conditions);
    // 4.02 + 1.97 + 0.36 m, no loop, plus strap 0.475 and zero 0.004, less 20 N of stretch.
    const compliance = 4.02 / 1.00125 / 40_000 + 1.97 / 1.002 / 25_000 + 0.36 / (1 + 50 / 13_800) / 13_800;
    expect(expectedM).toBeCloseTo(6.35 + 0.475 + 0.004 - 20 * compliance, 12);
  });

  it("isn't known for a tab that the wing doesn't have", () => {
    expect(
      expectedReadingM(lookUp(testWing()), { kind: "tab", id: "C1", side: "left" }, at(50)),
    ).toBeUndefined();
  });
});
