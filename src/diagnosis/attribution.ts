/**
 * Which line has changed by how much, and how well that is known: the posterior of every line's change from the paths that
 * were read and the lines that were read alone.
 *
 * A path's deviation is the sum of its lines' changes, plus what all readings share (zero, scale, tension: each with a
 * spread of its own, so that a uniform part isn't blindly given to the lines), plus the reading's own scatter. With the
 * prior of {@link ageingPrior} all is Gaussian and {@link posterior} exact.
 */
import type { Line, Wing } from "../plan/model.ts";
import type { Deviations } from "../readings/model.ts";
import type { PathUncertainties } from "../readings/uncertainty.ts";
import { type AgeingPrior, ageingPrior, DEFAULT_AGEING } from "./ageing-prior.ts";
import { partnersOf } from "./apart.ts";
import { residuals } from "./moments.ts";
import { type LinearReading, type Posterior, posterior, type Term } from "./posterior.ts";

/** How closely the measured state meets the totals, and the lines read alone, which give way where both can't be met [m]. */
const TOTAL_SIGMA = 0.0001;
const LINE_SIGMA = 0.0005;
/** Reading and resolution of a line read alone where nothing is said of them [m]; common practice, no source. */
const LINE_READING = 0.001;
/**
 * By how much a loop at a maillon may take up more or less than specified [m]: how snugly it lies, and now and then a step of
 * about 10 mm to another loop, which stays within two and a half of this. Common practice, no source.
 */
const LOOP_TAKE_UP = 0.004;

/** What the readings are taken to be uncertain by; {@link PathUncertainties} is one. */
export interface ReadingSpread {
  /** Standard uncertainty of each path's own, in the order of the wing's tabs; counted where the path was read [m]. */
  readonly ownM: ArrayLike<number>;
  readonly effects: readonly { readonly name: string; readonly loadingsM: ArrayLike<number> }[];
  /** Settings for lines read alone. */
  readonly settings?: Partial<
    Pick<PathUncertainties["settings"], "readingM" | "resolutionM" | "zeroM" | "scale">
  >;
}

/** How a line's change is known. */
export type Knowledge =
  | "read alone"
  /** The readings and the prior give it. */
  | "told apart"
  /** The readings give only its sum with its partners; how that divides is the prior's word. */
  | "not told apart"
  | "not read";

export interface LineAttribution {
  readonly lineKey: string;
  /** Most likely change of its length, of a line on a maillon that of its loop included [m]; negative is shorter. */
  readonly changeM: number;
  /** Standard deviation of that, and before any reading [m]. */
  readonly deviationM: number;
  readonly priorDeviationM: number;
  readonly knowledge: Knowledge;
  /** Lines that it can't be told apart from, singly or together, most correlated first. */
  readonly partners: readonly { readonly lineKey: string; readonly correlation: number }[];
}

/** Something shared: mean and standard deviation, in metres for common effects, in m per m for rates. */
export interface SharedEffect {
  readonly name: string;
  readonly mean: number;
  readonly deviation: number;
}

/** A reading against what the estimate says of it. */
export interface ReadingResidual {
  readonly kind: "tab" | "line";
  /** Tab key or line key. */
  readonly key: string;
  /** Read less estimated [m]. */
  readonly residualM: number;
  /** Over its own standard deviation; beyond 3 the reading is worth repeating. */
  readonly normalised: number;
}

/** Plain data: may cross a worker's boundary. */
export interface Attribution {
  /** In the wing's order. */
  readonly lines: readonly LineAttribution[];
  readonly rates: readonly SharedEffect[];
  /** What zero, scale and the like did to a typical path [m]. */
  readonly common: readonly SharedEffect[];
  readonly residuals: readonly ReadingResidual[];
  readonly prior: AgeingPrior;
  /** Members in the lines' order; effects: rates, then common ones. */
  readonly posterior: Posterior;
}

/**
 * Posterior of every line's change.
 *
 * @param uncertainty what the readings are uncertain by, as `readingUncertainty` gives it
 * @throws RangeError where a path was read with an uncertainty that isn't positive
 */
