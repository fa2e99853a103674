/**
 * What a row and side suggests for each of its tabs: a level, a trend along the span, and a step for a lower or middle line
 * whose tabs are off together, fitted so that wrong readings have no say.
 *
 * Most probable fit under densities that let go of a reading that is far out (`logHonest`). Started from the line through
 * every pair of readings (so half of the readings may be wrong: the search of P. J. Rousseeuw's least median of squares,
 * J. Am. Stat. Assoc. 79 (1984) 871–880, with a bounded loss in place of the median), then refined by reweighting.
 */
import { median } from "../rows.ts";
import { laplace, logHonest, logHonestOne, logNormal, logTailed, type Spread } from "./plausible.ts";

export interface Sample {
  readonly tab: number;
  /** −1 to 1. */
  readonly along: number;
  /** Deviation, the mean of repeats [m]: however often a tab was read, it is one line. */
  readonly value: number;
  /** Deviation of each repeat [m]. */
  readonly repeats: readonly number[];
  readonly shared: readonly number[];
}

export interface RowFit {
  /** At the middle of the row [m], and change from there to its outer end [m]. */
  readonly level: number;
  readonly slope: number;
  /** Steps of shared lines by their index [m]. */
  readonly steps: ReadonlyMap<number, number>;
  /** Covariance of level and slope [m²]: level², level·slope, slope². */
  readonly covariance: readonly [number, number, number];
  /** Variance of each step [m²]. */
  readonly stepVariance: ReadonlyMap<number, number>;
  /** Logarithm of the samples' density times that of the fit. */
  readonly logPosterior: number;
  /** Share of the readings that the fit explains as scatter, 0 to 1. */
  readonly agreeing: number;
  readonly count: number;
}

/** What is known of a row's level before its readings are looked at. */
export interface LevelGuess {
  readonly level: number;
  readonly slope: number;
  /** Whether it comes from the mirror row; otherwise it is no more than "about as specified". */
  readonly fromMirror: boolean;
  /** How much of the half-span the row covers, 0 to 1: a trend over a short row is small. */
  readonly cover: number;
}

/** Real rows shrink by centimetres, their two sides differ by millimetres, trends are small (common practice, no source) [m]. */
const LEVEL: Spread = { sigma: 0.012, share: 0.1, scale: 0.04 };
const LEVEL_TO_MIRROR: Spread = { sigma: 0.005, share: 0.05, scale: 0.02 };
const SLOPE: Spread = { sigma: 0.005, share: 0.1, scale: 0.01 };
const SLOPE_TO_MIRROR: Spread = { sigma: 0.0025, share: 0.05, scale: 0.008 };
/** A row may have been read from any other point: density of levels anywhere within a metre [1/m]. */
const ANYWHERE = 0.005;
/** A line below that is off for all its tabs: how often, and by how much [m]. */
const STEP = { share: 0.05, scale: 0.01 };
const MOST_STEPS = 4;
/** A reading's loss ends at this many nats: about where a real fault becomes the likelier tale. */
const LOSS_END = 7;
/** Pairs are drawn from at most so many samples. */
const MOST_STARTS = 16;

export function fitRow(samples: readonly Sample[], guess: LevelGuess, sigma: number): RowFit {
  const lowers = [...new Set(samples.flatMap((sample) => sample.shared))];
  let best: RowFit | undefined;
  const tried: { level: number; slope: number }[] = [];
  const consider = (level: number, slope: number): void => {
    // Starts this near to each other end at the same fit.
    const near = (one: { level: number; slope: number }): boolean =>
      Math.abs(one.level - level) + Math.abs(one.slope - slope) < sigma / 2;
    if (tried.some(near)) return;
    tried.push({ level, slope });
    const fit = refine(samples, level, slope, guess, sigma);
    if (!best || fit.logPosterior > best.logPosterior) best = fit;
  };
  consider(guess.level, guess.slope);
  // A reading by itself can't say whether it or its row's level is off.
  if (samples.length < 2) return best as unknown as RowFit;
  const start = bestPair(samples, guess, sigma);
  consider(start.level, start.slope);
  // A wrong loop on one of few lower lines would pass for a trend: try without each.
  for (const lower of lowers) {
    const others = samples.filter((sample) => !sample.shared.includes(lower));
    // Fewer than three are too few to tilt the rest.
    if (others.length < 2 || others.length > samples.length - 3) continue;
    const without = bestPair(others, guess, sigma);
    consider(without.level, without.slope);
  }
  return best as RowFit;
}

