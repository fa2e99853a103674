import { describe, expect, test } from "vitest";
import { materialFromPlan, usualMassKgM, usualStiffnessN } from "../../src/plan/material.ts";

describe("the stiffness of a line", () => {
  const both = { id: "x", diameterMm: 1.5, modulusGPa: 60, breakingForceN: 1600 };

  test("is the stated EA before anything else", () => {
    const material = materialFromPlan({ ...both, stiffnessEaN: 38_000 });
    expect(material).toMatchObject({ stiffnessN: 38_000, stiffnessAssumed: false });
  });

  test("else modulus times section", () => {
    const material = materialFromPlan(both);
    expect(material.stiffnessN).toBeCloseTo((60e9 * Math.PI * 0.0015 ** 2) / 4, 3);
    expect(material.stiffnessAssumed).toBe(false);
  });

  // EA of a line is about its breaking force over its elongation at break, about 4 %.
  test("else breaking force over four per cent", () => {
    const material = materialFromPlan({ id: "x", diameterMm: 1.5, breakingForceN: 1600 });
    expect(material.stiffnessN).toBeCloseTo(40_000, 6);
    expect(material.stiffnessAssumed).toBe(false);
  });

  test("else a usual one for its diameter, and flagged as assumed", () => {
    const material = materialFromPlan({ id: "x", diameterMm: 1.1 });
    expect(material.stiffnessN).toBeCloseTo(25_000, 6);
    expect(material.stiffnessAssumed).toBe(true);
  });
});

describe("the usual stiffness by diameter", () => {
  // Usual breaking forces 550, 800, 1000, 1600 N over 4 %: common practice, no source.
  test("meets the usual figures", () => {
    const figures = [
      [0.7, 13_800],
      [0.9, 20_000],
      [1.1, 25_000],
      [1.5, 40_000],
    ] as const;
    for (const [mm, newtons] of figures) expect(usualStiffnessN(mm / 1000)).toBeCloseTo(newtons, 6);
  });

  test("rises with the diameter without a step, inside and beyond the table", () => {
    let last = 0;
    for (let mm = 0.3; mm < 3; mm += 0.01) {
      const here = usualStiffnessN(mm / 1000);
      expect(here).toBeGreaterThan(last);
      if (last > 0) expect(here / last).toBeLessThan(1.06);
      last = here;
    }
    expect(usualStiffnessN(0.003) / usualStiffnessN(0.0015)).toBeCloseTo(2 ** 1.4, 9);
  });
});

describe("the usual mass", () => {
  test("of a 1.5 mm aramid line is about 1.6 g/m, and less for HMPE", () => {
    expect(usualMassKgM(0.0015, "aramid") * 1000).toBeCloseTo(1.6, 1);
    expect(usualMassKgM(0.0015, "HMPE") / usualMassKgM(0.0015, "aramid")).toBeCloseTo(0.7, 2);
  });

  test("gives way to the stated one", () => {
    expect(materialFromPlan({ id: "x", diameterMm: 1, massGPerM: 0.9 }).massPerLengthKgM).toBeCloseTo(
      0.0009,
      12,
    );
  });
});
