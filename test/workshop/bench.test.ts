import { describe, expect, it } from "vitest";
import { type BenchTakeUp, benchTakeUp, sameDiameter, takeUpFromLengths } from "../../src/workshop/index.ts";

const reading = (takeUpMm: number, more: Partial<BenchTakeUp> = {}): BenchTakeUp => ({
  kindId: "girth",
  barDiameterM: 0.0045,
  lineDiameterM: 0.0018,
  takeUpM: takeUpMm / 1000,
  standardUncertaintyM: undefined,
  date: undefined,
  note: undefined,
  ...more,
});

describe("a take-up from the bench", () => {
  it("counts for its own kind, bar and line, within a tenth of a millimetre", () => {
    const readings = [reading(12.4)];
    expect(benchTakeUp(readings, "girth", 0.0045, 0.0018)?.takeUpM).toBeCloseTo(0.0124, 12);
    expect(benchTakeUp(readings, "girth", 0.0044, 0.0019)?.takeUpM).toBeCloseTo(0.0124, 12);
    expect(benchTakeUp(readings, "girth", 0.0043, 0.0018)).toBeUndefined();
    expect(benchTakeUp(readings, "girth", 0.0045, 0.0016)).toBeUndefined();
    expect(benchTakeUp(readings, "turn", 0.0045, 0.0018)).toBeUndefined();
  });

  it("isn't interpolated: readings on a thinner and a thicker line say nothing of the one between", () => {
    const readings = [reading(12, { lineDiameterM: 0.0015 }), reading(14, { lineDiameterM: 0.0021 })];
    expect(benchTakeUp(readings, "girth", 0.0045, 0.0018)).toBeUndefined();
  });

  it("has the stated uncertainty, or a usual one, where it was read once", () => {
    expect(benchTakeUp([reading(12, { standardUncertaintyM: 0.0002 })], "girth", 0.0045, 0.0018)).toEqual({
      takeUpM: 0.012,
      standardUncertaintyM: 0.0002,
    });
    expect(benchTakeUp([reading(12)], "girth", 0.0045, 0.0018)?.standardUncertaintyM).toBe(0.0005);
  });

  it("is the mean of several, with the standard deviation of that mean by hand", () => {
    const found = benchTakeUp([reading(11), reading(13), reading(15)], "girth", 0.0045, 0.0018);
    expect(found?.takeUpM).toBeCloseTo(0.013, 12);
    // s = 2 mm, over √3.
    expect(found?.standardUncertaintyM).toBeCloseTo(0.002 / Math.sqrt(3), 12);
  });

  it("doesn't pass for certain where two readings happen to agree", () => {
    const found = benchTakeUp([reading(13), reading(13)], "girth", 0.0045, 0.0018);
    expect(found?.standardUncertaintyM).toBeCloseTo(0.0005 / Math.sqrt(2), 12);
  });

  it("diameters a tenth of a millimetre apart are the same whatever binary fractions make of them", () => {
    expect(sameDiameter(0.0018, 0.0017)).toBe(true);
    expect(sameDiameter(0.0045, 0.0046)).toBe(true);
    expect(sameDiameter(0.0045, 0.00471)).toBe(false);
  });
});

describe("a take-up from raw lengths", () => {
  const lengths = { plainM: [1.512], loopedM: [1.499], plainTensionN: 50, loopedTensionN: 50 };

  it("is the length with a plain eye less the length with the loop", () => {
    const found = takeUpFromLengths(lengths);
    if (!found.ok) throw new Error("expected a value");
    expect(found.value.takeUpM).toBeCloseTo(0.013, 12);
    // Two lengths of 0.3 mm each, two roundings to a millimetre.
    expect(found.value.standardUncertaintyM * 1000).toBeCloseTo(Math.sqrt(2 * 0.3 ** 2 + 2 / 12), 9);
    expect(found.value.degreesOfFreedom).toBe(Number.POSITIVE_INFINITY);
  });

  it("takes repeats' own scatter, and counts its degrees of freedom", () => {
    const found = takeUpFromLengths({
      ...lengths,
      plainM: [1.512, 1.513, 1.511],
      loopedM: [1.499, 1.499, 1.502],
      resolutionM: 0,
    });
    if (!found.ok) throw new Error("expected a value");
    expect(found.value.takeUpM).toBeCloseTo(0.012, 12);
    // s² = 1 and 3 mm², each over 3; Welch–Satterthwaite: (4/3)² / ((1/3)²/2 + 1²/2) = 3.2.
    expect(found.value.standardUncertaintyM * 1000).toBeCloseTo(Math.sqrt(4 / 3), 9);
    expect(found.value.degreesOfFreedom).toBeCloseTo(3.2, 9);
  });

  it.each([
    ["unequal tension", { loopedTensionN: 20 }, "tension"],
    ["no tension at all", { plainTensionN: 0, loopedTensionN: 0 }, "tension"],
    ["nothing read", { loopedM: [] }, "length with the loop"],
    ["a length that isn't one", { plainM: [1.5, Number.NaN] }, "length with a plain eye"],
    ["lengths exchanged", { plainM: [1.499], loopedM: [1.512] }, "take-up"],
  ])("is refused for %s, with what to do", (_, wrong, where) => {
    const found = takeUpFromLengths({ ...lengths, ...wrong });
    expect(found.ok).toBe(false);
    expect(found.problems.map((problem) => problem.where)).toEqual([where]);
    expect(found.problems[0]?.remedy).not.toBe("");
  });

  it("is none where the loop comes out longer by less than the reading can tell", () => {
    const found = takeUpFromLengths({ ...lengths, loopedM: [1.5125] });
    expect(found.ok && found.value.takeUpM).toBe(0);
  });
});
