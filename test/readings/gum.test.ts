import { describe, expect, it } from "vitest";
import {
  arcsine,
  chiSquareQuantile,
  combine,
  coverageFactor,
  degreesOfFreedomFromReliability,
  effectiveDegreesOfFreedom,
  expandedUncertainty,
  fitStraightLine,
  jointTypeA,
  normalCdf,
  normalQuantile,
  ofResolution,
  onStraightLine,
  pooledDeviation,
  propagate,
  rectangular,
  studentQuantile,
  triangular,
  typeA,
} from "../../src/readings/index.ts";
import { randomFrom } from "../plan/random.ts";

describe("repeated readings", () => {
  it("have the mean's standard uncertainty: their standard deviation over the root of their number", () => {
    const result = typeA([7415, 7416, 7418, 7415]);
    expect(result.mean).toBe(7416);
    expect(result.standardDeviation).toBeCloseTo(Math.sqrt(6 / 3), 12);
    expect(result.standardUncertainty).toBeCloseTo(Math.sqrt(6 / 3 / 4), 12);
    expect(result.degreesOfFreedom).toBe(3);
  });

  it("say nothing of their spread alone", () => {
    expect(() => typeA([7415])).toThrow("Got 1 values when at least 2 repeats were expected.");
    expect(() =>
      jointTypeA([
        [1, 2, 3],
        [1, 2],
      ]),
    ).toThrow("Got a series of 2 values beside one of 3.");
  });

  it("in many short series give one pooled deviation, each series counting by its degrees of freedom", () => {
    const pooled = pooledDeviation([
      { count: 2, standardDeviation: 1 },
      { count: 1, standardDeviation: 0 },
      { count: 4, standardDeviation: 2 },
    ]);
    expect(pooled?.standardDeviation).toBeCloseTo(Math.sqrt((1 * 1 + 3 * 4) / 4), 12);
    expect(pooled?.degreesOfFreedom).toBe(4);
    expect(pooledDeviation([{ count: 1, standardDeviation: 0 }])).toBeUndefined();
  });

  it("pool to the same as one series where the series have the same mean", () => {
    const all = typeA([-2, 2, -1, 1]);
    const pooled = pooledDeviation([
      { count: 2, standardDeviation: typeA([-2, 2]).standardDeviation },
      { count: 2, standardDeviation: typeA([-1, 1]).standardDeviation },
    ]);
    // Same sum of squares about the mean; one degree of freedom less, since a second mean was estimated.
    expect((pooled?.standardDeviation ?? 0) ** 2 * 2).toBeCloseTo(all.standardDeviation ** 2 * 3, 12);
  });
});

describe("what is known only by its bounds", () => {
  it("has the standard deviation of the distribution assumed", () => {
    // By quadrature of the densities themselves, not by the closed forms.
    const deviation = (density: (x: number) => number): number => {
      const n = 200_000;
      let sum = 0;
      let weight = 0;
      for (let i = 0; i < n; i++) {
        // x = sin t takes the ends' singularity of the U-shaped density away.
        const t = ((i + 0.5) / n - 0.5) * Math.PI;
        const x = Math.sin(t);
        const mass = density(x) * Math.cos(t);
        sum += mass * x * x;
        weight += mass;
      }
      return Math.sqrt(sum / weight);
    };
    expect(rectangular(3)).toBeCloseTo(3 * deviation(() => 1), 8);
    expect(triangular(3)).toBeCloseTo(3 * deviation((x) => 1 - Math.abs(x)), 8);
    expect(arcsine(3)).toBeCloseTo(3 * deviation((x) => 1 / Math.sqrt(1 - x * x)), 8);
    expect(ofResolution(1)).toBeCloseTo(0.2887, 4);
  });

  it("and is itself known to a quarter, counts as eight degrees of freedom", () => {
    expect(degreesOfFreedomFromReliability(0.25)).toBe(8);
  });
});

