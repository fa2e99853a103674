/**
 * Evaluation of measurement uncertainty after JCGM 100:2008 (the GUM; clause and equation numbers from memory).
 * Quantities of any unit: a function's results are in its arguments' unit. "Uncertainty" without more means standard
 * uncertainty.
 */
import { normalQuantile, studentQuantile } from "./distributions.ts";

/** Of a series of repeated readings (JCGM 100, 4.2). */
export interface TypeA {
  readonly mean: number;
  /** Experimental standard deviation of a single reading, with n − 1. */
  readonly standardDeviation: number;
  /** Of the mean: standard deviation / √n. */
  readonly standardUncertainty: number;
  /** n − 1. */
  readonly degreesOfFreedom: number;
}

/** Type A evaluation of repeated independent readings (JCGM 100, 4.2.1 to 4.2.3). Throws below two values. */
export function typeA(values: readonly number[]): TypeA {
  const { means, covariance, degreesOfFreedom } = jointTypeA([values]);
  const variance = covariance[0]?.[0] as number;
  return {
    mean: means[0] as number,
    standardDeviation: Math.sqrt(variance * values.length),
    standardUncertainty: Math.sqrt(variance),
    degreesOfFreedom,
  };
}

/** Of several quantities that were read together, again and again. */
export interface JointTypeA {
  readonly means: readonly number[];
  /** Of the means: s(q, r) / n, JCGM 100 equation (17). */
  readonly covariance: readonly (readonly number[])[];
  readonly degreesOfFreedom: number;
}

/**
 * Type A evaluation of quantities observed simultaneously (JCGM 100, 5.2.3): means and their covariances.
 *
 * @param series one list for each quantity; the k-th values of all lists belong together
 * @throws RangeError where the lists differ in length or have fewer than two values
 */
export function jointTypeA(series: readonly (readonly number[])[]): JointTypeA {
  const n = series[0]?.length ?? 0;
  if (n < 2) throw new RangeError(`Got ${n} values when at least 2 repeats were expected.`);
  const odd = series.find((values) => values.length !== n);
  if (odd) throw new RangeError(`Got a series of ${odd.length} values beside one of ${n}.`);
  const means = series.map((values) => values.reduce((sum, value) => sum + value, 0) / n);
  const offsets = series.map((values, q) => values.map((value) => value - (means[q] as number)));
  const covariance = offsets.map((one) =>
    offsets.map(
      (other) => one.reduce((sum, offset, k) => sum + offset * (other[k] as number), 0) / (n * (n - 1)),
    ),
  );
  return { means, covariance, degreesOfFreedom: n - 1 };
}

/** A short series of repeats: how many values, and their standard deviation with n − 1. */
export interface RepeatSeries {
  readonly count: number;
  readonly standardDeviation: number;
}

/**
 * Pooled standard deviation of a single reading over many short series of the same procedure: s_p² = Σ ν_j s_j² / Σ ν_j
 * with ν_j = n_j − 1 (JCGM 100, 4.2.4 and H.3.6). Series below two values carry nothing; undefined where none is left.
 */
export function pooledDeviation(
  series: readonly RepeatSeries[],
): { readonly standardDeviation: number; readonly degreesOfFreedom: number } | undefined {
  const repeated = series.filter(({ count }) => count >= 2);
  const degreesOfFreedom = repeated.reduce((sum, { count }) => sum + count - 1, 0);
  if (degreesOfFreedom === 0) return undefined;
  const squares = repeated.reduce(
    (sum, { count, standardDeviation }) => sum + (count - 1) * standardDeviation ** 2,
    0,
  );
  return { standardDeviation: Math.sqrt(squares / degreesOfFreedom), degreesOfFreedom };
}

/** Uncertainty of a quantity that lies anywhere within ± this half-width alike: a/√3 (JCGM 100, 4.3.7). */
export function rectangular(halfWidth: number): number {
  return halfWidth / Math.sqrt(3);
}

/** Uncertainty where values near the middle are likelier, falling evenly to nothing at ± the half-width: a/√6 (4.3.9). */
export function triangular(halfWidth: number): number {
  return halfWidth / Math.sqrt(6);
}

