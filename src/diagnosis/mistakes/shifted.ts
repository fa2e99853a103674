/** Entries that slipped by one from some tab on: a missed call, or one reading entered twice. */
import { type Expectation, expectedReadingAt, logHonestAt, samplesOf } from "./expectation.ts";
import type { Layout } from "./layout.ts";
import type { Candidate, Concern } from "./model.ts";
import { logHonest, RATE } from "./plausible.ts";
import { fitRow } from "./row-fit.ts";
import { shiftSentence } from "./sentences.ts";

/** Fewer are told as readings at a wrong tab. */
const LEAST_RUN = 3;
/** How many readings must disagree with their row before a shift is looked for. */
const LEAST_ODD = 1;
/** How well a row's mirror tells its readings, while its own fit means nothing [m]. */
const ROUGH_SIGMA = 0.006;
/** Ends of a run are settled within so many entries either way. */
const REACH = 2;

interface Run {
  /** First and last position in the sequence. */
  readonly from: number;
  readonly to: number;
  /** Each reading belongs to the position this far on. */
  readonly by: 1 | -1;
}

export function shiftedCandidates(expectation: Expectation): Candidate[] {
  const { layout } = expectation;
  return layout.sequences.flatMap((sequence) => {
    if (oddIn(expectation, sequence) < LEAST_ODD) return [];
    // A run ends with a row at the latest where the next row's first call was right again.
    const found = ([1, -1] as const).flatMap((by) => roughRuns(expectation, sequence, by));
    return found.flatMap((run) => {
      const settled = settle(expectation, sequence, run);
      return settled ? [candidate(expectation, sequence, settled.run, settled.logOdds)] : [];
    });
  });
}

function oddIn(expectation: Expectation, sequence: readonly number[]): number {
  return sequence.filter((tab) => {
    const [value] = expectation.layout.valuesM[tab] ?? [];
    return (
      value !== undefined &&
      Math.abs(value - expectedReadingAt(expectation, tab)) > 4 * (expectation.sigmaM[tab] as number)
    );
  }).length;
}

/** What a tab should read while its own row may be worthless: by the mirror row, else as specified [m]. */
function roughlyExpected(expectation: Expectation, tab: number): number {
  const { layout, guesses } = expectation;
  const place = layout.places[tab] as Layout["places"][number];
  const guess = guesses.get(place.group);
  return place.shouldReadM + (guess ? guess.level + guess.slope * place.along : 0);
}

/** For every stretch the most telling run within it: the stretch whose sum of gains is largest, found in one pass (Kadane). */
function roughRuns(expectation: Expectation, sequence: readonly number[], by: 1 | -1): Run[] {
  const { layout } = expectation;
  const runs: { run: Run; gain: number }[] = [];
  let start = 0;
  let sum = 0;
  let best: { run: Run; gain: number } | undefined;
  const close = (): void => {
    if (best && best.run.to - best.run.from + 1 >= LEAST_RUN) runs.push(best);
    best = undefined;
    sum = 0;
  };
  sequence.forEach((tab, at) => {
    const other = sequence[at + by];
    const [value] = layout.valuesM[tab] ?? [];
    if (value === undefined) return;
    const here = Math.max(
      logHonest([value - roughlyExpected(expectation, tab)], ROUGH_SIGMA),
      logHonestAt(expectation, tab, [value]),
    );
    const gain =
      other === undefined ? -5 : logHonest([value - roughlyExpected(expectation, other)], ROUGH_SIGMA) - here;
    if (sum <= 0) {
      close();
      start = at;
    }
    sum += gain;
    if (!best || sum > best.gain) best = { run: { from: start, to: at, by }, gain: sum };
  });
  close();
  return runs
    .filter(({ gain }) => gain > 3)
    .sort((a, b) => b.gain - a.gain)
    .slice(0, 2)
    .map(({ run }) => run);
}

