/**
 * How well the incidence is known: the readings' uncertainty carried through the lines' posterior to every rib, to each
 * side and to their difference, beside what the model's own assumptions leave.
 *
 * Incidence is linear in small changes of line length ({@link incidenceResponse}), so the posterior's spread gives a normal
 * band in closed form; draws from the posterior give the quantiles anew, without using that. Both are in the result.
 */
import type { RibChange } from "../geometry/model.ts";
import type { IncidenceResponse } from "../geometry/tangent-response.ts";
import type { IncidenceBand } from "../geometry/variants.ts";
import type { Side } from "../plan/model.ts";
import { say } from "../words/index.ts";
import type { Attribution } from "./attribution.ts";
import { fillNormal, seededUniform } from "./normal-draws.ts";
import { plainDegrees, signedDegrees } from "./wording.ts";

/** Standard normal quantiles of the central 68 and 95 %: probability 0.6827 is one standard deviation by definition. */
const QUANTILE_68 = 1;
const QUANTILE_95 = 1.959963985;
const SHARE_68 = 0.682689492;
const SHARE_95 = 0.95;
/** Draws between two looks at progress and cancelling; a multiple of four, as four are made at a time. */
const CHUNK = 200;

export interface Interval {
  readonly low: number;
  readonly high: number;
}

/** One angle and how well it is known [rad], nose-up positive. */
export interface AngleBand {
  /** As the measured state has it, and at the lines' most likely changes: the bands are around the latter. */
  readonly measuredRad: number;
  readonly likelyRad: number;
  /** Standard deviation from the readings alone, in closed form. */
  readonly readingRad: number;
  /** From the readings alone: quantiles of the draws. */
  readonly drawn68: Interval;
  readonly drawn95: Interval;
  /** From the readings alone: closed form. */
  readonly normal68: Interval;
  readonly normal95: Interval;
  /** Half-width that the model's assumptions leave, taken to the ends of what is plausible; undefined where not worked out. */
  readonly assumptionsRad: number | undefined;
  /** Readings and assumptions together: drawn half-widths and assumptions as the root of the sum of squares, each side for itself. */
  readonly combined68: Interval;
  readonly combined95: Interval;
}

export interface RibBand extends AngleBand {
  readonly side: Side;
  readonly rib: number;
  readonly yM: number;
}

/** Plain data: may cross a worker's boundary. */
export interface IncidenceBands {
  /** In the order of the rib changes. */
  readonly ribs: readonly RibBand[];
  /** Means over the ribs, each counted with its chord; undefined without ribs on that side. */
  readonly mean: AngleBand | undefined;
  readonly left: AngleBand | undefined;
  readonly right: AngleBand | undefined;
  /** Left less right; undefined where a side has no ribs. */
  readonly leftLessRight: AngleBand | undefined;
  readonly draws: number;
  /** Largest difference of a drawn and a closed-form 95 % bound, in standard deviations: about 0.1 at 10,000 draws. */
  readonly largestDisagreement: number;
}

export interface BandOptions {
  /** 10,000 if left out. */
  readonly draws?: number;
  /** Uniform in [0, 1); seeded if left out, so that the same readings give the same bands. */
  readonly uniform?: () => number;
  /** What assumptions leave, for the same line changes. */
  readonly assumptions?: IncidenceBand;
  /** Told how much is done, 0 to 1. */
  readonly onProgress?: (fraction: number) => void;
  /** Asked now and then; true ends the work without a result. */
  readonly shouldStop?: () => boolean;
}

/**
 * @param ribs profile changes of the measured state
 * @param response at the measured state, its ribs in the same order
 * @param attribution the lines' posterior
 * @param measuredChangesM line key → change that the measured state was solved with [m]
 * @returns undefined where `shouldStop` ended the work
 * @throws RangeError where ribs and response don't match, or on fewer than 100 draws
 */
