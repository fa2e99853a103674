/** What every tab of a check should read, going by the others: all rows and sides fitted, each held against its mirror. */
import { robustSigma } from "../robust.ts";
import { mean } from "../rows.ts";
import { deviationsAt, type Layout } from "./layout.ts";
import { logHonest, NO_BLUNDER } from "./plausible.ts";
import { fitRow, fittedAt, fitVariance, type LevelGuess, type RowFit, type Sample } from "./row-fit.ts";

export interface Expectation {
  readonly layout: Layout;
  /** By `left A`; only rows with readings. */
  readonly fits: ReadonlyMap<string, RowFit>;
  /** What each row was fitted from. */
  readonly guesses: ReadonlyMap<string, LevelGuess>;
  /** Scatter of a row's readings about its fit, by row and side [m]. */
  readonly sigmas: ReadonlyMap<string, number>;
  /** Expected deviation at each tab [m], and its standard deviation together with a reading's scatter [m]. */
  readonly expectedM: readonly number[];
  readonly sigmaM: readonly number[];
}

const FIRST_SIGMA = 0.0025;
/** Scatter is never taken for less: readings are whole millimetres, lines a little different; nor for more than this [m]. */
const LEAST_SIGMA = 0.001;
const MOST_SIGMA = 0.006;
/** A row's own scatter counts against the whole check's as if the latter came from this many readings. */
const SHARED_SCATTER_WEIGHT = 12;
/** Below this share of agreeing readings a row says nothing about its mirror. */
const LEAST_AGREEING = 0.6;

/** Least part of the half-span that a row counts as covering: tabs beside each other differ too. */
const LEAST_COVER = 0.25;

/**
 * Fits all rows, twice: each by itself, which yields the check's scatter (median absolute deviation); then with that scatter and
 * with its mirror row as a first guess.
 */
export function expect(layout: Layout): Expectation {
  const samples = new Map([...layout.groups.keys()].map((group) => [group, samplesOf(layout, group)]));
  const read = [...samples].filter(([, of]) => of.length > 0);
  let fits = new Map<string, RowFit>();
  let guesses = new Map<string, LevelGuess>(
    read.map(([group]) => [group, guessFor(layout, group, new Map())]),
  );
  let sigmas = new Map<string, number>(read.map(([group]) => [group, FIRST_SIGMA]));
  for (let round = 0; round < 2; round++) {
    if (round > 0) {
      guesses = new Map(read.map(([group]) => [group, guessFor(layout, group, fits)]));
      sigmas = scatter(samples, fits);
    }
    fits = new Map(
      read.map(([group, of]) => [
        group,
        fitRow(of, guesses.get(group) as LevelGuess, sigmas.get(group) as number),
      ]),
    );
  }
  const typical = sigmas.size === 0 ? FIRST_SIGMA : Math.max(...sigmas.values());
  const expectedM: number[] = [];
  const sigmaM: number[] = [];
  for (const place of layout.places) {
    const fit = fits.get(place.group);
    const guess = guessFor(layout, place.group, fits);
    if (fit) {
      expectedM.push(fittedAt(fit, place.along, place.shared));
      sigmaM.push(
        Math.sqrt((sigmas.get(place.group) as number) ** 2 + fitVariance(fit, place.along, place.shared)),
      );
    } else {
      expectedM.push(guess.level + guess.slope * place.along);
      sigmaM.push(Math.hypot(typical, guess.fromMirror ? 0.006 : 0.015));
    }
  }
  return { layout, fits, guesses, sigmas, expectedM, sigmaM };
}

/** The readings of one row and side, one sample a tab; of other values if given. */
export function samplesOf(layout: Layout, group: string, valuesM = layout.valuesM): readonly Sample[] {
  return (layout.groups.get(group) ?? []).flatMap((tab): Sample[] => {
    const repeats = deviationsAt(layout, tab, valuesM[tab]);
    const value = mean(repeats);
    if (value === undefined) return [];
    const { along, shared } = layout.places[tab] as Layout["places"][number];
    return [{ tab, along, value, repeats, shared }];
  });
}

