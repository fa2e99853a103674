/**
 * Exact Gaussian estimation of many unknowns from few sums of them.
 *
 * Unknowns e (one a member) and effects w that many of them share, all Gaussian:
 *   w ~ N(0, I),  e = F w + δ,  δ_m ~ N(0, d_m²),  y = A e + B w + n,  n_r ~ N(0, σ_r²).
 * Members that no reading joins are independent once w is given, so the precision matrix is an arrow: one small block a
 * connected group of members (a lower line with all that hangs on it), bordered by the effects. Block elimination gives
 *   Λ = D⁻¹ + Aᵀ N⁻¹ A,  K = D⁻¹ F − Aᵀ N⁻¹ B,  J = Λ⁻¹ K,
 *   P = I + Fᵀ D⁻¹ F + Bᵀ N⁻¹ B − Σ Kᵀ Λ⁻¹ K,
 * and the posterior covariance Λ⁻¹ (by blocks) + J P⁻¹ Jᵀ (of low rank). Standard conditioning of a linear Gaussian model,
 * as in A. Gelman et al., *Bayesian Data Analysis*, chapters 14 and 15.
 */
import { gram, invertFactor, multiply, multiplyLower, multiplyLowerTransposed, transposed } from "./dense.ts";

/** One entry of a sparse row. */
export interface Term {
  readonly index: number;
  readonly coefficient: number;
}

/** A reading: value ≈ Σ coefficient·member + Σ coefficient·effect, with independent normal noise. */
export interface LinearReading {
  readonly members: readonly Term[];
  readonly effects: readonly Term[];
  readonly value: number;
  /** Standard deviation of the reading's own noise, in the value's unit; above 0. */
  readonly deviation: number;
}

export interface GaussianModel {
  /** Per member: standard deviation about what the effects give; above 0. */
  readonly spread: Float64Array;
  /** Per member: its loadings on the effects, each effect standard normal beforehand. */
  readonly memberEffects: readonly (readonly Term[])[];
  readonly effectCount: number;
  readonly readings: readonly LinearReading[];
}

/** Members joined by readings: independent of all others once the effects are given. */
export interface Block {
  readonly members: Int32Array;
  /** k × k covariance at given effects. */
  readonly covariance: Float64Array;
  /** k × k, lower triangular: its transpose times standard normal numbers has that covariance. */
  readonly root: Float64Array;
}

export interface Posterior {
  readonly model: GaussianModel;
  readonly mean: Float64Array;
  /** Standard deviation of every member. */
  readonly deviation: Float64Array;
  /** The same before any reading. */
  readonly priorDeviation: Float64Array;
  readonly effectMean: Float64Array;
  readonly effectDeviation: Float64Array;
  readonly blocks: readonly Block[];
  /** Member → block, and place in it. */
  readonly blockOf: Int32Array;
  readonly placeOf: Int32Array;
  /** n × p: the covariance is that of the blocks plus shared·sharedᵀ. */
  readonly shared: Float64Array;
  /** p × p: the effects' covariance is effectShared·effectSharedᵀ, with the same columns as `shared`. */
  readonly effectShared: Float64Array;
  /** ln of the density of all values as read, the unknowns averaged out. */
  readonly logEvidence: number;
}

/**
 * Condition the model on its readings.
 *
 * @throws RangeError on a spread or a reading's deviation that isn't positive, or an index out of range
 */
