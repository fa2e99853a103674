/** What a posterior says of sums of its unknowns: covariances, residuals of its readings, draws. */
import type { Posterior, Term } from "./posterior.ts";

/** Posterior covariance of a sum of members and effects with every member, and the sum's own variance. */
export function covarianceWith(
  result: Posterior,
  sum: { readonly members: readonly Term[]; readonly effects: readonly Term[] },
): { readonly withMembers: Float64Array; readonly variance: number } {
  const { blocks, blockOf, placeOf, shared, effectShared } = result;
  const p = result.model.effectCount;
  const n = result.mean.length;
  const along = new Float64Array(p);
  const withMembers = new Float64Array(n);
  for (const { index, coefficient } of sum.members) {
    for (let a = 0; a < p; a++) along[a] = along[a]! + coefficient * shared[index * p + a]!;
    const { members, covariance } = blocks[blockOf[index]!]!;
    const k = members.length;
    for (let i = 0; i < k; i++)
      withMembers[members[i]!] =
        withMembers[members[i]!]! + coefficient * covariance[placeOf[index]! * k + i]!;
  }
  for (const { index, coefficient } of sum.effects)
    for (let a = 0; a < p; a++) along[a] = along[a]! + coefficient * effectShared[index * p + a]!;
  let variance = 0;
  for (const { index, coefficient } of sum.members) variance += coefficient * withMembers[index]!;
  for (let a = 0; a < p; a++) variance += along[a]! ** 2;
  for (let m = 0; m < n; m++) {
    let dot = 0;
    for (let a = 0; a < p; a++) dot += shared[m * p + a]! * along[a]!;
    withMembers[m] = withMembers[m]! + dot;
  }
  return { withMembers, variance };
}

/** Posterior correlation of two members. */
export function correlation(result: Posterior, one: number, other: number): number {
  const { blocks, blockOf, placeOf, shared, deviation } = result;
  const p = result.model.effectCount;
  let covariance = 0;
  if (blockOf[one] === blockOf[other]) {
    const block = blocks[blockOf[one]!]!;
    covariance = block.covariance[placeOf[one]! * block.members.length + placeOf[other]!]!;
  }
  for (let a = 0; a < p; a++) covariance += shared[one * p + a]! * shared[other * p + a]!;
  return covariance / (deviation[one]! * deviation[other]!);
}

/**
 * One draw of all members from the posterior.
 *
 * @param inputs standard normal numbers, as many as members and effects together
 */
export function drawMembers(result: Posterior, inputs: Float64Array): Float64Array {
  const { mean, blocks, shared } = result;
  const p = result.model.effectCount;
  const n = mean.length;
  if (inputs.length !== n + p) throw new RangeError(`got ${inputs.length} inputs, expected ${n + p}`);
  const drawn = Float64Array.from(mean);
  let at = 0;
  for (const { members, root } of blocks) {
    const k = members.length;
    for (let row = 0; row < k; row++) {
      for (let i = 0; i <= row; i++)
        drawn[members[i]!] = drawn[members[i]!]! + root[row * k + i]! * inputs[at + row]!;
    }
    at += k;
  }
  for (let m = 0; m < n; m++)
    for (let a = 0; a < p; a++) drawn[m] = drawn[m]! + shared[m * p + a]! * inputs[n + a]!;
  return drawn;
}

/** What is left of a reading when all unknowns are at their posterior mean. */
export interface Residual {
  /** Value as read less the value that the estimate gives. */
  readonly residual: number;
  /** The residual over its own standard deviation √(σ² − h C hᵀ): beyond about 3, doubt the reading. */
  readonly normalised: number;
}

/**
 * Residuals, one a reading; the normalised residual is that of geodetic adjustment (W. Baarda, "A testing procedure for
 * use in geodetic networks", 1968), with the prior counted as further observations.
 */
export function residuals(result: Posterior): Residual[] {
  return result.model.readings.map((reading) => {
    let fitted = 0;
    for (const { index, coefficient } of reading.members) fitted += coefficient * result.mean[index]!;
    for (const { index, coefficient } of reading.effects) fitted += coefficient * result.effectMean[index]!;
    const residual = reading.value - fitted;
    const free = reading.deviation ** 2 - covarianceWith(result, reading).variance;
    return { residual, normalised: free > 0 ? residual / Math.sqrt(free) : 0 };
  });
}