export function attribute(
  wing: Wing,
  deviations: Deviations,
  uncertainty: ReadingSpread,
  prior: AgeingPrior = DEFAULT_AGEING,
): Attribution {
  const { readings, sources, rates } = wingReadings(wing, deviations, uncertainty, prior);
  const before = ageingPrior(wing, prior);
  const effectCount = rates.length + uncertainty.effects.length;
  const result = posterior({
    spread: before.spreadM,
    memberEffects: before.lineEffects,
    effectCount,
    readings,
  });
  const partners = partnersOf(wing, deviations, result);
  const alone = new Set(deviations.lines.map((reading) => reading.lineKey));
  const read = new Set(
    wing.paths.flatMap((path, tab) => (deviations.paths[tab]?.deviationM === undefined ? [] : path.lineKeys)),
  );
  return {
    lines: wing.lines.map((line, m): LineAttribution => {
      const shared = partners[m] ?? [];
      return {
        lineKey: line.key,
        changeM: result.mean[m] as number,
        deviationM: result.deviation[m] as number,
        priorDeviationM: result.priorDeviation[m] as number,
        knowledge: alone.has(line.key)
          ? "read alone"
          : !read.has(line.key)
            ? "not read"
            : shared.length > 0
              ? "not told apart"
              : "told apart",
        partners: shared.map(({ index, coefficient }) => ({
          lineKey: wing.lines[index]?.key as string,
          correlation: coefficient,
        })),
      };
    }),
    rates: rates.map(({ name, rate }, k) => ({
      name,
      mean: rate * (result.effectMean[k] as number),
      deviation: rate * (result.effectDeviation[k] as number),
    })),
    common: uncertainty.effects.map(({ name, loadingsM }, c) => {
      const k = rates.length + c;
      const used = Array.from(loadingsM).filter((loading) => loading !== 0);
      const typical = used.reduce((sum, loading) => sum + loading, 0) / Math.max(1, used.length);
      return {
        name,
        mean: typical * (result.effectMean[k] as number),
        deviation: Math.abs(typical) * (result.effectDeviation[k] as number),
      };
    }),
    residuals: residuals(result).map(({ residual, normalised }, r) => ({
      ...(sources[r] as { kind: "tab" | "line"; key: string }),
      residualM: residual,
      normalised,
    })),
    prior,
    posterior: result,
  };
}

/**
 * Changes for the measured state: the most likely ones that make every path come out as read, to 0.2 mm, whatever the
 * uncertainty. The uniform part stays with the lines. Lines of paths that weren't read get what their row and their
 * shared lower lines suggest.
 *
 * @returns line key → change of its length [m]
 */
export function attributeChanges(
  wing: Wing,
  deviations: Deviations,
  prior: AgeingPrior = DEFAULT_AGEING,
): Map<string, number> {
  const exact: ReadingSpread = {
    ownM: new Float64Array(wing.paths.length).fill(TOTAL_SIGMA),
    effects: [],
    settings: { readingM: LINE_SIGMA, resolutionM: 0, zeroM: 0, scale: 0 },
  };
  const { readings, rates } = wingReadings(wing, deviations, exact, prior);
  const before = ageingPrior(wing, prior);
  const { mean } = posterior({
    spread: before.spreadM,
    memberEffects: before.lineEffects,
    effectCount: rates.length,
    readings,
  });
  return new Map(wing.lines.map((line, m) => [line.key, mean[m] as number]));
}

/** Bounds of the empirical estimate of τ [m per √m]. */
const LEAST_SPREAD = 0.0003;
const LARGEST_SPREAD = 0.006;

/**
 * τ from the readings themselves: the spread under which what was read is most likely (empirical Bayes), with the default
 * counted as one observation with a factor of two either way, so that few readings don't run away.
 *
 * @returns spread of a line's own change [m per √m], within 0.3 and 6 mm per √m
 */