/** Uncertainty of a quantity that swings between ± the half-width like a sine (U-shaped density): a/√2 (H.1.3.4). */
export function arcsine(halfWidth: number): number {
  return halfWidth / Math.SQRT2;
}

/** Uncertainty due to a display's resolution: rectangular over half a step to either side, step/√12 (F.2.2.1). */
export function ofResolution(step: number): number {
  return rectangular(step / 2);
}

/**
 * Degrees of freedom of an uncertainty that is itself only known to a relative uncertainty: ν ≈ ½ (Δu/u)⁻² (JCGM 100,
 * equation G.3). 0.25 gives 8.
 */
export function degreesOfFreedomFromReliability(relativeUncertainty: number): number {
  return 0.5 / relativeUncertainty ** 2;
}

/** One input of a measurement model, as far as its uncertainty goes. */
export interface UncertaintyComponent {
  /** ∂f/∂x: change of the result per change of this input. */
  readonly sensitivity: number;
  readonly uncertainty: number;
  /** Infinity where left out: taken as known. */
  readonly degreesOfFreedom?: number | undefined;
  /**
   * Components of one group have uncertainties that come from one and the same estimate of a variance (independent
   * errors, shared estimate). Their squares are summed before the effective degrees of freedom are reckoned.
   */
  readonly group?: string | undefined;
}

export interface CombinedUncertainty {
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
  /** Sensitivity × uncertainty of each component, with sign, in the order given. */
  readonly contributions: readonly number[];
}

/**
 * Combined standard uncertainty by the law of propagation, JCGM 100 equations (10), and (16) for correlated inputs:
 * u_c² = Σ_i Σ_j c_i c_j u_i u_j r_ij. Effective degrees of freedom by Welch–Satterthwaite (G.2b), which holds for
 * independent inputs; where correlated inputs have finite degrees of freedom the smallest of those that contribute is
 * taken instead, which errs on the side of a wider interval.
 *
 * @param correlation r_ij, symmetric with ones on the diagonal, in the order of the components; left out: independent
 * @throws RangeError on a negative uncertainty, a correlation matrix of the wrong shape or one that makes the variance
 *   negative, or unlike degrees of freedom within a group
 */
export function combine(
  components: readonly UncertaintyComponent[],
  correlation?: readonly (readonly number[])[],
): CombinedUncertainty {
  const contributions = components.map(({ sensitivity, uncertainty }) => {
    if (!(uncertainty >= 0))
      throw new RangeError(`Got an uncertainty of ${uncertainty} when 0 or more was expected.`);
    return sensitivity * uncertainty;
  });
  const own = contributions.reduce((sum, part) => sum + part ** 2, 0);
  const crossed = correlation === undefined ? 0 : crossTerms(contributions, correlation);
  const variance = own + crossed;
  if (variance < -1e-12 * own)
    throw new RangeError("These correlations can't all hold: the variance is negative.");
  const standardUncertainty = Math.sqrt(Math.max(0, variance));
  const correlated = correlation?.some((row, i) => row.some((r, j) => i !== j && r !== 0)) ?? false;
  const degreesOfFreedom = correlated
    ? Math.min(
        Number.POSITIVE_INFINITY,
        ...components.flatMap((each, i) =>
          contributions[i] === 0 ? [] : [each.degreesOfFreedom ?? Number.POSITIVE_INFINITY],
        ),
      )
    : effectiveDegreesOfFreedom(grouped(components, contributions));
  return { standardUncertainty, degreesOfFreedom, contributions };
}

function crossTerms(contributions: readonly number[], correlation: readonly (readonly number[])[]): number {
  const n = contributions.length;
  if (correlation.length !== n || correlation.some((row) => row.length !== n))
    throw new RangeError(`Got a correlation matrix that isn't ${n} × ${n}, the number of components.`);
  let sum = 0;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) {
      const r = correlation[i]?.[j] as number;
      if (!(Math.abs(r) <= 1) || Math.abs(r - (correlation[j]?.[i] as number)) > 1e-12)
        throw new RangeError(
          `Got r = ${r} between components ${j} and ${i}; expected −1 to 1, the same both ways.`,
        );
      sum += 2 * r * (contributions[i] as number) * (contributions[j] as number);
    }
  }
  return sum;
}