/** The run with its ends moved to where the rows, fitted anew, are most plausible. */
function settle(
  expectation: Expectation,
  sequence: readonly number[],
  rough: Run,
): { run: Run; logOdds: number } | undefined {
  const length = sequence.length;
  // From anywhere, on or back; mostly to the end of a row, where the next call puts it right, or else to anywhere.
  const group = (at: number): string | undefined => expectation.layout.places[sequence[at] as number]?.group;
  const isRowEnd = ({ to, by }: Run): boolean =>
    group(to) !== group(to + 1) || (by === 1 && group(to) !== group(to + 2));
  const prior = (run: Run): number =>
    Math.log((RATE.shifted / (2 * length)) * (isRowEnd(run) ? 0.5 : 0.5 / length));
  const weighed = new Map<string, number>();
  const weigh = (run: Run): number => {
    const name = `${run.from} ${run.to}`;
    const known = weighed.get(name);
    if (known !== undefined) return known;
    const gain = prior(run) + gainOf(expectation, sequence, run);
    weighed.set(name, gain);
    return gain;
  };
  const fits = (run: Run): boolean =>
    run.from >= 0 &&
    run.to < length &&
    run.to - run.from + 1 >= LEAST_RUN &&
    run.from + run.by >= 0 &&
    run.to + run.by < length;
  let best: { run: Run; logOdds: number } | undefined;
  const consider = (run: Run): void => {
    if (!fits(run)) return;
    const logOdds = weigh(run);
    if (!best || logOdds > best.logOdds) best = { run, logOdds };
  };
  for (let i = -REACH; i <= REACH; i++)
    for (let j = -REACH; j <= REACH; j++) consider({ ...rough, from: rough.from + i, to: rough.to + j });
  if (!best || best.logOdds < 0) return undefined;
  return best;
}

/** Values by tab once the run is put right. */
function moved(layout: Layout, sequence: readonly number[], run: Run): (readonly number[])[] {
  const values = layout.valuesM.map((of) => [...of]);
  for (let at = run.from; at <= run.to; at++) values[sequence[at] as number] = [];
  // The tab at the open end may have a reading of its own.
  for (let at = run.from; at <= run.to; at++)
    values[sequence[at + run.by] as number]?.push(...(layout.valuesM[sequence[at] as number] ?? []));
  return values;
}

/** How much more plausible the rows concerned become, each fitted anew. */
function gainOf(expectation: Expectation, sequence: readonly number[], run: Run): number {
  const { layout, guesses, sigmas, fits } = expectation;
  const values = moved(layout, sequence, run);
  const groups = new Set<string>();
  for (let at = run.from; at <= run.to; at++)
    for (const end of [at, at + run.by]) groups.add(layout.places[sequence[end] as number]?.group as string);
  let gain = 0;
  for (const group of groups) {
    const guess = guesses.get(group);
    const sigma = sigmas.get(group);
    // A row that gets its first reading only through the shift: told by its mirror alone, at no gain.
    if (!guess || sigma === undefined) continue;
    gain +=
      fitRow(samplesOf(layout, group, values), guess, sigma).logPosterior -
      (fits.get(group)?.logPosterior as number);
  }
  return gain;
}

function candidate(
  expectation: Expectation,
  sequence: readonly number[],
  run: Run,
  logOdds: number,
): Candidate {
  const { layout } = expectation;
  const concerns: Concern[] = [];
  for (let at = run.from; at <= run.to; at++) {
    const tab = sequence[at] as number;
    const belongs = sequence[at + run.by] as number;
    for (const readM of layout.valuesM[tab] ?? [])
      concerns.push({
        target: layout.places[tab]?.target as Concern["target"],
        readM,
        insteadM: undefined,
        belongsTo: layout.places[belongs]?.target as Concern["target"],
        expectedM: roughlyExpected(expectation, belongs),
      });
  }
  const first = concerns[0] as Concern;
  const last = concerns[concerns.length - 1] as Concern;
  return {
    kind: "entries shifted",
    concerns,
    logOdds,
    stepM: undefined,
    structural: true,
    unsure: false,
    sentence: shiftSentence(first.target, last.target, concerns.length, run.by === 1),
    correction: {
      kind: "edits",
      edits: concerns.map(({ target, readM, belongsTo }) => ({
        target,
        readM,
        to: { target: belongsTo, valueM: readM },
      })),
    },
  };
}
