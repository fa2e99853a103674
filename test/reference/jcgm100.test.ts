/**
 * Worked examples of JCGM 100:2008 (GUM), annex H. The guide itself wasn't at hand; its figures are quoted from two
 * programs that hold themselves against it, named beside each. More digits are recalculated from the same inputs.
 */
import { describe, expect, test } from "vitest";
import {
  arcsine,
  combine,
  coverageFactor,
  expandedUncertainty,
  fitStraightLine,
  jointTypeA,
  onStraightLine,
  propagate,
  rectangular,
} from "../../src/readings/index.ts";

// Inputs and answers as quoted in sandialabs/suncal, test/ex_endgauge.yaml, and MSLNZ/GTC, docs/API/GUM_H1.rst.
describe("JCGM 100:2008, H.1: end-gauge calibration, l = l_S + d − l_S(δα·θ + α_S·δθ) in nm", () => {
  const standardNm = 50_000_623;
  const expansion = 11.5e-6;
  const meanTheta = -0.1;
  // The comparator's certificate: 10 nm at 95 % from six readings, 20 nm at three sigma; printed as 3.9 and 6.7 nm.
  const difference = combine([
    { sensitivity: 1, uncertainty: 5.8, degreesOfFreedom: 24 },
    { sensitivity: 1, uncertainty: 10 / coverageFactor(0.95, 5), degreesOfFreedom: 5 },
    { sensitivity: 1, uncertainty: 20 / 3, degreesOfFreedom: 8 },
  ]);
  const thetaUncertainty = Math.hypot(0.2, arcsine(0.5));
  const expansionUncertainty = rectangular(2e-6);
  const expansionDifference = rectangular(1e-6);
  const temperatureDifference = rectangular(0.05);
  const components = [
    { sensitivity: 1, uncertainty: 25, degreesOfFreedom: 18 },
    {
      sensitivity: 1,
      uncertainty: difference.standardUncertainty,
      degreesOfFreedom: difference.degreesOfFreedom,
    },
    // Both have an estimate of 0 for the factor that stands beside them.
    { sensitivity: 0, uncertainty: expansionUncertainty },
    { sensitivity: 0, uncertainty: thetaUncertainty },
    { sensitivity: -standardNm * meanTheta, uncertainty: expansionDifference, degreesOfFreedom: 50 },
    { sensitivity: -standardNm * expansion, uncertainty: temperatureDifference, degreesOfFreedom: 2 },
  ];
  const combined = combine(components);

  test("the comparison: u(d) = 9.7 nm with 25.6 degrees of freedom", () => {
    expect(difference.standardUncertainty).toBeCloseTo(9.7, 1);
    expect(difference.degreesOfFreedom).toBeCloseTo(25.6, 1);
    expect(difference.standardUncertainty).toBeCloseTo(9.6549, 4); // recalculated
    expect(difference.degreesOfFreedom).toBeCloseTo(25.567, 3); // recalculated
  });

  test("the components: 25, 16.599 and 2.88679 nm beside the comparison's, and two that are 0", () => {
    const [standard, , alpha, theta, dAlpha, dTheta] = combined.contributions.map(Math.abs);
    expect([standard, alpha, theta]).toEqual([25, 0, 0]);
    expect(dAlpha).toBeCloseTo(2.88679, 5);
    expect(dTheta).toBeCloseTo(16.599, 3);
  });

  test("u_c(l) = 32 nm, 16 effective degrees of freedom, U(99 %) = 93 nm", () => {
    expect(Math.round(combined.standardUncertainty)).toBe(32);
    expect(Math.floor(combined.degreesOfFreedom)).toBe(16);
    expect(combined.standardUncertainty).toBeCloseTo(31.6556, 3); // recalculated
    expect(combined.degreesOfFreedom).toBeCloseTo(16.736, 2); // recalculated
    // The guide takes 32 × 2.92 and prints 93 (from memory); unrounded it is 92.459 (recalculated).
    expect(expandedUncertainty(combined, 0.99)).toBeCloseTo(92.459, 2);
  });

  test("with the terms of second order u = 34 nm", () => {
    const second = [
      standardNm * expansionDifference * thetaUncertainty,
      standardNm * expansionUncertainty * temperatureDifference,
    ].map((uncertainty) => ({ sensitivity: 1, uncertainty }));
    expect(second.map((part) => part.uncertainty)).toEqual([
      expect.closeTo(11.726, 2),
      expect.closeTo(1.667, 3),
    ]);
    expect(Math.round(combine([...components, ...second]).standardUncertainty)).toBe(34);
  });
});