/** Contributions with their degrees of freedom, a group's put together. */
function grouped(
  components: readonly UncertaintyComponent[],
  contributions: readonly number[],
): VariancePart[] {
  const parts = new Map<string | number, VariancePart>();
  components.forEach(({ degreesOfFreedom = Number.POSITIVE_INFINITY, group }, i) => {
    const before = parts.get(group ?? i);
    if (before && before.degreesOfFreedom !== degreesOfFreedom)
      throw new RangeError(
        `Got ${degreesOfFreedom} and ${before.degreesOfFreedom} degrees of freedom in group "${group}".`,
      );
    parts.set(group ?? i, {
      variance: (before?.variance ?? 0) + (contributions[i] as number) ** 2,
      degreesOfFreedom,
    });
  });
  return [...parts.values()];
}

/** A part of a combined variance, and how many degrees of freedom its estimate has. */
export interface VariancePart {
  readonly variance: number;
  readonly degreesOfFreedom: number;
}

/**
 * Welch–Satterthwaite: ν_eff = u_c⁴ / Σ (u_i⁴ / ν_i) for independent parts (JCGM 100, equation G.2b); not rounded.
 * Infinity where every part that counts is taken as known, and where there is no variance at all.
 */
export function effectiveDegreesOfFreedom(parts: readonly VariancePart[]): number {
  let total = 0;
  let denominator = 0;
  for (const { variance, degreesOfFreedom } of parts) {
    if (!(degreesOfFreedom > 0))
      throw new RangeError(`Got ${degreesOfFreedom} degrees of freedom when more than 0 were expected.`);
    total += variance;
    denominator += variance ** 2 / degreesOfFreedom;
  }
  return denominator === 0 ? Number.POSITIVE_INFINITY : total ** 2 / denominator;
}

/**
 * Coverage factor k for an interval mean ± k·u that holds the quantity with the given probability (JCGM 100, G.6.4):
 * Student's t for the effective degrees of freedom, cut down to the next whole number (at least 1); the normal
 * distribution's where they are infinite.
 */
export function coverageFactor(probability: number, degreesOfFreedom = Number.POSITIVE_INFINITY): number {
  const twoSided = (1 + probability) / 2;
  if (degreesOfFreedom === Number.POSITIVE_INFINITY) return normalQuantile(twoSided);
  return studentQuantile(twoSided, Math.max(1, Math.floor(degreesOfFreedom)));
}

/** Expanded uncertainty U = k·u for a coverage probability (JCGM 100, 6.2.1). */
export function expandedUncertainty(
  {
    standardUncertainty,
    degreesOfFreedom,
  }: Pick<CombinedUncertainty, "standardUncertainty" | "degreesOfFreedom">,
  probability = 0.95,
): number {
  return coverageFactor(probability, degreesOfFreedom) * standardUncertainty;
}

/**
 * Covariances of several results of the same inputs, to first order: J V Jᵀ (JCGM 100, equation (13) and, for several
 * results, H.2.3). With one row, a function's gradient, the only entry is that function's variance.
 *
 * @param jacobian one row for each result: its partial derivatives by the inputs
 * @param covariance of the inputs
 * @throws RangeError where a row's length isn't the number of inputs
 */
export function propagate(
  jacobian: readonly (readonly number[])[],
  covariance: readonly (readonly number[])[],
): readonly (readonly number[])[] {
  const n = covariance.length;
  const odd = [...jacobian, ...covariance].find((row) => row.length !== n);
  if (odd) throw new RangeError(`Got a row of ${odd.length} when ${n}, the number of inputs, was expected.`);
  const spread = jacobian.map((row) =>
    covariance.map((_, j) => row.reduce((sum, slope, i) => sum + slope * (covariance[i]?.[j] as number), 0)),
  );
  return spread.map((one) =>
    jacobian.map((other) => one.reduce((sum, value, j) => sum + value * (other[j] as number), 0)),
  );
}
