/**
 * Which line to read alone next: the one whose reading leaves least unknown about all lines.
 *
 * What is unknown is the trace of the posterior covariance C over the lines. One more reading h·e + noise σ changes C to
 * C − C h hᵀ C/(hᵀ C h + σ²), whatever it will show, so the trace falls by |C h|²/(hᵀ C h + σ²): a rank-one update. h holds
 * the line and its share of the common effects.
 */
import type { Wing } from "../plan/model.ts";
import { fixed, say } from "../words/index.ts";
import { type Attribution, lineReadingTerms, type ReadingSpread } from "./attribution.ts";
import { covarianceWith } from "./moments.ts";
import { plainMm } from "./wording.ts";

export interface ReadingGain {
  readonly lineKey: string;
  /** By how much the sum of all lines' variances falls [m²], and as a share of that sum. */
  readonly reductionM2: number;
  readonly share: number;
  /** The line's own standard deviation before and after [m]. */
  readonly beforeM: number;
  readonly afterM: number;
}

/** Plain data. */
export interface NextReadings {
  /** Sum of all lines' variances as known now [m²]. */
  readonly unknownM2: number;
  /** Every line that can be read alone and wasn't, the most telling first. */
  readonly ranked: readonly ReadingGain[];
  /**
   * The best few in turn, each counted after those before it: mirror twins and neighbours, which tell much the same,
   * don't crowd the list. Shares are of the sum as known now.
   */
  readonly best: readonly ReadingGain[];
}

/**
 * @param uncertainty the same that the attribution was made with
 * @param count how many of the best are worked out in turn
 */
export function nextReadings(
  wing: Wing,
  attribution: Attribution,
  uncertainty: ReadingSpread,
  count = 3,
): NextReadings {
  const { posterior: known } = attribution;
  const n = wing.lines.length;
  const deviations = known.deviation;
  const unknownM2 = deviations.reduce((sum, deviation) => sum + deviation * deviation, 0);
  const candidates = wing.lines.flatMap((line, m) => {
    // A reading of a line without a length of its own has nothing to be held against.
    if (line.lengthAssumed || attribution.lines[m]?.knowledge === "read alone") return [];
    const { deviation, ...sum } = lineReadingTerms(m, line, attribution.rates.length, uncertainty);
    // Rows of h·C over the lines, and h·C·h′ over the other candidates' common parts, kept as one covariance of h.
    return [{ m, lineKey: line.key, sum, noiseM2: deviation * deviation }];
  });
  // Columns C h_i over lines; and V_ij = h_i C h_j, so that later gains follow from earlier choices without solving anew.
  const columns = candidates.map(({ sum }) => covarianceWith(known, sum).withMembers);
  const between = candidates.map(({ sum }, i) =>
    candidates.map((other, j) => (i <= j ? joint(known, sum, other.sum, columns[i] as Float64Array) : 0)),
  );
  const cross = candidates.map((_, i) =>
    candidates.map((__, j) => (i <= j ? between[i]?.[j] : between[j]?.[i]) as number),
  );
  const variance = Float64Array.from(deviations, (deviation) => deviation * deviation);

  const gainOf = (i: number): ReadingGain => {
    const { m, lineKey, noiseM2 } = candidates[i] as (typeof candidates)[number];
    const column = columns[i] as Float64Array;
    const total = (cross[i]?.[i] as number) + noiseM2;
    let square = 0;
    for (let k = 0; k < n; k++) square += column[k]! ** 2;
    const reductionM2 = square / total;
    return {
      lineKey,
      reductionM2,
      share: unknownM2 > 0 ? reductionM2 / unknownM2 : 0,
      beforeM: Math.sqrt(variance[m]!),
      afterM: Math.sqrt(Math.max(0, variance[m]! - column[m]! ** 2 / total)),
    };
  };
  const byGain = (a: ReadingGain, b: ReadingGain): number => b.reductionM2 - a.reductionM2;
  const ranked = candidates.map((_, i) => gainOf(i)).sort(byGain);

  const best: ReadingGain[] = [];
  const open = new Set(candidates.keys());
  while (best.length < count && open.size > 0) {
    let chosen = -1;
    let most: ReadingGain | undefined;
    for (const i of open) {
      const gain = gainOf(i);
      if (!most || byGain(gain, most) < 0) [chosen, most] = [i, gain];
    }
    best.push(most as ReadingGain);
    open.delete(chosen);
    downdate(chosen, (candidates[chosen] as (typeof candidates)[number]).noiseM2, columns, cross, variance);
  }
  return { unknownM2, ranked, best };
}

/** Take the chosen candidate's reading as made: rank-one change of all columns, of their covariances and of the lines' variances. */
function downdate(
  chosen: number,
  noiseM2: number,
  columns: readonly Float64Array[],
  cross: number[][],
  variance: Float64Array,
): void {
  const column = Float64Array.from(columns[chosen] as Float64Array);
  const along = [...(cross[chosen] as number[])];
  const total = (along[chosen] as number) + noiseM2;
  columns.forEach((each, i) => {
    const factor = (along[i] as number) / total;
    for (let k = 0; k < each.length; k++) each[k] = each[k]! - factor * column[k]!;
    const row = cross[i] as number[];
    for (let j = 0; j < row.length; j++) row[j] = (row[j] as number) - factor * (along[j] as number);
  });
  for (let k = 0; k < column.length; k++) variance[k] = variance[k]! - column[k]! ** 2 / total;
}

type Sum = Parameters<typeof covarianceWith>[1];

/** Covariance of two would-be readings: over the members by the known column, over common effects through the shared part. */
function joint(known: Attribution["posterior"], one: Sum, other: Sum, columnOfOne: Float64Array): number {
  let covariance = 0;
  for (const { index, coefficient } of other.members) covariance += coefficient * columnOfOne[index]!;
  const p = known.model.effectCount;
  for (const { index, coefficient } of other.effects)
    for (let a = 0; a < p; a++) {
      const effect = coefficient * known.effectShared[index * p + a]!;
      for (const term of one.members)
        covariance += effect * term.coefficient * known.shared[term.index * p + a]!;
      for (const term of one.effects)
        covariance += effect * term.coefficient * known.effectShared[term.index * p + a]!;
    }
  return covariance;
}

/** `Read C2 on the left alone next: it takes 12 % off what is unknown about the lines, and settles C2 itself from ±3.9 mm to ±1.0 mm.` */
export function sayNextReading(wing: Wing, next: NextReadings): string {
  const [best] = next.best;
  const line = wing.lines.find((each) => each.key === best?.lineKey);
  if (!best || !line) return say("diagnosis.next.none");
  const percent = Math.round(100 * best.share);
  return say("diagnosis.next", {
    line: line.id,
    side: line.side,
    before: plainMm(best.beforeM, 1),
    after: plainMm(best.afterM, 1),
    gain: percent < 1 ? "little" : "much",
    percent: fixed(percent, 0),
  });
}