describe("uncertainties combined", () => {
  it("add by their squares, each times its sensitivity, where they are independent", () => {
    const { standardUncertainty, contributions } = combine([
      { sensitivity: 1, uncertainty: 3 },
      { sensitivity: -2, uncertainty: 2 },
    ]);
    expect(standardUncertainty).toBe(5);
    expect(contributions).toEqual([3, -4]);
  });

  it("add or cancel in full where they are one and the same", () => {
    const parts = (sign: number) => [
      { sensitivity: 1, uncertainty: 3 },
      { sensitivity: sign, uncertainty: 3 },
    ];
    const same = [
      [1, 1],
      [1, 1],
    ];
    expect(combine(parts(1), same).standardUncertainty).toBeCloseTo(6, 12);
    expect(combine(parts(-1), same).standardUncertainty).toBeCloseTo(0, 12);
  });

  it("agree with the propagation of a covariance matrix, whatever the correlations", () => {
    const random = randomFrom(106).next;
    for (let trial = 0; trial < 50; trial++) {
      const n = 4;
      // V = F Fᵀ is a covariance matrix whatever F.
      const factor = Array.from({ length: n }, () => Array.from({ length: n }, () => random() - 0.5));
      const covariance = factor.map((a) =>
        factor.map((b) => a.reduce((sum, value, k) => sum + value * (b[k] ?? 0), 0)),
      );
      const gradient = Array.from({ length: n }, () => random() * 4 - 2);
      const u = covariance.map((row, i) => Math.sqrt(row[i] ?? 0));
      const correlation = covariance.map((row, i) =>
        row.map((v, j) => (i === j ? 1 : v / ((u[i] ?? 0) * (u[j] ?? 0)))),
      );
      const symmetric = correlation.map((row, i) =>
        row.map((_, j) => correlation[Math.max(i, j)]?.[Math.min(i, j)] ?? 0),
      );
      const combined = combine(
        gradient.map((sensitivity, i) => ({ sensitivity, uncertainty: u[i] ?? 0 })),
        symmetric,
      );
      expect(combined.standardUncertainty ** 2).toBeCloseTo(
        propagate([gradient], covariance)[0]?.[0] ?? Number.NaN,
        10,
      );
    }
  });

  it("have effective degrees of freedom between the least of the parts and their sum", () => {
    expect(effectiveDegreesOfFreedom([{ variance: 4, degreesOfFreedom: 7 }])).toBeCloseTo(7, 12);
    expect(
      effectiveDegreesOfFreedom([
        { variance: 4, degreesOfFreedom: 7 },
        { variance: 4, degreesOfFreedom: 7 },
      ]),
    ).toBeCloseTo(14, 12);
    expect(
      combine([
        { sensitivity: 1, uncertainty: 1, degreesOfFreedom: 9 },
        { sensitivity: 1, uncertainty: 1 },
      ]).degreesOfFreedom,
    ).toBeCloseTo(36, 12);
    expect(combine([{ sensitivity: 1, uncertainty: 1 }]).degreesOfFreedom).toBe(Number.POSITIVE_INFINITY);
  });

  it("gain no degrees of freedom by parts that rest on one estimate", () => {
    const part = { sensitivity: 1, uncertainty: 2, degreesOfFreedom: 7, group: "scatter" };
    expect(combine([part, part, part]).degreesOfFreedom).toBeCloseTo(7, 12);
    expect(combine([part, part, part]).standardUncertainty).toBeCloseTo(2 * Math.sqrt(3), 12);
    expect(() => combine([part, { ...part, degreesOfFreedom: 8 }])).toThrow('in group "scatter"');
  });

  it("are refused where a figure can't be one", () => {
    const part = { sensitivity: 1, uncertainty: 1 };
    expect(() => combine([{ sensitivity: 1, uncertainty: -1 }])).toThrow("Got an uncertainty of -1");
    expect(() => combine([{ ...part, degreesOfFreedom: 0 }])).toThrow("Got 0 degrees of freedom");
    expect(() => combine([part, part], [[1]])).toThrow("isn't 2 × 2");
    expect(() =>
      combine(
        [part, part],
        [
          [1, 1.2],
          [1.2, 1],
        ],
      ),
    ).toThrow("Got r = 1.2");
    const impossible = [
      [1, -0.9, -0.9],
      [-0.9, 1, -0.9],
      [-0.9, -0.9, 1],
    ];
    expect(() => combine([part, part, part], impossible)).toThrow("can't all hold");
  });
});