export function posterior(model: GaussianModel): Posterior {
  checkModel(model);
  const { spread, memberEffects, effectCount: p, readings } = model;
  const n = spread.length;
  const { blocks: groups, blockOf, placeOf } = joinedMembers(n, readings);
  const readingsOf: LinearReading[][] = groups.map(() => []);
  for (const reading of readings) {
    const first = reading.members[0];
    if (first) readingsOf[blockOf[first.index]!]!.push(reading);
  }

  const precision = new Float64Array(p * p);
  for (let k = 0; k < p; k++) precision[k * p + k] = 1;
  const pull = new Float64Array(p);
  let logEvidence = 0;
  for (const { effects, value, deviation } of readings) {
    const weight = 1 / deviation ** 2;
    logEvidence -= 0.5 * (Math.log(2 * Math.PI * deviation ** 2) + weight * value * value);
    for (const a of effects) {
      pull[a.index] = pull[a.index]! + weight * a.coefficient * value;
      for (const b of effects) addTo(precision, p, a, b, weight);
    }
  }

  // Block by block: what the members leave to the effects.
  const factored = groups.map((members, g) => {
    const k = members.length;
    const root = new Float64Array(k * k);
    const towards = new Float64Array(k * p);
    const right = new Float64Array(k);
    for (let i = 0; i < k; i++) {
      const m = members[i]!;
      const weight = 1 / spread[m]! ** 2;
      logEvidence -= Math.log(spread[m]!);
      root[i * k + i] = weight;
      for (const a of memberEffects[m]!) {
        towards[i * p + a.index] = towards[i * p + a.index]! + weight * a.coefficient;
        for (const b of memberEffects[m]!) addTo(precision, p, a, b, weight);
      }
    }
    for (const { members: terms, effects, value, deviation } of readingsOf[g]!) {
      const weight = 1 / deviation ** 2;
      for (const a of terms) {
        const i = placeOf[a.index]!;
        right[i] = right[i]! + weight * a.coefficient * value;
        for (const b of terms) {
          const at = i * k + placeOf[b.index]!;
          root[at] = root[at]! + weight * a.coefficient * b.coefficient;
        }
        for (const b of effects)
          towards[i * p + b.index] = towards[i * p + b.index]! - weight * a.coefficient * b.coefficient;
      }
    }
    logEvidence -= 0.5 * invertFactor(root, k);
    const covariance = gram(root, k);
    // Half-way products R K and R h, so that Kᵀ Λ⁻¹ K and hᵀ Λ⁻¹ h come out symmetric.
    const halfway = multiplyLower(root, k, towards, p);
    const halfRight = multiplyLower(root, k, right, 1);
    for (let i = 0; i < k; i++) {
      logEvidence += 0.5 * halfRight[i]! ** 2;
      for (let a = 0; a < p; a++) {
        const value = halfway[i * p + a]!;
        if (value === 0) continue;
        pull[a] = pull[a]! + value * halfRight[i]!;
        for (let b = 0; b < p; b++)
          precision[a * p + b] = precision[a * p + b]! - value * halfway[i * p + b]!;
      }
    }
    return { members, root, covariance, halfway, halfRight };
  });

  logEvidence -= 0.5 * invertFactor(precision, p);
  const effectHalf = multiplyLower(precision, p, pull, 1);
  for (const half of effectHalf) logEvidence += 0.5 * half * half;
  const effectShared = transposed(precision, p);
  const effectMean = multiply(effectShared, p, p, effectHalf, 1);

  const mean = new Float64Array(n);
  const deviation = new Float64Array(n);
  const shared = new Float64Array(n * p);
  for (const { members, root, covariance, halfway, halfRight } of factored) {
    const k = members.length;
    const sensitivity = multiplyLowerTransposed(root, k, halfway, p);
    const alone = multiplyLowerTransposed(root, k, halfRight, 1);
    const blockShared = multiply(sensitivity, k, p, effectShared, p);
    for (let i = 0; i < k; i++) {
      const m = members[i]!;
      let value = alone[i]!;
      let variance = covariance[i * k + i]!;
      for (let a = 0; a < p; a++) {
        value += sensitivity[i * p + a]! * effectMean[a]!;
        const part = blockShared[i * p + a]!;
        shared[m * p + a] = part;
        variance += part * part;
      }
      mean[m] = value;
      deviation[m] = Math.sqrt(variance);
    }
  }
  return {
    model,
    mean,
    deviation,
    priorDeviation: Float64Array.from(spread, (own, m) =>
      Math.sqrt(memberEffects[m]!.reduce((sum, { coefficient }) => sum + coefficient ** 2, own ** 2)),
    ),
    effectMean,
    effectDeviation: Float64Array.from({ length: p }, (_, a) => {
      let variance = 0;
      for (let b = 0; b < p; b++) variance += effectShared[a * p + b]! ** 2;
      return Math.sqrt(variance);
    }),
    blocks: factored.map(({ members, covariance, root }) => ({ members, covariance, root })),
    blockOf,
    placeOf,
    shared,
    effectShared,
    logEvidence,
  };
}

function addTo(matrix: Float64Array, size: number, a: Term, b: Term, weight: number): void {
  const at = a.index * size + b.index;
  matrix[at] = matrix[at]! + weight * a.coefficient * b.coefficient;
}

/** Members joined by readings, by union and find. */
function joinedMembers(
  count: number,
  readings: readonly LinearReading[],
): { blocks: Int32Array[]; blockOf: Int32Array; placeOf: Int32Array } {
  const parent = Int32Array.from({ length: count }, (_, m) => m);
  const find = (m: number): number => {
    let root = m;
    while (parent[root] !== root) root = parent[root]!;
    parent[m] = root;
    return root;
  };
  for (const { members } of readings)
    for (const { index } of members) parent[find(index)] = find((members[0] as Term).index);
  const lists = new Map<number, number[]>();
  for (let m = 0; m < count; m++) {
    const root = find(m);
    const list = lists.get(root);
    if (list) list.push(m);
    else lists.set(root, [m]);
  }
  const blocks = [...lists.values()].map((list) => Int32Array.from(list));
  const blockOf = new Int32Array(count);
  const placeOf = new Int32Array(count);
  blocks.forEach((members, b) => {
    members.forEach((m, place) => {
      blockOf[m] = b;
      placeOf[m] = place;
    });
  });
  return { blocks, blockOf, placeOf };
}

function checkModel({ spread, memberEffects, effectCount, readings }: GaussianModel): void {
  if (memberEffects.length !== spread.length)
    throw new RangeError(`effects are given for ${memberEffects.length} members, expected ${spread.length}`);
  spread.forEach((value, m) => {
    if (!(value > 0 && Number.isFinite(value)))
      throw new RangeError(`spread of member ${m} is ${value}, expected a positive number`);
  });
  const inRange = (terms: readonly Term[], count: number, what: string): void => {
    for (const { index, coefficient } of terms)
      if (!(Number.isInteger(index) && index >= 0 && index < count && Number.isFinite(coefficient)))
        throw new RangeError(`a term names ${what} ${index} with ${coefficient}, but there are ${count}`);
  };
  for (const terms of memberEffects) inRange(terms, effectCount, "effect");
  readings.forEach(({ members, effects, value, deviation }, r) => {
    if (!(deviation > 0 && Number.isFinite(deviation) && Number.isFinite(value)))
      throw new RangeError(
        `reading ${r} is ${value} ± ${deviation}, expected finite numbers and a positive deviation`,
      );
    inRange(members, spread.length, "member");
    inRange(effects, effectCount, "effect");
  });
}