export function estimateSpread(
  wing: Wing,
  deviations: Deviations,
  uncertainty: ReadingSpread,
  prior: AgeingPrior = DEFAULT_AGEING,
): number {
  const { readings, rates } = wingReadings(wing, deviations, uncertainty, prior);
  const before = ageingPrior(wing, prior);
  const effectCount = rates.length + uncertainty.effects.length;
  const likelihood = (logSpread: number): number => {
    const factor = Math.exp(logSpread) / prior.spread;
    const spread = before.spreadM.map((own) => own * factor);
    const { logEvidence } = posterior({ spread, memberEffects: before.lineEffects, effectCount, readings });
    return logEvidence - 0.5 * (Math.log(factor) / Math.LN2) ** 2;
  };
  return Math.exp(highest(likelihood, Math.log(LEAST_SPREAD), Math.log(LARGEST_SPREAD), 0.01));
}

/** Golden section: where a function with one top in the interval is highest. */
function highest(value: (x: number) => number, from: number, to: number, tolerance: number): number {
  const ratio = (Math.sqrt(5) - 1) / 2;
  let [a, b] = [from, to];
  let [c, d] = [b - ratio * (b - a), a + ratio * (b - a)];
  let [atC, atD] = [value(c), value(d)];
  while (b - a > tolerance) {
    if (atC > atD) {
      [b, d, atD] = [d, c, atC];
      c = b - ratio * (b - a);
      atC = value(c);
    } else {
      [a, c, atC] = [c, d, atD];
      d = a + ratio * (b - a);
      atD = value(d);
    }
  }
  return (a + b) / 2;
}

/**
 * What a reading of one line alone would be: its terms, and its own standard deviation [m].
 *
 * The change of a line on a maillon is that of what works in its paths, its loop included; read alone, the line is without
 * its loop. So the reading tells that change only to within what the loop may take up otherwise than specified.
 */
export function lineReadingTerms(
  lineIndex: number,
  { lengthM, hangsOn }: Pick<Line, "lengthM" | "hangsOn">,
  rateCount: number,
  uncertainty: ReadingSpread,
): { members: Term[]; effects: Term[]; deviation: number } {
  const {
    readingM = LINE_READING,
    resolutionM = LINE_READING,
    zeroM = 0,
    scale = 0,
  } = uncertainty.settings ?? {};
  const loading: Readonly<Record<string, number>> = { zero: zeroM, scale: scale * lengthM };
  return {
    members: [{ index: lineIndex, coefficient: 1 }],
    effects: uncertainty.effects.flatMap(({ name }, c) => {
      const coefficient = loading[name] ?? 0;
      return coefficient === 0 ? [] : [{ index: rateCount + c, coefficient }];
    }),
    // A resolution counts as rectangular over one step.
    deviation: Math.hypot(
      readingM,
      resolutionM / Math.sqrt(12),
      hangsOn.kind === "maillon" ? LOOP_TAKE_UP : 0,
    ),
  };
}

function wingReadings(wing: Wing, deviations: Deviations, uncertainty: ReadingSpread, prior: AgeingPrior) {
  const { effects: rates } = ageingPrior(wing, prior);
  const lineIndex = new Map(wing.lines.map((line, m) => [line.key, m]));
  const readings: LinearReading[] = [];
  const sources: { kind: "tab" | "line"; key: string }[] = [];
  wing.paths.forEach((path, tab) => {
    const value = deviations.paths[tab]?.deviationM;
    if (value === undefined) return;
    readings.push({
      members: path.lineKeys.map((key) => ({ index: lineIndex.get(key) as number, coefficient: 1 })),
      effects: uncertainty.effects.flatMap(({ loadingsM }, c) => {
        const coefficient = loadingsM[tab] ?? 0;
        return coefficient === 0 ? [] : [{ index: rates.length + c, coefficient }];
      }),
      value,
      deviation: uncertainty.ownM[tab] as number,
    });
    sources.push({ kind: "tab", key: path.tabKey });
  });
  for (const { lineKey, deviationM } of deviations.lines) {
    const index = lineIndex.get(lineKey);
    const line = index === undefined ? undefined : wing.lines[index];
    if (index === undefined || line === undefined) continue;
    readings.push({ ...lineReadingTerms(index, line, rates.length, uncertainty), value: deviationM });
    sources.push({ kind: "line", key: lineKey });
  }
  return { readings, sources, rates };
}
