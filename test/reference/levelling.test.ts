/**
 * Published adjustments of levelling nets, held against the posterior with a prior so vague that it leaves least squares:
 * heights are the unknowns, a height difference is a reading of one height less another.
 */
import { describe, expect, it } from "vitest";
import { residuals } from "../../src/diagnosis/moments.ts";
import { type LinearReading, type Posterior, posterior } from "../../src/diagnosis/posterior.ts";

interface Difference {
  readonly from: string;
  readonly to: string;
  readonly observed: number;
  /** A priori standard deviation, in the observed value's unit. */
  readonly deviation: number;
}

interface Adjusted {
  readonly height: (name: string) => number;
  readonly deviation: (name: string) => number;
  /** Observed less adjusted, and over its standard deviation. */
  readonly residuals: readonly { readonly residual: number; readonly normalised: number }[];
  /** Sum of weighted squares of the residuals, weight 1/deviation². */
  readonly weightedSquares: number;
  readonly result: Posterior;
}

function adjust(fixed: Readonly<Record<string, number>>, differences: readonly Difference[]): Adjusted {
  const names = [...new Set(differences.flatMap(({ from, to }) => [from, to]))].filter(
    (name) => fixed[name] === undefined,
  );
  const origin = Object.values(fixed)[0] ?? 0;
  const readings = differences.map(({ from, to, observed, deviation }): LinearReading => {
    let value = observed;
    const members: { index: number; coefficient: number }[] = [];
    for (const [name, coefficient] of [
      [from, -1],
      [to, 1],
    ] as const) {
      const known = fixed[name];
      if (known === undefined) members.push({ index: names.indexOf(name), coefficient });
      else value -= coefficient * (known - origin);
    }
    return { members, effects: [], value, deviation };
  });
  const result = posterior({
    spread: new Float64Array(names.length).fill(1e5),
    memberEffects: names.map(() => []),
    effectCount: 0,
    readings,
  });
  const left = residuals(result);
  return {
    height: (name) => origin + (result.mean[names.indexOf(name)] as number),
    deviation: (name) => result.deviation[names.indexOf(name)] as number,
    residuals: left,
    weightedSquares: left.reduce(
      (sum, { residual }, r) => sum + (residual / (differences[r] as Difference).deviation) ** 2,
      0,
    ),
    result,
  };
}

/** GNU Gama 1.5.09, "Sample 1D vertical least square adjustment", stored page vrmapper.com/gama/1doutput.html. */
describe("GNU Gama's one-dimensional levelling net", () => {
  const observed: [string, string, number, number][] = [
    ["1a", "4", -1.225, -1.22488],
    ["4", "3", -0.848, -0.84187],
    ["3", "2", 1.342, 1.34163],
    ["2", "1a", 0.72, 0.72513],
    ["1a", "2", -0.724, -0.72513],
    ["2", "3", -1.335, -1.34163],
    ["3", "4", 0.842, 0.84187],
    ["4", "1a", 1.231, 1.22488],
  ];
  const net = adjust(
    { "1a": 1000 },
    observed.map(([from, to, value]) => ({ from, to, observed: value, deviation: 0.005 })),
  );

  it("has the published heights and their standard deviations", () => {
    expect(net.height("4")).toBeCloseTo(998.77513, 5);
    expect(net.height("3")).toBeCloseTo(997.93325, 5);
    expect(net.height("2")).toBeCloseTo(999.27487, 5);
    for (const [name, mm] of [
      ["4", 3.1],
      ["3", 3.5],
      ["2", 3.1],
    ] as const)
      expect(1000 * net.deviation(name)).toBeCloseTo(mm, 1);
    // Calculated anew from the same inputs.
    expect(1000 * net.deviation("3")).toBeCloseTo(3.53553, 4);
  });

  it("has the published adjusted differences", () => {
    observed.forEach(([, , value, adjusted], r) => {
      // Printed to five decimals, some of them rounded from a half.
      expect(Math.abs(value - (net.residuals[r]?.residual as number) - adjusted)).toBeLessThan(5.01e-6);
    });
  });

  it("has the published sum of squares, a posteriori deviation and largest normalised residual, at observation 6", () => {
    // [pvv] is in mm² with unit weights at 5 mm.
    expect(25 * net.weightedSquares).toBeCloseTo(146.625, 3);
    expect(Math.sqrt((25 * net.weightedSquares) / 5)).toBeCloseTo(5.42, 2);
    const sizes = net.residuals.map(({ normalised }) => Math.abs(normalised));
    const largest = Math.max(...sizes);
    expect(largest).toBeCloseTo(1.68, 2);
    expect(sizes.indexOf(largest)).toBe(5);
  });
});