export function incidenceBands(
  ribs: readonly RibChange[],
  response: IncidenceResponse,
  attribution: Attribution,
  measuredChangesM: ReadonlyMap<string, number>,
  options: BandOptions = {},
): IncidenceBands | undefined {
  const { draws = 10_000, uniform = seededUniform(1), assumptions } = options;
  if (ribs.length !== response.ribs.length)
    throw new RangeError(`the response has ${response.ribs.length} ribs, expected ${ribs.length}`);
  if (!(Number.isInteger(draws) && draws >= 100))
    throw new RangeError(`got ${draws} draws, expected a whole number from 100`);
  const { weights, places } = combinations(ribs, response);
  const count = weights.length;
  const perLine = onLines(weights, response, attribution);
  const lines = attribution.lines.length;
  const shift = Float64Array.from(
    attribution.lines,
    (line) => line.changeM - (measuredChangesM.get(line.lineKey) ?? 0),
  );

  const measured = weights.map((row) =>
    row.reduce((sum, weight, r) => sum + weight * (ribs[r]?.incidenceRad ?? 0), 0),
  );
  const likely = measured.map((value, q) => {
    let moved = value;
    for (let m = 0; m < lines; m++) moved += perLine[q * lines + m]! * shift[m]!;
    return moved;
  });
  const mixing = mixingOf(perLine, count, attribution);
  const inputs = mixing.length / count;
  const deviation = likely.map((_, q) => {
    let variance = 0;
    for (let k = 0; k < inputs; k++) variance += mixing[q * inputs + k]! ** 2;
    return Math.sqrt(variance);
  });

  const drawn = likely.map(() => new Float64Array(draws));
  const four = new Float64Array(4 * inputs);
  for (let draw = 0; draw < draws; draw += 4) {
    if (draw % CHUNK === 0) {
      options.onProgress?.(draw / draws);
      if (options.shouldStop?.()) return undefined;
    }
    fillNormal(four, uniform);
    for (let q = 0; q < count; q++) {
      let [a, b, c, d] = [likely[q]!, likely[q]!, likely[q]!, likely[q]!];
      const row = q * inputs;
      for (let k = 0; k < inputs; k++) {
        const weight = mixing[row + k]!;
        a += weight * four[4 * k]!;
        b += weight * four[4 * k + 1]!;
        c += weight * four[4 * k + 2]!;
        d += weight * four[4 * k + 3]!;
      }
      // Past the array's end nothing is kept.
      const values = drawn[q]!;
      values[draw] = a;
      values[draw + 1] = b;
      values[draw + 2] = c;
      values[draw + 3] = d;
    }
  }
  for (const values of drawn) values.sort();
  options.onProgress?.(1);

  const bands = weights.map((row, q): AngleBand => {
    const [middle, sd] = [likely[q] as number, deviation[q] as number];
    const values = drawn[q] as Float64Array;
    const [drawn68, drawn95] = [central(values, SHARE_68), central(values, SHARE_95)];
    const assumptionsRad = assumptions && assumptionWidth(assumptions, row);
    return {
      measuredRad: measured[q] as number,
      likelyRad: middle,
      readingRad: sd,
      drawn68,
      drawn95,
      normal68: { low: middle - QUANTILE_68 * sd, high: middle + QUANTILE_68 * sd },
      normal95: { low: middle - QUANTILE_95 * sd, high: middle + QUANTILE_95 * sd },
      assumptionsRad,
      // Ends of what is plausible are taken as a 95 % band, so that the 68 % one is narrower in the normal's proportion.
      combined68: widened(drawn68, middle, ((assumptionsRad ?? 0) * QUANTILE_68) / QUANTILE_95),
      combined95: widened(drawn95, middle, assumptionsRad ?? 0),
    };
  });
  const named = (name: keyof typeof places): AngleBand | undefined => {
    const place = places[name];
    return place === undefined ? undefined : bands[place];
  };
  return {
    ribs: ribs.map((rib, r) => ({ side: rib.side, rib: rib.rib, yM: rib.yM, ...(bands[r] as AngleBand) })),
    mean: named("mean"),
    left: named("left"),
    right: named("right"),
    leftLessRight: named("leftLessRight"),
    draws,
    largestDisagreement: bands.reduce((worst, { drawn95, normal95, readingRad }) => {
      if (readingRad === 0) return worst;
      const off = Math.max(Math.abs(drawn95.low - normal95.low), Math.abs(drawn95.high - normal95.high));
      return Math.max(worst, off / readingRad);
    }, 0),
  };
}