function guessFor(layout: Layout, group: string, fits: ReadonlyMap<string, RowFit>): LevelGuess {
  const cover = Math.max(LEAST_COVER, layout.cover.get(group) ?? 0);
  const other = fits.get(
    group.startsWith("left") ? group.replace("left", "right") : group.replace("right", "left"),
  );
  if (!other || other.count < 2 || other.agreeing < LEAST_AGREEING)
    return { level: 0, slope: 0, fromMirror: false, cover };
  return { level: other.level, slope: other.slope, fromMirror: true, cover };
}

function scatter(
  samples: ReadonlyMap<string, readonly Sample[]>,
  fits: ReadonlyMap<string, RowFit>,
): Map<string, number> {
  const residuals = new Map<string, readonly number[]>();
  for (const [group, fit] of fits) {
    const of = samples.get(group) ?? [];
    // A line with steps through few readings lies nearer to them than to the truth.
    const free = of.length - 2 - fit.steps.size;
    if (free < 2) continue;
    const spread = Math.sqrt(of.length / free);
    residuals.set(
      group,
      of.map(({ along, shared, value }) => spread * (value - fittedAt(fit, along, shared))),
    );
  }
  const whole = robustSigma([...residuals.values()].flat(), 0) ?? FIRST_SIGMA;
  const common = Math.min(MOST_SIGMA, Math.max(LEAST_SIGMA, whole));
  return new Map(
    [...fits.keys()].map((group) => {
      const near = (residuals.get(group) ?? []).filter((residual) => Math.abs(residual) < 3 * common);
      const squares = near.reduce((sum, residual) => sum + residual ** 2, 0);
      return [
        group,
        Math.sqrt((SHARED_SCATTER_WEIGHT * common ** 2 + squares) / (SHARED_SCATTER_WEIGHT + near.length)),
      ];
    }),
  );
}

/** Log-density of values at a tab, without any mistake [m as typed]. */
export function logHonestAt(expectation: Expectation, tab: number, valuesM: readonly number[]): number {
  const expected = expectation.expectedM[tab] as number;
  return logHonest(
    deviationsAt(expectation.layout, tab, valuesM).map((deviation) => deviation - expected),
    expectation.sigmaM[tab] as number,
  );
}

/** Logarithm of how much likelier a plain blunder is than that the line really is as the values at a tab say. */
export function logPlainBlunder(expectation: Expectation, tab: number, valuesM: readonly number[]): number {
  const expected = expectation.expectedM[tab] as number;
  const residuals = deviationsAt(expectation.layout, tab, valuesM).map((deviation) => deviation - expected);
  const sigma = expectation.sigmaM[tab] as number;
  const real = logHonest(residuals, sigma, NO_BLUNDER);
  return Math.log(Math.expm1(Math.max(1e-12, logHonest(residuals, sigma) - real)));
}

/** How much more plausible a row becomes, fitted anew, with other values at some tabs [nats]. */
export function refitGain(
  expectation: Expectation,
  group: string,
  instead: ReadonlyMap<number, readonly number[]>,
): number {
  const { layout, fits, guesses, sigmas } = expectation;
  const [fit, guess, sigma] = [fits.get(group), guesses.get(group), sigmas.get(group)];
  if (!fit || !guess || sigma === undefined) return 0;
  const valuesM = layout.valuesM.map((values, tab) => instead.get(tab) ?? values);
  return fitRow(samplesOf(layout, group, valuesM), guess, sigma).logPosterior - fit.logPosterior;
}

/** What a tab should read [m]. */
export function expectedReadingAt(expectation: Expectation, tab: number): number {
  return (expectation.layout.places[tab]?.shouldReadM as number) + (expectation.expectedM[tab] as number);
}

/** How far a value at a tab is from what is expected there, in standard deviations. */
export function sigmasOff(expectation: Expectation, tab: number, valueM: number): number {
  return Math.abs(valueM - expectedReadingAt(expectation, tab)) / (expectation.sigmaM[tab] as number);
}
