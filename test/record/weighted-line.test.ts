import { describe, expect, it } from "vitest";
import { fitLine, type LinePoint, lineAt } from "../../src/record/index.ts";

const point = (x: number, y: number, uncertainty = 1, stretch = 0): LinePoint => ({
  x,
  y,
  uncertainty,
  stretch,
});

describe("a line through points", () => {
  it("goes through two of them, and nothing is left to tell whether it is straight", () => {
    const fit = fitLine([point(0, 1), point(10, 3)]);
    expect(fit?.slope).toBeCloseTo(0.2, 12);
    expect(fit?.slopeUncertainty).toBeCloseTo(Math.SQRT2 / 10, 12);
    expect([fit?.degreesOfFreedom, fit?.birgeRatio, fit?.explained]).toEqual([0, undefined, true]);
  });

  it("isn’t drawn through one point, points at one place, or single points with work between them", () => {
    expect(fitLine([])).toBe(undefined);
    expect(fitLine([point(3, 1)])).toBe(undefined);
    expect(fitLine([point(3, 1), point(3, 2)])).toBe(undefined);
    expect(fitLine([point(0, 1, 1, 0), point(10, 9, 1, 1)])).toBe(undefined);
  });

  it("doesn’t take a step between stretches for a slope", () => {
    const fit = fitLine([point(0, 0), point(10, -1), point(20, 8, 1, 1), point(30, 7, 1, 1)]);
    expect(fit?.slope).toBeCloseTo(-0.1, 12);
    expect(fit?.chiSquare).toBeCloseTo(0, 12);
    if (fit === undefined) throw new Error("no line");
    expect(lineAt(fit, 40).y).toBeCloseTo(6, 12);
    expect(lineAt(fit, 20, 0).y).toBeCloseTo(-2, 12);
  });

  it("is moved by a vague point less than by a sure one", () => {
    const slope = (uncertainty: number) =>
      fitLine([point(0, 0), point(10, 0), point(20, 6, uncertainty)])?.slope;
    expect(slope(100)).toBeLessThan(slope(1) as number);
  });

  it("keeps its digits where dates are counted from far off", () => {
    const near = fitLine([point(0, 1), point(100, 2), point(250, 4)]);
    const far = fitLine([point(20_000, 1), point(20_100, 2), point(20_250, 4)]);
    expect(far?.slope).toBeCloseTo(near?.slope as number, 14);
    expect(far?.chiSquare).toBeCloseTo(near?.chiSquare as number, 12);
  });

  it("says where the scatter is more than the uncertainties explain", () => {
    const scattered = (uncertainty: number) =>
      fitLine([
        point(0, 0, uncertainty),
        point(1, 5, uncertainty),
        point(2, -5, uncertainty),
        point(3, 0, uncertainty),
      ]);
    expect(scattered(5)?.explained).toBe(true);
    expect(scattered(0.5)?.explained).toBe(false);
  });

  it("needs uncertainties above 0", () => {
    expect(() => fitLine([point(0, 0, 0), point(1, 1)])).toThrow(RangeError);
  });
});