/** Value that the fit expects [m]. */
export function fittedAt(fit: RowFit, along: number, shared: readonly number[]): number {
  let value = fit.level + fit.slope * along;
  for (const line of shared) value += fit.steps.get(line) ?? 0;
  return value;
}

/** Variance of that value [m²]. */
export function fitVariance(fit: RowFit, along: number, shared: readonly number[]): number {
  const [level, both, slope] = fit.covariance;
  let variance = level + 2 * along * both + along * along * slope;
  for (const line of shared) variance += fit.stepVariance.get(line) ?? 0;
  return variance;
}

function logPrior(level: number, slope: number, guess: LevelGuess): number {
  const { levels, slopes } = spreadsOf(guess);
  return (
    Math.log(Math.exp(logTailed(level - guess.level, levels)) + ANYWHERE) +
    logTailed(slope - guess.slope, slopes)
  );
}

function spreadsOf({ fromMirror, cover }: LevelGuess): { levels: Spread; slopes: Spread } {
  const { sigma, share, scale } = fromMirror ? SLOPE_TO_MIRROR : SLOPE;
  return {
    levels: fromMirror ? LEVEL_TO_MIRROR : LEVEL,
    slopes: { sigma: cover * sigma, share, scale: cover * scale },
  };
}

/** Precision with which a guess holds a value that lies `off` from it: little where only the tails reach that far. */
function precision(off: number, spread: Spread, wide: number): number {
  const usual = (1 - spread.share) * Math.exp(logNormal(off, spread.sigma));
  const share = usual / (usual + spread.share * laplace(off, spread.scale) + ANYWHERE);
  return share / spread.sigma ** 2 + (1 - share) / wide ** 2;
}

function bestPair(
  samples: readonly Sample[],
  guess: LevelGuess,
  sigma: number,
): { level: number; slope: number } {
  const every = Math.max(1, Math.ceil(samples.length / MOST_STARTS));
  const ends = samples.filter((_, i) => i % every === 0);
  let best = { level: guess.level, slope: guess.slope };
  let least = Number.POSITIVE_INFINITY;
  const mostLikely = logPrior(guess.level, guess.slope, guess);
  const consider = (level: number, slope: number): void => {
    let loss = -mostLikely;
    for (const { along, value } of samples) {
      loss += Math.min(LOSS_END, 0.5 * ((value - level - slope * along) / sigma) ** 2);
      if (loss >= least) return;
    }
    loss += mostLikely - logPrior(level, slope, guess);
    if (loss >= least) return;
    least = loss;
    best = { level, slope };
  };
  consider(guess.level, guess.slope);
  ends.forEach((one, i) => {
    consider(one.value - guess.slope * one.along, guess.slope);
    for (const other of ends.slice(i + 1)) {
      if (one.along === other.along) continue;
      const slope = (other.value - one.value) / (other.along - one.along);
      consider(one.value - slope * one.along, slope);
    }
  });
  return best;
}

function refine(
  samples: readonly Sample[],
  level: number,
  slope: number,
  guess: LevelGuess,
  sigma: number,
): RowFit {
  const steps = new Map<number, number>();
  let current = { level, slope, covariance: [0, 0, 0] as [number, number, number], agreeing: 0 };
  const settle = (): void => {
    for (let i = 0; i < 3; i++) current = reweighted(samples, steps, current, guess, sigma);
  };
  settle();
  while (steps.size < MOST_STEPS) {
    const found = clearestStep(samples, steps, current, sigma);
    if (!found) break;
    steps.set(found.line, found.step);
    settle();
  }
  let logPosterior = logPrior(current.level, current.slope, guess);
  for (const sample of samples) {
    const residual = residualOf(sample, steps, current);
    logPosterior +=
      sample.repeats.length === 1
        ? logHonestOne(residual, sigma)
        : logHonest(
            sample.repeats.map((value) => value - sample.value + residual),
            sigma,
          );
  }
  const stepVariance = new Map<number, number>();
  for (const [line, step] of steps) {
    const count = samples.filter((sample) => sample.shared.includes(line)).length;
    stepVariance.set(line, sigma ** 2 / count);
    logPosterior += logStep(step, count, sigma);
  }
  return { ...current, steps, stepVariance, logPosterior, count: samples.length };
}