describe("the coverage factor", () => {
  // Student's t at 95 % from the closed forms for 1 and 2 degrees of freedom: tan(π p/2) and p·√(2/(1 − p²)).
  it("is Student's t for few degrees of freedom, and the normal one for many", () => {
    expect(coverageFactor(0.95, 1)).toBeCloseTo(Math.tan((Math.PI * 0.95) / 2), 6);
    expect(coverageFactor(0.95, 2)).toBeCloseTo(0.95 * Math.sqrt(2 / (1 - 0.95 ** 2)), 6);
    expect(coverageFactor(0.95)).toBeCloseTo(1.959964, 6);
    expect(coverageFactor(0.95, 1e9)).toBeCloseTo(1.959964, 6);
    expect(coverageFactor(0.9545)).toBeCloseTo(2, 3);
  });

  it("cuts broken degrees of freedom down, and never grows with their number", () => {
    expect(coverageFactor(0.95, 8.9)).toBe(coverageFactor(0.95, 8));
    expect(coverageFactor(0.95, 0.4)).toBe(coverageFactor(0.95, 1));
    const factors = [1, 2, 5, 20, 200, 1e4, 9.9e5, 1e6, 1e7, Number.POSITIVE_INFINITY].map((nu) =>
      coverageFactor(0.95, nu),
    );
    for (const [i, factor] of factors.entries())
      if (i > 0) expect(factor).toBeLessThan((factors[i - 1] ?? 0) + 1e-7);
  });

  it("times the standard uncertainty is the expanded one", () => {
    expect(expandedUncertainty({ standardUncertainty: 2, degreesOfFreedom: 10 })).toBeCloseTo(
      2 * 2.228139,
      5,
    );
  });
});

describe("the distributions", () => {
  it("are each other's inverse", () => {
    for (const z of [-4, -1.5, 0, 0.3, 2, 5]) expect(normalQuantile(normalCdf(z))).toBeCloseTo(z, 6);
    expect(normalCdf(Number.NEGATIVE_INFINITY)).toBe(0);
    expect(normalCdf(Number.POSITIVE_INFINITY)).toBe(1);
  });

  it("hang together: a chi-square with one degree is a normal squared, a t² with many an F with one", () => {
    expect(chiSquareQuantile(0.95, 1)).toBeCloseTo(normalQuantile(0.975) ** 2, 9);
    expect(studentQuantile(0.975, 5e5)).toBeCloseTo(normalQuantile(0.975), 4);
  });

  it("refuse what is no probability", () => {
    expect(() => normalQuantile(1)).toThrow("Got a probability of 1");
    expect(() => studentQuantile(0.9, 0)).toThrow("Got 0 degrees of freedom");
  });
});

describe("an instrument's correction line", () => {
  const lengths = [1, 2, 3, 5, 8];
  const errors = [0.0012, 0.0011, 0.0018, 0.0021, 0.0029];

  it("passes the mean point, and is the same line wherever the intercept is taken", () => {
    const near = fitStraightLine(lengths, errors);
    const far = fitStraightLine(lengths, errors, 7.5);
    for (const x of [0, 3.8, 7.5, 20]) {
      expect(onStraightLine(near, x).value).toBeCloseTo(onStraightLine(far, x).value, 12);
      expect(onStraightLine(near, x).standardUncertainty).toBeCloseTo(
        onStraightLine(far, x).standardUncertainty,
        12,
      );
    }
    const mean = 3.8;
    expect(onStraightLine(near, mean).value).toBeCloseTo(errors.reduce((a, b) => a + b) / 5, 12);
    expect(fitStraightLine(lengths, errors, mean).correlation).toBeCloseTo(0, 12);
  });

  it("finds a straight line exactly, and refuses too little to go by", () => {
    const exact = fitStraightLine(
      lengths,
      lengths.map((x) => 0.001 + 2e-4 * x),
    );
    expect(exact.intercept).toBeCloseTo(0.001, 12);
    expect(exact.slope).toBeCloseTo(2e-4, 12);
    expect(exact.residualDeviation).toBeLessThan(1e-15);
    expect(() => fitStraightLine([1, 2], [0, 0])).toThrow("3 or more");
    expect(() => fitStraightLine([2, 2, 2], [0, 1, 2])).toThrow("no line follows from one place");
  });
});