// Inputs as in sandialabs/suncal, test/test_GUMH2.csv, answers as quoted there.
describe("JCGM 100:2008, H.2: resistance and reactance from correlated readings", () => {
  const volts = [5.007, 4.994, 5.005, 4.99, 4.999];
  const milliamperes = [19.663, 19.639, 19.64, 19.685, 19.678];
  const phases = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433];
  const { means, covariance, degreesOfFreedom } = jointTypeA([
    volts,
    milliamperes.map((mA) => mA / 1000),
    phases,
  ]);
  const [v = 0, i = 0, phi = 0] = means;
  const [cos, sin] = [Math.cos(phi), Math.sin(phi)];
  const jacobian = [
    [cos / i, (-v * cos) / i ** 2, (-v * sin) / i],
    [sin / i, (-v * sin) / i ** 2, (v * cos) / i],
    [1 / i, -v / i ** 2, 0],
  ];
  const result = propagate(jacobian, covariance);
  const uncertainty = (k: number): number => Math.sqrt(result[k]?.[k] ?? Number.NaN);
  const correlation = (of: readonly (readonly number[])[], a: number, b: number): number =>
    (of[a]?.[b] ?? Number.NaN) / Math.sqrt((of[a]?.[a] ?? 0) * (of[b]?.[b] ?? 0));

  test("the readings correlate: r(V, I) = −0.355, r(V, φ) = 0.858, r(I, φ) = −0.645", () => {
    expect(correlation(covariance, 0, 1)).toBeCloseTo(-0.355, 3);
    expect(correlation(covariance, 0, 2)).toBeCloseTo(0.858, 3);
    expect(correlation(covariance, 1, 2)).toBeCloseTo(-0.645, 3);
    expect(degreesOfFreedom).toBe(4);
  });

  test("R = 127.732, X = 219.847, Z = 254.260 Ω with u = 0.071, 0.295, 0.236 Ω", () => {
    expect((v / i) * cos).toBeCloseTo(127.732, 3);
    expect((v / i) * sin).toBeCloseTo(219.847, 3);
    expect(v / i).toBeCloseTo(254.26, 3);
    // The guide prints 0.295 where 0.29558 would round to 0.296.
    for (const [k, printed] of [0.071, 0.295, 0.236].entries())
      expect(Math.abs(uncertainty(k) - printed)).toBeLessThan(0.001);
    for (const [k, recalculated] of [0.0710714, 0.2955817, 0.2363361].entries())
      expect(uncertainty(k)).toBeCloseTo(recalculated, 6);
  });

  test("the results correlate: r(R, X) = −0.588, r(R, Z) = −0.485, r(X, Z) = 0.993", () => {
    expect(correlation(result, 0, 1)).toBeCloseTo(-0.588, 3);
    expect(correlation(result, 0, 2)).toBeCloseTo(-0.485, 3);
    expect(correlation(result, 1, 2)).toBeCloseTo(0.993, 3);
  });

  test("component by component with the correlations it is the same, with 4 degrees of freedom", () => {
    const correlations = covariance.map((_, a) =>
      covariance.map((__, b) => (a === b ? 1 : correlation(covariance, Math.max(a, b), Math.min(a, b)))),
    );
    const reactance = combine(
      (jacobian[1] ?? []).map((sensitivity, k) => ({
        sensitivity,
        uncertainty: Math.sqrt(covariance[k]?.[k] ?? 0),
        degreesOfFreedom,
      })),
      correlations,
    );
    expect(reactance.standardUncertainty).toBeCloseTo(0.2955817, 6);
    expect(reactance.degreesOfFreedom).toBe(4);
    // Leaving the correlations out would overstate Z's uncertainty's share and understate X's: the check can fail.
    expect(
      Math.abs(
        combine(
          (jacobian[1] ?? []).map((sensitivity, k) => ({
            sensitivity,
            uncertainty: Math.sqrt(covariance[k]?.[k] ?? 0),
          })),
        ).standardUncertainty - 0.2956,
      ),
    ).toBeGreaterThan(0.05);
  });
});

// Inputs and answers as quoted in MSLNZ/GTC, docs/API/GUM_H3.rst.
describe("JCGM 100:2008, H.3: calibration line of a thermometer", () => {
  const readings = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511];
  const corrections = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16];
  const line = fitStraightLine(readings, corrections, 20);

  test("intercept −0.1712(29), slope 0.00218(67), r = −0.93, 9 degrees of freedom", () => {
    expect(line.intercept).toBeCloseTo(-0.1712, 4);
    expect(line.interceptUncertainty).toBeCloseTo(0.0029, 4);
    expect(line.slope).toBeCloseTo(0.00218, 5);
    expect(line.slopeUncertainty).toBeCloseTo(0.00067, 5);
    expect(line.correlation).toBeCloseTo(-0.93, 2);
    expect(line.degreesOfFreedom).toBe(9);
    expect(line.residualDeviation ** 2 * 9).toBeCloseTo(0.000110096583109, 14); // sum of squares, quoted
  });

  test("the same to more digits (recalculated)", () => {
    expect(line.intercept).toBeCloseTo(-0.17120379, 8);
    expect(line.interceptUncertainty).toBeCloseTo(0.0028776, 8);
    expect(line.slope).toBeCloseTo(0.0021827, 7);
    expect(line.slopeUncertainty).toBeCloseTo(0.00066794, 8);
    expect(line.correlation).toBeCloseTo(-0.93043, 5);
    expect(line.residualDeviation).toBeCloseTo(0.00349756, 8);
  });

  test("the correction at 30 °C is −0.1494(41)", () => {
    const at30 = onStraightLine(line, 30);
    expect(at30.value).toBeCloseTo(-0.1494, 4);
    expect(at30.standardUncertainty).toBeCloseTo(0.0041, 4);
    expect(at30.value).toBeCloseTo(-0.14937681, 8); // recalculated
    expect(at30.standardUncertainty).toBeCloseTo(0.0041386, 7); // recalculated
  });
});
