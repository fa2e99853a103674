/** Location, spread and trend that one blunder can't carry off. */
import { type PathUncertainties, standardUncertainty, type TabWeights } from "../readings/uncertainty.ts";
import { median } from "./average.ts";

/** Standard deviation of a normal distribution over its median absolute deviation: 1/Φ⁻¹(3/4). */
const MAD_TO_SIGMA = 1.4826;

/**
 * Mean of a row's values that a few blunders hardly move: the Hodges–Lehmann estimate, the median of the means of all
 * pairs, each value paired with itself too (J. L. Hodges and E. L. Lehmann, Ann. Math. Statist. 34 (1963) 598–611).
 *
 * Efficiency against the plain mean on normal scatter: 3/π = 95.5 % in the limit; so it needs one reading in twenty more. In
 * the limit it withstands 29 % of blunders (1 − 1/√2), however large: with 4 to 6 values one, with 7 to 9 two, with 13
 * three. Three values can't outvote a blunder that way: their median is taken (74 % efficient); of two, the mean.
 *
 * Values in any unit; undefined for none. O(n² log n).
 */
export function robustMean(values: readonly number[]): number | undefined {
  if (values.length === 3) return median(values);
  const means: number[] = [];
  values.forEach((one, i) => {
    for (const other of values.slice(i)) means.push((one + other) / 2);
  });
  return median(means);
}

/**
 * Standard deviation estimated from the median absolute deviation about `centre` (their median by default), times 1.4826
 * so that it is right for normal scatter. Withstands half of blunders; efficiency 37 % on normal scatter (P. J. Rousseeuw
 * and C. Croux, J. Am. Stat. Assoc. 88 (1993) 1273–1283). Undefined for no values; 0 where more than half are alike.
 */
export function robustSigma(values: readonly number[], centre = median(values)): number | undefined {
  if (centre === undefined) return undefined;
  const spread = median(values.map((value) => Math.abs(value - centre)));
  return spread === undefined ? undefined : MAD_TO_SIGMA * spread;
}

/**
 * Efficiency of {@link robustMean} against the plain mean on normal scatter: the plain mean's variance over its own. Up to two
 * values it is the plain mean; the median of three has 0.743 (H. A. David, Order Statistics, from memory); beyond, the
 * limit 3/π is taken. With few values it is 0.91 to 0.94 (four to twenty, simulated), so that the standard uncertainty comes
 * out up to 2.5 % too small.
 */
export function robustEfficiency(count: number): number {
  return count <= 2 ? 1 : count === 3 ? 0.743 : 3 / Math.PI;
}

/**
 * Standard uncertainty of a combination of robust means [m].
 *
 * What the paths share moves a robust mean by as much as the plain one where it moves all paths of the mean alike, so that
 * part is the plain mean's; exact for zero, row and side, near enough for scale and tension, which differ little within a row.
 * What is each path's own counts more, by 1/efficiency in variance.
 *
 * @param means the plain mean's weights of each robust mean that goes in, with its sign and share; no tab in two of them
 */
export function robustUncertainty(uncertainties: PathUncertainties, means: readonly TabWeights[]): number {
  const more = means.reduce((sum, weights) => {
    let ownM2 = 0;
    for (const [tab, weight] of weights) ownM2 += (weight * (uncertainties.ownM[tab] as number)) ** 2;
    return sum + ownM2 * (1 / robustEfficiency(weights.size) - 1);
  }, 0);
  const all: TabWeights = new Map(means.flatMap((weights) => [...weights]));
  return Math.sqrt(standardUncertainty(uncertainties, all) ** 2 + more);
}

/**
 * Straight line that a few outliers hardly move: Theil–Sen, the median of all pairs' slopes, and the median of what that leaves
 * (P. K. Sen, J. Am. Stat. Assoc. 63 (1968) 1379–1389). Withstands 29 % of outliers. Level at x = 0 and slope are 0 for no
 * points; the slope is 0 where all stand at one place.
 */
export function robustLine(points: readonly { readonly x: number; readonly y: number }[]): {
  readonly level: number;
  readonly slope: number;
} {
  const slopes = points.flatMap((a, i) =>
    points.slice(i + 1).flatMap((b) => (a.x === b.x ? [] : [(b.y - a.y) / (b.x - a.x)])),
  );
  const slope = median(slopes) ?? 0;
  return { slope, level: median(points.map(({ x, y }) => y - slope * x)) ?? 0 };
}
