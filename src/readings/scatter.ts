/**
 * How much single readings of a check scatter: what was expected beforehand, brought up to date by the check's repeats.
 */
import { chiSquareQuantile } from "./distributions.ts";
import type { RepeatSeries } from "./gum.ts";

/** A path's repeats, and the variance that one reading of it was expected to have [m²]. */
export interface ExpectedScatter extends RepeatSeries {
  readonly varianceM2: number;
}

export interface Scatter {
  /** What every expected variance is multiplied by. */
  readonly varianceFactor: number;
  readonly degreesOfFreedom: number;
  /** Places in the list of series whose repeats disagree too much to be scatter alone. */
  readonly doubtful: readonly number[];
}

/** Repeats that spread this rarely, if scatter were all, are a slip: read again. */
const SLIP_PROBABILITY = 0.001;
/** From so many repeated paths on, the check's own usual scatter is the measure of a slip. */
const LEAST_FOR_OWN_MEASURE = 3;

/**
 * One common variance factor for all paths: k = (ν₀ + Σ ν_j s_j²/v_j) / (ν₀ + Σ ν_j), with v_j the expected variance and
 * s_j the standard deviation of series j, ν_j = n_j − 1. This is the pooled estimate of JCGM 100, 4.2.4, with the
 * expectation counted as ν₀ degrees of freedom: the mean of the scaled inverse chi-square posterior as usually
 * parametrised (Gelman et al., Bayesian Data Analysis, section 2.6; from memory). It depends on the expectation alone
 * without repeats, and on the repeats alone in the end.
 *
 * A slip (swapped digits in one of two repeats) must not make every other path look uncertain. A series beyond the
 * 99.9 % point of its chi-square distribution is left out and named; the measure is the expectation, or the median
 * series where the check scatters more than expected throughout.
 */
export function scatterOf(series: readonly ExpectedScatter[], priorDegreesOfFreedom: number): Scatter {
  const ratios = series.map(({ count, standardDeviation, varianceM2 }) =>
    count < 2 ? undefined : ((count - 1) * standardDeviation ** 2) / varianceM2,
  );
  const measure = Math.max(1, usualFactor(series, ratios));
  const doubtful: number[] = [];
  let squares = 0;
  let degreesOfFreedom = 0;
  series.forEach(({ count }, place) => {
    const ratio = ratios[place];
    if (ratio === undefined) return;
    if (ratio > measure * chiSquareQuantile(1 - SLIP_PROBABILITY, count - 1)) {
      doubtful.push(place);
      return;
    }
    squares += ratio;
    degreesOfFreedom += count - 1;
  });
  const varianceFactor =
    priorDegreesOfFreedom === Number.POSITIVE_INFINITY
      ? 1
      : (priorDegreesOfFreedom + squares) / (priorDegreesOfFreedom + degreesOfFreedom);
  return { varianceFactor, degreesOfFreedom: priorDegreesOfFreedom + degreesOfFreedom, doubtful };
}

/** Median over the series of what their spread alone would make the factor. */
function usualFactor(series: readonly ExpectedScatter[], ratios: readonly (number | undefined)[]): number {
  const factors = series
    .flatMap(({ count }, place) => {
      const ratio = ratios[place];
      return ratio === undefined ? [] : [ratio / chiSquareQuantile(0.5, count - 1)];
    })
    .sort((a, b) => a - b);
  return factors.length < LEAST_FOR_OWN_MEASURE ? 1 : (factors[(factors.length - 1) >> 1] as number);
}
