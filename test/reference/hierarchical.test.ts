/**
 * Eight schools, the standard example of hierarchical shrinkage: D. B. Rubin, J. Educ. Stat. 6 (1981) 377–401; A. Gelman et
 * al., *Bayesian Data Analysis*. Values and standard errors from memory, confirmed by the match. Priors as in
 * stan-dev/posteriordb, eight_schools_noncentered: μ ~ N(0, 5), τ ~ half-Cauchy(0, 5).
 *
 * Schools are members, μ is an effect that all share, τ their spread: the lines of one row, in our terms.
 */
import { describe, expect, it } from "vitest";
import { posterior } from "../../src/diagnosis/posterior.ts";

const EFFECTS = [28, 8, -3, 7, -1, 1, 18, 12];
const DEVIATIONS = [15, 10, 16, 11, 9, 11, 10, 18];
const SCALE = 5;

/** posteriordb's reference posterior: means of θ1…θ8, μ, τ, and their Monte Carlo standard errors. */
const POSTERIORDB = [6.1505, 4.9396, 3.9059, 4.796, 3.6144, 4.0511, 6.3172, 4.884, 4.4105, 3.6021];
const STANDARD_ERRORS = [0.0557, 0.0462, 0.0542, 0.0475, 0.0461, 0.0485, 0.0499, 0.0543, 0.033, 0.0319];
/** By quadrature, independently (μ integrated analytically, τ on a grid to 2000). */
const QUADRATURE = [6.21188, 4.94018, 3.927, 4.7571, 3.61548, 4.04261, 6.29672, 4.85425, 4.39682, 3.59771];
const QUADRATURE_DEVIATION = [5.5931, 4.6743, 5.2626, 4.7803, 4.6575, 4.8269, 5.0778, 5.2908, 3.3177, 3.22];

/** Means and standard deviations of θ1…θ8, μ, τ: exact at every τ, τ averaged by the evidence at equal steps of its prior. */
function eightSchools(steps: number): { means: number[]; deviations: number[] } {
  const first = new Array<number>(10).fill(0);
  const second = new Array<number>(10).fill(0);
  let total = 0;
  for (let step = 0; step < steps; step++) {
    const tau = SCALE * Math.tan((Math.PI / 2) * ((step + 0.5) / steps));
    const result = posterior({
      spread: new Float64Array(8).fill(tau),
      memberEffects: EFFECTS.map(() => [{ index: 0, coefficient: SCALE }]),
      effectCount: 1,
      readings: EFFECTS.map((value, school) => ({
        members: [{ index: school, coefficient: 1 }],
        effects: [],
        value,
        deviation: DEVIATIONS[school] as number,
      })),
    });
    const weight = Math.exp(result.logEvidence + 30);
    const note = (k: number, mean: number, deviation: number): void => {
      first[k] = (first[k] as number) + weight * mean;
      second[k] = (second[k] as number) + weight * (mean ** 2 + deviation ** 2);
    };
    result.mean.forEach((mean, school) => {
      note(school, mean, result.deviation[school] as number);
    });
    note(8, SCALE * (result.effectMean[0] as number), SCALE * (result.effectDeviation[0] as number));
    note(9, tau, 0);
    total += weight;
  }
  const means = first.map((sum) => sum / total);
  return { means, deviations: second.map((sum, k) => Math.sqrt(sum / total - (means[k] as number) ** 2)) };
}

describe("eight schools", () => {
  const { means, deviations } = eightSchools(20_000);

  it("has the means and deviations of an independent quadrature to a thousandth", () => {
    means.forEach((mean, k) => {
      expect(Math.abs(mean - (QUADRATURE[k] as number))).toBeLessThan(1e-3);
      expect(Math.abs((deviations[k] as number) - (QUADRATURE_DEVIATION[k] as number))).toBeLessThan(1e-3);
    });
  });

  it("agrees with posteriordb's reference draws within three of their standard errors", () => {
    means.forEach((mean, k) => {
      expect(Math.abs(mean - (POSTERIORDB[k] as number))).toBeLessThan(3 * (STANDARD_ERRORS[k] as number));
    });
  });
});
