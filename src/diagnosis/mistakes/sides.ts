/**
 * Left and right exchanged for a whole row, or for all that was read. Only a wing whose two sides are specified differently
 * can tell: on a symmetric plan the exchanged check is just as plausible, and nothing is said.
 */
import { ROWS, type Row } from "../../plan/model.ts";
import { type Expectation, expectedReadingAt, samplesOf } from "./expectation.ts";
import { groupOf, type Layout } from "./layout.ts";
import type { Candidate, Concern } from "./model.ts";
import { RATE } from "./plausible.ts";
import { fitRow, type LevelGuess } from "./row-fit.ts";
import { sidesSentence } from "./sentences.ts";

/** Sides specified alike within this can't tell [m]. */
const ALIKE = 0.003;

export function sidesCandidates(expectation: Expectation): Candidate[] {
  const { layout } = expectation;
  const uneven = ROWS.filter((row) => isUneven(layout, row));
  if (uneven.length === 0) return [];
  const found: Candidate[] = [];
  const consider = (rows: readonly Row[], of: Row | "all", rate: number): void => {
    const exchanged = exchange(layout, rows);
    let gain = 0;
    for (const row of rows)
      gain += pairPosterior(expectation, row, exchanged) - pairPosterior(expectation, row, layout.valuesM);
    const concerns = concernsOf(expectation, rows);
    found.push({
      kind: "sides swapped",
      concerns,
      logOdds: Math.log(rate) + gain,
      stepM: undefined,
      structural: true,
      unsure: false,
      sentence: sidesSentence(of),
      correction: {
        kind: "edits",
        edits: concerns.map(({ target, readM, belongsTo }) => ({
          target,
          readM,
          to: { target: belongsTo, valueM: readM },
        })),
      },
    });
  };
  for (const row of uneven) consider([row], row, RATE.sidesSwappedWhole / uneven.length);
  const read = ROWS.filter((row) =>
    rowTabs(layout, row).some((tab) => (layout.valuesM[tab]?.length ?? 0) > 0),
  );
  if (read.length > 1) consider(read, "all", RATE.sidesSwappedWhole);
  return found;
}

function rowTabs(layout: Layout, row: Row): number[] {
  return layout.places.flatMap((place, tab) => (place.row === row ? [tab] : []));
}

function isUneven(layout: Layout, row: Row): boolean {
  return rowTabs(layout, row).some((tab) => {
    const place = layout.places[tab] as Layout["places"][number];
    if (place.mirror === undefined || (layout.valuesM[tab]?.length ?? 0) === 0) return false;
    return Math.abs(place.shouldReadM - (layout.places[place.mirror]?.shouldReadM as number)) > ALIKE;
  });
}

/** Values by tab with left and right exchanged in some rows; a tab without a twin keeps its own. */
function exchange(layout: Layout, rows: readonly Row[]): (readonly number[])[] {
  return layout.valuesM.map((values, tab) => {
    const place = layout.places[tab] as Layout["places"][number];
    if (place.mirror === undefined || !rows.includes(place.row)) return values;
    return layout.valuesM[place.mirror] as readonly number[];
  });
}

/** Log-posterior of a row's two sides, the right held against the left. */
function pairPosterior(expectation: Expectation, row: Row, valuesM: readonly (readonly number[])[]): number {
  const { layout, sigmas } = expectation;
  const left = samplesOf(layout, groupOf("left", row), valuesM);
  const right = samplesOf(layout, groupOf("right", row), valuesM);
  const sigma = Math.max(
    sigmas.get(groupOf("left", row)) ?? 0,
    sigmas.get(groupOf("right", row)) ?? 0,
    0.001,
  );
  if (left.length === 0 && right.length === 0) return 0;
  const free: LevelGuess = {
    level: 0,
    slope: 0,
    fromMirror: false,
    cover: layout.cover.get(groupOf("left", row)) || 1,
  };
  const first = fitRow(left, free, sigma);
  const guess =
    left.length < 2 ? free : { ...free, level: first.level, slope: first.slope, fromMirror: true };
  return first.logPosterior + fitRow(right, guess, sigma).logPosterior;
}

function concernsOf(expectation: Expectation, rows: readonly Row[]): Concern[] {
  const { layout } = expectation;
  return rows.flatMap((row) =>
    rowTabs(layout, row).flatMap((tab) => {
      const place = layout.places[tab] as Layout["places"][number];
      const mirror = place.mirror;
      if (mirror === undefined) return [];
      return (layout.valuesM[tab] ?? []).map((readM) => ({
        target: place.target,
        readM,
        insteadM: undefined,
        belongsTo: layout.places[mirror]?.target as Concern["target"],
        expectedM: expectedReadingAt(expectation, mirror),
      }));
    }),
  );
}