/** Every rib, then the means: weights over the ribs, and where the means stand. */
function combinations(ribs: readonly RibChange[], response: IncidenceResponse) {
  const chord = response.ribs.map((rib) => rib.chordM);
  const meanOver = (counts: (side: Side) => boolean): number[] => {
    const total = ribs.reduce((sum, rib, r) => sum + (counts(rib.side) ? (chord[r] as number) : 0), 0);
    return ribs.map((rib, r) => (counts(rib.side) ? (chord[r] as number) / total : 0));
  };
  const weights: number[][] = ribs.map((_, r) => ribs.map((__, s) => (r === s ? 1 : 0)));
  const places: Partial<Record<"mean" | "left" | "right" | "leftLessRight", number>> = {};
  const has = (side: Side): boolean => ribs.some((rib) => rib.side === side);
  const put = (name: keyof typeof places, row: number[]): void => {
    places[name] = weights.length;
    weights.push(row);
  };
  if (ribs.length > 0)
    put(
      "mean",
      meanOver(() => true),
    );
  for (const side of ["left", "right"] as const)
    if (has(side))
      put(
        side,
        meanOver((each) => each === side),
      );
  if (has("left") && has("right")) {
    const right = meanOver((side) => side === "right");
    put(
      "leftLessRight",
      meanOver((side) => side === "left").map((weight, r) => weight - (right[r] as number)),
    );
  }
  return { weights, places };
}

/** Weights over the ribs × response: every angle's answer to every line, the lines in the attribution's order. */
function onLines(
  weights: readonly (readonly number[])[],
  { lineKeys, matrix }: IncidenceResponse,
  attribution: Attribution,
): Float64Array {
  const column = new Map(lineKeys.map((key, c) => [key, c]));
  const lines = attribution.lines.length;
  const result = new Float64Array(weights.length * lines);
  weights.forEach((row, q) => {
    row.forEach((weight, r) => {
      if (weight === 0) return;
      attribution.lines.forEach(({ lineKey }, m) => {
        const c = column.get(lineKey);
        if (c !== undefined)
          result[q * lines + m] = result[q * lines + m]! + weight * matrix[r * lineKeys.length + c]!;
      });
    });
  });
  return result;
}

/**
 * What standard normal inputs do to every angle: through the roots of the lines' own blocks, then through what the lines
 * share (rates and common effects of the readings).
 */
function mixingOf(perLine: Float64Array, count: number, { posterior, lines }: Attribution): Float64Array {
  const n = lines.length;
  const p = posterior.model.effectCount;
  const inputs = n + p;
  const mixing = new Float64Array(count * inputs);
  for (let q = 0; q < count; q++) {
    let at = q * inputs;
    for (const { members, root } of posterior.blocks) {
      const k = members.length;
      for (let row = 0; row < k; row++) {
        let sum = 0;
        for (let i = 0; i <= row; i++) sum += root[row * k + i]! * perLine[q * n + members[i]!]!;
        mixing[at++] = sum;
      }
    }
    for (let a = 0; a < p; a++) {
      let sum = 0;
      for (let m = 0; m < n; m++) sum += perLine[q * n + m]! * posterior.shared[m * p + a]!;
      mixing[at++] = sum;
    }
  }
  return mixing;
}

/** Bounds of the central share of sorted values, between neighbours by proportion. */
function central(sorted: Float64Array, share: number): Interval {
  const at = (quantile: number): number => {
    const place = quantile * (sorted.length - 1);
    const below = Math.floor(place);
    const next = Math.min(below + 1, sorted.length - 1);
    return sorted[below]! + (place - below) * (sorted[next]! - sorted[below]!);
  };
  return { low: at((1 - share) / 2), high: at((1 + share) / 2) };
}

function widened({ low, high }: Interval, middle: number, halfWidth: number): Interval {
  return {
    low: middle - Math.hypot(Math.max(0, middle - low), halfWidth),
    high: middle + Math.hypot(Math.max(0, high - middle), halfWidth),
  };
}

/** An angle's share in each assumption's influence, the larger end of each, as the root of the sum of squares [rad]. */
function assumptionWidth({ influences }: IncidenceBand, row: readonly number[]): number {
  const weighted = (rad: readonly number[]): number =>
    row.reduce((sum, weight, r) => sum + weight * (rad[r] ?? 0), 0);
  return Math.hypot(
    ...influences.map(({ lowRad, highRad }) =>
      Math.max(Math.abs(weighted(lowRad)), Math.abs(weighted(highRad))),
    ),
  );
}

/** `+0.65°, in 95 of 100 cases between +0.48° and +0.81° (readings alone ±0.09°, the model's assumptions ±0.12°)`. */
export function sayBand(band: AngleBand): string {
  const { low, high } = band.combined95;
  const readings = (band.drawn95.high - band.drawn95.low) / 2;
  return say("diagnosis.band", {
    angle: signedDegrees(band.measuredRad),
    low: signedDegrees(low),
    high: signedDegrees(high),
    of: band.assumptionsRad === undefined ? "readings" : "both",
    readings: plainDegrees(readings),
    assumptions: plainDegrees(band.assumptionsRad ?? 0),
  });
}
