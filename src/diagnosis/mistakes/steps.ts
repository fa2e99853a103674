/**
 * Whole rows, sides or checks that were read from another point: all their readings are off by one step.
 *
 * Rows are weighed by their levels alone. Really, rows differ by centimetres and their two sides by millimetres; a side as a
 * whole may be worse; brakes shrink most; all rows may have changed together. A step of less than some 30 to 50 mm on one row and
 * side is as likely real (loops were changed there) and isn't told.
 */
import { ROWS, type Row, SIDES, type Side } from "../../plan/model.ts";
import { median } from "../rows.ts";
import { sameTarget } from "./apply.ts";
import { type Expectation, expectedReadingAt } from "./expectation.ts";
import { deviationsAt, groupOf, type Layout } from "./layout.ts";
import type { Candidate, Concern, Correction } from "./model.ts";
import { LEAST_LOG_ODDS, logTailed, RATE } from "./plausible.ts";
import { datumSentence, type Scope, stepSentence } from "./sentences.ts";

interface Cell {
  readonly row: Row;
  readonly side: Side;
}

/** A row's typical deviation by `left A` [m]. */
type Levels = ReadonlyMap<string, number>;

/** Real differences: of rows from the rest, brakes from the rest, sides, a whole side, all together [m]. */
const REAL = {
  row: { sigma: 0.012, share: 0.05, scale: 0.02 },
  brake: { sigma: 0.03, share: 0.3, scale: 0.045 },
  sides: { sigma: 0.004, share: 0.02, scale: 0.01 },
  brakeSides: { sigma: 0.008, share: 0.05, scale: 0.02 },
  side: { sigma: 0.005, share: 0.05, scale: 0.01 },
  all: { sigma: 0.01, share: 0.1, scale: 0.02 },
};
/** Steps by mistake, evenly on a logarithmic scale [m]. */
const LEAST_STEP = 0.02;
const MOST_STEP = 0.8;
/** Half of the steps are a riser's length or the pulley's height, if the plan gives it. */
const KNOWN_SHARE = 0.5;
/** Readings of a row must agree about the step. */
const LEAST_AGREEING = 0.7;
/** A step by a known length is met within a few of these [m]. */
const KNOWN_SIGMA = 0.004;

const MOST_STEPS = 4;

export function stepCandidates(expectation: Expectation): Candidate[] {
  const { layout, fits } = expectation;
  const levels = new Map<string, number>();
  for (const [group, fit] of fits) {
    const values = (layout.groups.get(group) ?? []).flatMap((tab) => deviationsAt(layout, tab));
    const level = median(
      (layout.groups.get(group) ?? []).flatMap((tab) =>
        layout.valuesM[tab]?.length ? [expectation.expectedM[tab] as number] : [],
      ),
    );
    if (level !== undefined && values.length >= 2 && fit.agreeing >= LEAST_AGREEING) levels.set(group, level);
  }
  const told: Candidate[] = [];
  // One step at a time: what is left of the levels may hold another. Tales of the same round contradict each other, since a
  // left side read long and a right side read short look alike.
  for (let round = 0; round < MOST_STEPS; round++) {
    const found = stepsIn(expectation, levels).map((one) => ({ ...one, rivals: round }));
    const [best] = found
      .filter((one) => !told.some((other) => shareTabs(one, other)))
      .sort((a, b) => b.logOdds - a.logOdds);
    if (!best || best.logOdds < 0) break;
    told.push(...found);
    const groups = new Set(
      best.concerns.map(
        ({ target }) => layout.places.find((place) => sameTarget(place.target, target))?.group,
      ),
    );
    for (const group of groups)
      if (group !== undefined) levels.set(group, (levels.get(group) ?? 0) - (best.stepM as number));
  }
  return told;
}

function shareTabs(one: Candidate, other: Candidate): boolean {
  return one.concerns.some(({ target }) =>
    other.concerns.some((concern) => sameTarget(concern.target, target)),
  );
}

