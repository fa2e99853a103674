import { describe, expect, it } from "vitest";
import { leastSquares, type Parameter } from "../../src/geometry/levenberg.ts";

const within = (start: number, lower = -100, upper = 100, scale = 1): Parameter => ({
  start,
  lower,
  upper,
  scale,
});
const rosenbrock = ([x = 0, y = 0]: readonly number[]) => Float64Array.of(10 * (y - x * x), 1 - x);

describe("nonlinear least squares", () => {
  // Moré, Garbow & Hillstrom, ACM TOMS 7 (1981), problem 1; from memory.
  it("finds Rosenbrock's valley floor from the standard start", () => {
    const { values, cost } = leastSquares([within(-1.2), within(1)], rosenbrock);
    expect(values[0]).toBeCloseTo(1, 8);
    expect(values[1]).toBeCloseTo(1, 8);
    expect(cost).toBeLessThan(1e-16);
  });

  /**
   * NIST StRD, nonlinear regression, Misra1a: y = b1 (1 − exp(−b2 x)); data and certified values from memory. The certified
   * residual sum of squares comes out to ten digits, which wrong data wouldn't give.
   */
  const MISRA_X = [
    77.6, 114.9, 141.1, 190.8, 239.9, 289, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760,
  ];
  const MISRA_Y = [
    10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78,
  ];
  const misra = ([b1 = 0, b2 = 0]: readonly number[]) =>
    Float64Array.from(MISRA_X, (x, i) => b1 * (1 - Math.exp(-b2 * x)) - (MISRA_Y[i] as number));

  it.each([
    [500, 1e-4],
    [250, 5e-4],
  ])("meets the certified values of NIST's Misra1a from start %d, %d", (b1, b2) => {
    const found = leastSquares([within(b1, 0, 1e5, 100), within(b2, 0, 1, 1e-4)], misra);
    expect((found.values[0] as number) / 238.94212918).toBeCloseTo(1, 7);
    expect((found.values[1] as number) / 5.5015643181e-4).toBeCloseTo(1, 7);
    expect(found.cost / 0.12455138894).toBeCloseTo(1, 9);
    // Certified standard deviations of the estimates, with 12 degrees of freedom.
    const deviation = (i: number) => Math.sqrt(((found.covariance?.get(i, i) ?? 0) * found.cost) / 12);
    expect(deviation(0) / 2.7070075241).toBeCloseTo(1, 4);
    expect(deviation(1) / 7.2668688436e-6).toBeCloseTo(1, 4);
  });

  it("never asks for a value beyond a bound, not even to difference", () => {
    const asked: number[] = [];
    const found = leastSquares([within(-1.2, -2, 0.5), within(1, -2, 2)], (values) => {
      asked.push(values[0] as number);
      return rosenbrock(values);
    });
    expect(Math.max(...asked)).toBeLessThanOrEqual(0.5);
    expect(Math.min(...asked)).toBeGreaterThanOrEqual(-2);
    expect(found.values[0]).toBe(0.5);
  });

  it("takes a start beyond a bound as one on it", () => {
    const found = leastSquares([within(7, 0, 2)], ([x = 0]) => Float64Array.of(x - 1));
    expect(found.values[0]).toBeCloseTo(1, 8);
  });

  it("finds the best point on a bound, the other value following: x ≤ ½ gives y = x² = ¼", () => {
    const found = leastSquares([within(-1.2, -2, 0.5), within(1, -2, 2)], rosenbrock);
    expect(Math.abs((found.values[1] as number) - 0.25)).toBeLessThan(1e-6);
  });

  it("says nothing of a spread where the data can't tell two values apart", () => {
    const found = leastSquares([within(0), within(0)], ([x = 0, y = 0]) => Float64Array.of(x + y - 1));
    expect((found.values[0] as number) + (found.values[1] as number)).toBeCloseTo(1, 6);
    const spread = found.covariance?.get(0, 0) ?? Number.POSITIVE_INFINITY;
    expect(spread).toBeGreaterThan(1e6);
  });
});
