/**
 * Probability that a measured quantity lies within its limits, and the risks of deciding by it, after JCGM 106:2012
 * (clause numbers from memory, but for 7.3). Quantities of any unit, the same for all arguments of a function.
 */
import { integrateSmooth } from "../geometry/quadrature.ts";
import { normalCdf } from "../readings/distributions.ts";

/** Lower and upper limit; one left out makes it one-sided. */
export interface Limits {
  readonly lower?: number | undefined;
  readonly upper?: number | undefined;
}

/**
 * Probability of conformity p_c = Φ((T_U − y)/u) − Φ((T_L − y)/u): the quantity lies within the limits, given the value
 * measured, its standard uncertainty, a normal distribution and no knowledge beforehand (JCGM 106, 7.3 for one limit, 7.4 for two). A
 * value without uncertainty conforms or not; on the limit it does.
 */
export function conformanceProbability(value: number, standardUncertainty: number, limits: Limits): number {
  const { lower = Number.NEGATIVE_INFINITY, upper = Number.POSITIVE_INFINITY } = limits;
  if (standardUncertainty === 0) return value >= lower && value <= upper ? 1 : 0;
  const below = (lower - value) / standardUncertainty;
  const above = (upper - value) / standardUncertainty;
  // In the lower tail, where no digits are lost to 1.
  return below > 0 ? normalCdf(-below) - normalCdf(-above) : normalCdf(above) - normalCdf(below);
}

/** Long-run behaviour of a decision rule: shares of all items, each between 0 and 1. */
export interface GlobalRisks {
  /** Share that conforms, whatever the decision. */
  readonly conforming: number;
  /** Share that is accepted. */
  readonly accepted: number;
  /** R_C: accepted though not conforming. */
  readonly consumerRisk: number;
  /** R_P: not accepted though conforming. */
  readonly producerRisk: number;
}

/**
 * Global risks of accepting what measures within the acceptance limits, for items spread normally and a measurement
 * that adds a normal error (JCGM 106, 9.5), by Gauss–Legendre quadrature over the prior.
 *
 * @param prior mean and standard deviation of the items' true values
 * @param measurementUncertainty standard uncertainty of a measured value; 0 for a perfect one
 * @param tolerance the limits that the true value is meant to keep
 * @param acceptance the limits that the measured value is held against; the tolerance itself without a guard band
 */
export function globalRisks(
  prior: { readonly mean: number; readonly standardDeviation: number },
  measurementUncertainty: number,
  tolerance: Limits,
  acceptance: Limits = tolerance,
): GlobalRisks {
  const { mean, standardDeviation } = prior;
  if (!(standardDeviation > 0))
    throw new RangeError(`Got a spread of ${standardDeviation} when more than 0 was expected.`);
  const density = (x: number): number =>
    Math.exp(-0.5 * ((x - mean) / standardDeviation) ** 2) / (standardDeviation * Math.sqrt(2 * Math.PI));
  // A true value is accepted with the probability that a reading about it falls within the acceptance limits.
  const acceptedAt = (x: number): number => conformanceProbability(x, measurementUncertainty, acceptance);

  const edges = panelEdges(prior, measurementUncertainty, tolerance, acceptance);
  let conforming = 0;
  let accepted = 0;
  let acceptedConforming = 0;
  for (let panel = 1; panel < edges.length; panel++) {
    const from = edges[panel - 1] as number;
    const to = edges[panel] as number;
    const share = integrateSmooth(density, from, to);
    const taken = integrateSmooth((x) => density(x) * acceptedAt(x), from, to);
    accepted += taken;
    // Panels end at the tolerance limits, so each lies on one side of them.
    if (conformanceProbability((from + to) / 2, 0, tolerance) === 0) continue;
    conforming += share;
    acceptedConforming += taken;
  }
  return {
    conforming,
    accepted,
    consumerRisk: Math.max(0, accepted - acceptedConforming),
    producerRisk: Math.max(0, conforming - acceptedConforming),
  };
}

/** Prior standard deviations that the integral reaches to either side: beyond lies less than 1e-18. */
const REACH = 9;

/** Where the integrand changes its nature or its scale; between two of them it is smooth. */
function panelEdges(
  { mean, standardDeviation }: { readonly mean: number; readonly standardDeviation: number },
  measurementUncertainty: number,
  tolerance: Limits,
  acceptance: Limits,
): readonly number[] {
  const present = ({ lower, upper }: Limits): number[] =>
    [lower, upper].filter((limit) => limit !== undefined);
  const first = mean - REACH * standardDeviation;
  const last = mean + REACH * standardDeviation;
  const edges = [
    ...Array.from({ length: 2 * REACH + 1 }, (_, k) => mean + (k - REACH) * standardDeviation),
    ...present(tolerance),
    ...present(acceptance).flatMap((limit) =>
      [-9, -4, -2, -1, 0, 1, 2, 4, 9].map((k) => limit + k * measurementUncertainty),
    ),
  ].filter((edge) => edge >= first && edge <= last);
  return [...new Set(edges)].sort((a, b) => a - b);
}