/**
 * C. Ghilani and P. Wolf, *Adjustment Computations*, chapter 12, level net: inputs and the weighted answers to three decimals
 * from memory; further decimals calculated anew from these inputs.
 */
describe("Ghilani and Wolf's level net", () => {
  const lines: [string, string, number, number][] = [
    ["X", "A", 5.1, 4],
    ["A", "Y", 2.34, 3],
    ["Y", "C", -1.25, 2],
    ["C", "X", -6.13, 3],
    ["A", "B", -0.68, 2],
    ["Y", "B", -3, 2],
    ["B", "C", 1.7, 2],
  ];
  const marks = { X: 100, Y: 107.5 };
  const net = (deviation: (length: number) => number): Adjusted =>
    adjust(
      marks,
      lines.map(([from, to, observed, length]) => ({ from, to, observed, deviation: deviation(length) })),
    );

  it("has the book's heights and reference deviation with weights 12 over length", () => {
    const weighted = net((length) => Math.sqrt(length / 12));
    for (const [name, feet] of [
      ["A", 105.1504],
      ["B", 104.4892],
      ["C", 106.1972],
    ] as const)
      expect(weighted.height(name)).toBeCloseTo(feet, 5);
    expect(Math.sqrt(weighted.weightedSquares / 4)).toBeCloseTo(0.1072194, 6);
    [0.0504, 0.0096, -0.0528, -0.0672, 0.0188, -0.0108, 0.008].forEach((v, r) => {
      expect(-(weighted.residuals[r]?.residual as number)).toBeCloseTo(v, 4);
    });
  });

  it("has the heights and deviations of the unweighted adjustment", () => {
    const plain = net(() => 1);
    const reference = Math.sqrt(plain.weightedSquares / 4);
    expect(reference).toBeCloseTo(0.0501189, 6);
    for (const [name, feet, deviation] of [
      ["A", 105.14095, 0.03093],
      ["B", 104.48286, 0.03281],
      ["C", 106.18762, 0.03093],
    ] as const) {
      expect(plain.height(name)).toBeCloseTo(feet, 5);
      expect(reference * plain.deviation(name)).toBeCloseTo(deviation, 5);
    }
  });
});

/**
 * E. Mikhail and F. Ackermann, *Observations and Least Squares* (1976), table 7-1, p. 147: inputs as transcribed in
 * eunhwanshin/OBS_LSQ, table7_1.m; the answers are calculated, not printed there.
 */
describe("Mikhail and Ackermann's level net", () => {
  const lines: [string, string, number, number][] = [
    ["A", "B", 25.42, 18.1],
    ["B", "C", 10.34, 9.4],
    ["C", "A", -35.2, 14.2],
    ["B", "D", -15.54, 17.6],
    ["D", "E", 21.32, 13.5],
    ["E", "C", 4.82, 9.9],
    ["E", "A", -31.02, 13.8],
    ["C", "D", -26.11, 14],
  ];

  it("has the calculated heights above A and variance of unit weight", () => {
    const net = adjust(
      { A: 0 },
      lines.map(([from, to, observed, length]) => ({ from, to, observed, deviation: Math.sqrt(length) })),
    );
    for (const [name, metres] of [
      ["B", 25.22062],
      ["C", 35.53543],
      ["D", 9.53393],
      ["E", 30.84603],
    ] as const)
      expect(net.height(name)).toBeCloseTo(metres, 5);
    expect(net.weightedSquares / 4).toBeCloseTo(0.00404284, 8);
  });
});