function stepsIn(expectation: Expectation, levels: Levels): Candidate[] {
  const cells = ROWS.flatMap((row) => SIDES.map((side) => ({ row, side }))).filter(({ row, side }) =>
    levels.has(groupOf(side, row)),
  );
  const rows = [...new Set(cells.map(({ row }) => row))];
  const before = logLevels(levels);
  const found: Candidate[] = [];
  const consider = (of: readonly Cell[], what: Scope, rate: number, width: number): void => {
    if (of.length > 0) found.push(...stepsOf(expectation, levels, before, of, what, rate, width));
  };
  for (const cell of cells)
    consider([cell], { scope: "row", ...cell }, RATE.rowFromElsewhere / cells.length, REAL.sides.sigma);
  for (const row of rows) {
    const both = cells.filter((cell) => cell.row === row);
    if (both.length === 2)
      consider(both, { scope: "both", row }, RATE.rowBothFromElsewhere / rows.length, REAL.row.sigma);
  }
  for (const side of SIDES) {
    const all = cells.filter((cell) => cell.side === side);
    if (all.length < 2 || all.length === cells.length) continue;
    consider(all, { scope: "side", side }, RATE.sideFromElsewhere / 4, REAL.side.sigma);
    const main = all.filter(({ row }) => row !== "brake");
    if (main.length > 1 && main.length < all.length)
      consider(main, { scope: "mainSide", side }, RATE.sideFromElsewhere / 4, REAL.side.sigma);
  }
  const main = cells.filter(({ row }) => row !== "brake");
  if (main.length > 1) {
    if (main.length < cells.length)
      consider(main, { scope: "main" }, RATE.checkFromElsewhere / 2, REAL.all.sigma);
    consider(cells, { scope: "all" }, RATE.checkFromElsewhere / 2, REAL.all.sigma);
    found.push(...datumCandidates(expectation, levels, before, main));
  }
  return found;
}

/** Log-density of rows' levels without any mistake. */
function logLevels(levels: Levels): number {
  const middle = (row: Row): number | undefined => {
    const both = SIDES.flatMap((side) => levels.get(groupOf(side, row)) ?? []);
    return both.length === 0 ? undefined : both.reduce((sum, level) => sum + level, 0) / both.length;
  };
  const difference = (row: Row): number | undefined => {
    const [left, right] = SIDES.map((side) => levels.get(groupOf(side, row)));
    return left === undefined || right === undefined ? undefined : left - right;
  };
  const main = ROWS.filter((row) => row !== "brake");
  const all = median(main.flatMap((row) => middle(row) ?? [])) ?? 0;
  const worseSide = median(main.flatMap((row) => difference(row) ?? [])) ?? 0;
  let log = logTailed(all, REAL.all) + logTailed(worseSide, REAL.side);
  for (const row of ROWS) {
    const level = middle(row);
    const apart = difference(row);
    if (level !== undefined)
      log += logTailed(level - (row === "brake" ? 0 : all), row === "brake" ? REAL.brake : REAL.row);
    if (apart !== undefined)
      log += logTailed(
        apart - (row === "brake" ? 0 : worseSide),
        row === "brake" ? REAL.brakeSides : REAL.sides,
      );
  }
  return log;
}

function stepsOf(
  expectation: Expectation,
  levels: Levels,
  before: number,
  cells: readonly Cell[],
  what: Scope,
  rate: number,
  width: number,
): Candidate[] {
  const { layout } = expectation;
  const found: Candidate[] = [];
  const without = (stepM: number): number => {
    const less = new Map(levels);
    for (const { row, side } of cells)
      less.set(groupOf(side, row), (levels.get(groupOf(side, row)) as number) - stepM);
    return logLevels(less) - before;
  };
  const step = freeStep(levels, cells);
  if (Math.abs(step) >= LEAST_STEP && Math.abs(step) <= MOST_STEP) {
    const density = (1 - KNOWN_SHARE) / (2 * Math.log(MOST_STEP / LEAST_STEP) * Math.abs(step));
    // The step is free, so the levels after it say nothing about its size: what they'd gain by fitting exactly is taken off.
    const logOdds = Math.log(rate * density * width * Math.sqrt(2 * Math.PI)) + without(step);
    if (logOdds > LEAST_LOG_ODDS) {
      const sentence = stepSentence(what, firstTarget(layout, cells), step, undefined);
      found.push(candidate(layout, expectation, cells, step, logOdds, sentence, undefined));
    }
  }
  const known = knownStep(layout, cells);
  if (known === undefined) return found;
  for (const stepM of [known.lengthM, -known.lengthM]) {
    if (Math.abs(stepM - step) > 0.06) continue;
    const logOdds = Math.log((rate * KNOWN_SHARE) / 2) + without(stepM);
    if (logOdds <= LEAST_LOG_ODDS) continue;
    const edits = concernsOf(layout, expectation, cells, stepM).map(({ target, readM }) => ({
      target,
      readM,
      to: { target, valueM: readM - stepM },
    }));
    const sentence = stepSentence(what, firstTarget(layout, cells), stepM, known.of);
    found.push(candidate(layout, expectation, cells, stepM, logOdds, sentence, { kind: "edits", edits }));
  }
  return found;
}