function residualOf(
  sample: Sample,
  steps: ReadonlyMap<number, number>,
  at: { level: number; slope: number },
): number {
  let residual = sample.value - at.level - at.slope * sample.along;
  for (const line of sample.shared) residual -= steps.get(line) ?? 0;
  return residual;
}

/** One step of iterated reweighting: each reading counts with the probability that it is as planned. */
function reweighted(
  samples: readonly Sample[],
  steps: ReadonlyMap<number, number>,
  at: { level: number; slope: number },
  guess: LevelGuess,
  sigma: number,
) {
  const { levels, slopes } = spreadsOf(guess);
  const levelPrecision = precision(at.level - guess.level, levels, 0.5);
  const slopePrecision = precision(at.slope - guess.slope, slopes, 2 * slopes.scale);
  let a = levelPrecision;
  let b = 0;
  let c = slopePrecision;
  let p = levelPrecision * guess.level;
  let q = slopePrecision * guess.slope;
  let agreeing = 0;
  for (const sample of samples) {
    const residual = residualOf(sample, steps, at);
    const usual = Math.exp(logNormal(residual, sigma) - logHonestOne(residual, sigma));
    const weight = Math.min(1, usual) / sigma ** 2;
    agreeing += Math.min(1, usual);
    const value = residual + at.level + at.slope * sample.along;
    a += weight;
    b += weight * sample.along;
    c += weight * sample.along ** 2;
    p += weight * value;
    q += weight * value * sample.along;
  }
  const determinant = a * c - b * b;
  return {
    level: (c * p - b * q) / determinant,
    slope: (a * q - b * p) / determinant,
    covariance: [c / determinant, -b / determinant, a / determinant] as [number, number, number],
    agreeing: samples.length === 0 ? 0 : agreeing / samples.length,
  };
}

/** What a step costs before it explains anything; the width over which the readings leave it open counts for it. */
function logStep(step: number, count: number, sigma: number): number {
  return Math.log(STEP.share * laplace(step, STEP.scale) * sigma * Math.sqrt((2 * Math.PI) / count));
}

/** The line below whose tabs are most clearly off together, if it makes the readings more plausible. */
function clearestStep(
  samples: readonly Sample[],
  steps: ReadonlyMap<number, number>,
  at: { level: number; slope: number },
  sigma: number,
): { line: number; step: number } | undefined {
  const off = samples.map((sample) => residualOf(sample, steps, at));
  // Where nothing is far off no line below can be.
  if (off.every((residual) => Math.abs(residual) < 1.5 * sigma)) return undefined;
  const members = new Map<number, number[]>();
  samples.forEach(({ shared }, i) => {
    for (const line of shared) {
      if (steps.has(line)) continue;
      const residuals = members.get(line);
      if (residuals) residuals.push(off[i] as number);
      else members.set(line, [off[i] as number]);
    }
  });
  let best: { line: number; step: number; gain: number } | undefined;
  for (const [line, residuals] of members) {
    if (residuals.length < 2) continue;
    const step = median(residuals) ?? 0;
    if (Math.abs(step) < 1.5 * sigma) continue;
    let gain = logStep(step, residuals.length, sigma);
    for (const residual of residuals)
      gain += logHonestOne(residual - step, sigma) - logHonestOne(residual, sigma);
    if (gain > 0 && (!best || gain > best.gain)) best = { line, step, gain };
  }
  return best;
}