/** The step that the levels themselves suggest: against the other side, else against the other rows, else against the plan. */
function freeStep(levels: Levels, cells: readonly Cell[]): number {
  const covered = new Set(cells.map(({ row, side }) => groupOf(side, row)));
  const others = [...levels]
    .filter(([group]) => !covered.has(group) && !group.endsWith("brake"))
    .map(([, level]) => level);
  const rest = median(others) ?? 0;
  const steps = cells.map(({ row, side }) => {
    const mirror = groupOf(side === "left" ? "right" : "left", row);
    const against = covered.has(mirror) ? undefined : levels.get(mirror);
    return (levels.get(groupOf(side, row)) as number) - (against ?? (row === "brake" ? 0 : rest));
  });
  return median(steps) ?? 0;
}

/** A length of the plan that all these rows may have been read with or without. */
function knownStep(
  layout: Layout,
  cells: readonly Cell[],
): { lengthM: number; of: "pulley" | "riser" } | undefined {
  const lengths = cells.map((cell) => strapOf(layout, cell));
  const [first] = lengths;
  if (first === undefined || first <= 0 || lengths.some((length) => Math.abs(length - first) > KNOWN_SIGMA))
    return undefined;
  const brakes = cells.every(({ row }) => row === "brake");
  if (!brakes && cells.some(({ row }) => row === "brake")) return undefined;
  return { lengthM: first, of: brakes ? "pulley" : "riser" };
}

function strapOf(layout: Layout, { row, side }: Cell): number {
  const [tab] = layout.groups.get(groupOf(side, row)) ?? [];
  return tab === undefined ? 0 : (layout.places[tab]?.strapM ?? 0);
}

/** The whole check read from the riser's base though it says from the maillon, or the other way round. */
function datumCandidates(
  expectation: Expectation,
  levels: Levels,
  before: number,
  main: readonly Cell[],
): Candidate[] {
  const { layout } = expectation;
  const says = layout.check.from;
  const instead = says === "riser" ? "maillon" : "riser";
  const sign = says === "riser" ? -1 : 1;
  const less = new Map(levels);
  for (const cell of main) {
    const group = groupOf(cell.side, cell.row);
    less.set(group, (levels.get(group) as number) - sign * strapOf(layout, cell));
  }
  const logOdds = Math.log(RATE.checkFromElsewhere) + logLevels(less) - before;
  const strap = median(main.map((cell) => strapOf(layout, cell))) ?? 0;
  if (strap === 0 || logOdds <= LEAST_LOG_ODDS) return [];
  const sentence = datumSentence(says, firstTarget(layout, main));
  return [
    candidate(layout, expectation, main, sign * strap, logOdds, sentence, { kind: "datum", from: instead }),
  ];
}

function candidate(
  layout: Layout,
  expectation: Expectation,
  cells: readonly Cell[],
  stepM: number,
  logOdds: number,
  sentence: string,
  correction: Correction | undefined,
): Candidate {
  const concerns = concernsOf(layout, expectation, cells, stepM).map((concern) =>
    correction === undefined ? { ...concern, insteadM: undefined } : concern,
  );
  return {
    kind: "another point",
    concerns,
    logOdds,
    stepM,
    structural: false,
    unsure: correction === undefined,
    sentence,
    correction,
  };
}

function tabsOf(layout: Layout, cells: readonly Cell[]): number[] {
  return cells.flatMap(({ row, side }) => layout.groups.get(groupOf(side, row)) ?? []);
}

function firstTarget(layout: Layout, cells: readonly Cell[]): Concern["target"] {
  const read = tabsOf(layout, cells).find((tab) => (layout.valuesM[tab]?.length ?? 0) > 0) as number;
  return layout.places[read]?.target as Concern["target"];
}

function concernsOf(
  layout: Layout,
  expectation: Expectation,
  cells: readonly Cell[],
  stepM: number,
): Concern[] {
  return tabsOf(layout, cells).flatMap((tab) =>
    (layout.valuesM[tab] ?? []).map((readM) => {
      const target = layout.places[tab]?.target as Concern["target"];
      return {
        target,
        readM,
        insteadM: readM - stepM,
        belongsTo: target,
        expectedM: expectedReadingAt(expectation, tab) - stepM,
      };
    }),
  );
}
