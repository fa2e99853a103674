/**
 * A wing's rows over its checks: mean deviation by row and side with its uncertainty, by date and by flight hours. All checks are
 * held against one plan. Where lines or loops were changed between two checks, the series is cut.
 */
import { robustMean, robustUncertainty } from "../diagnosis/robust.ts";
import { measuredValues } from "../diagnosis/rows.ts";
import { ROWS, type Row, SIDES, type Side, type Wing } from "../plan/index.ts";
import {
  type Check,
  type Deviations,
  deviations as deviationsOf,
  differenceWeights,
  meanWeights,
  type PathUncertainties,
  type ReadingUncertainty,
  readingUncertainty,
} from "../readings/index.ts";
import { type Comparison, compareChecks, type PromisedChange } from "../workshop/index.ts";
import { dayNumber, type HoursThen, hoursOn } from "./hours.ts";
import type { FlightHours } from "./model.ts";
import { touches, type Work } from "./works.ts";

export interface DatedCheck {
  /** The kept check's id. */
  readonly id: string;
  readonly check: Check;
}

export interface HistoryInput {
  readonly wing: Wing;
  /** Of one day in the order in which they were read. */
  readonly checks: readonly DatedCheck[];
  readonly hours: readonly Pick<FlightHours, "day" | "totalHours">[];
  readonly works: readonly Work[];
  /** What is known better of the readings' uncertainty than the checks say. */
  readonly settings?: Partial<ReadingUncertainty> | undefined;
}

export interface CheckThen {
  readonly id: string;
  /** ISO date, and the same as days since 1970-01-01. */
  readonly date: string;
  readonly day: number;
  /** Undefined where no entries tell. */
  readonly hours: HoursThen | undefined;
  readonly deviations: Deviations;
  readonly uncertainties: PathUncertainties;
}

/** One check's mean of a row. */
export interface RowPoint {
  readonly checkId: string;
  readonly date: string;
  readonly day: number;
  readonly hours: number | undefined;
  /** Robust mean of the paths read, measured − specified; less that of the other row where the series is against one [m]. */
  readonly meanM: number;
  readonly standardUncertaintyM: number;
  /** How many paths were read. */
  readonly paths: number;
  /** Counts up where lines or loops of the row were changed since the check before. */
  readonly stretch: number;
}

export interface RowSeries {
  readonly row: Row;
  /** Undefined for both sides together. */
  readonly side: Side | undefined;
  /** A row behind it, whose mean is taken off: what tips the profile, and what an instrument's zero drops out of. */
  readonly against: Row | undefined;
  /** By date; checks in which none of the row was read are left out. */
  readonly points: readonly RowPoint[];
  /** Whether lines or loops of it were changed after the last point: where it stands now wasn't measured. */
  readonly changedSince: boolean;
}

/** What a series is of. */
type Kind = Omit<RowSeries, "points" | "changedSince">;

export interface History {
  readonly wing: Wing;
  /** By date. */
  readonly checks: readonly CheckThen[];
  /** By row, both sides together, then left and right; then A to D against each other, both sides together. */
  readonly series: readonly RowSeries[];
}

/**
 * The wing's history.
 *
 * Work on the day of a check counts as done after it, as the bench's book does; of several checks on that day, after the
 * first and before the last. Means of one row take in the paths that were read in each check, which may not be the same.
 *
 * @throws RangeError for a check without an ISO date
 */
export function historyOf({ wing, checks, hours, works, settings }: HistoryInput): History {
  const then = checks
    .map(({ id, check }): CheckThen => {
      const deviations = deviationsOf(wing, check);
      return {
        id,
        date: check.date,
        day: dayNumber(check.date),
        hours: hoursOn(hours, check.date),
        deviations,
        uncertainties: readingUncertainty(wing, check, deviations, settings),
      };
    })
    .sort((a, b) => a.day - b.day);
  const touching = works.map((work) => ({ day: dayNumber(work.day), touches: touches(wing, work) }));
  const rows = ROWS.filter((row) => wing.paths.some((path) => path.row === row));
  const main = (["A", "B", "C", "D"] as const).filter((row) => rows.includes(row));
  const kinds: readonly Kind[] = [
    ...rows.flatMap((row) => [undefined, ...SIDES].map((side) => ({ row, side, against: undefined }))),
    ...main.flatMap((row, place) =>
      main.slice(place + 1).map((against) => ({ row, side: undefined, against })),
    ),
  ];
  return {
    wing,
    checks: then,
    series: kinds.map((kind): RowSeries => {
      const { row, side, against } = kind;
      const workDays = touching
        .filter((work) => work.touches(row, side) || (against !== undefined && work.touches(against, side)))
        .map(({ day }) => day);
      const points = pointsOf(then, kind, workDays);
      const changedSince = workDays.some((work) => liesBetween(work, points, Number.POSITIVE_INFINITY));
      return { ...kind, points, changedSince };
    }),
  };
}

function pointsOf(
  checks: readonly CheckThen[],
  { row, side, against }: Kind,
  workDays: readonly number[],
): readonly RowPoint[] {
  const points: RowPoint[] = [];
  for (const { id, date, day, hours, deviations, uncertainties } of checks) {
    const tabsOf = (wanted: Row): readonly number[] =>
      deviations.paths.flatMap((path, tab) =>
        path.row === wanted && (side === undefined || path.side === side) && path.deviationM !== undefined
          ? [tab]
          : [],
      );
    const meanOf = (tabs: readonly number[]): number | undefined =>
      robustMean(measuredValues(tabs.flatMap((tab) => deviations.paths[tab] ?? [])));
    const own = tabsOf(row);
    const other = against === undefined ? [] : tabsOf(against);
    const [ownM, otherM] = [meanOf(own), against === undefined ? 0 : meanOf(other)];
    if (ownM === undefined || otherM === undefined) continue;
    const last = points.at(-1);
    const cut = last !== undefined && workDays.some((work) => liesBetween(work, points, day));
    points.push({
      checkId: id,
      date,
      day,
      hours: hours?.total,
      meanM: ownM - otherM,
      standardUncertaintyM: robustUncertainty(
        uncertainties,
        against === undefined
          ? [meanWeights(own)]
          : [meanWeights(own), differenceWeights(new Map(), meanWeights(other))],
      ),
      paths: own.length + other.length,
      stretch: last === undefined ? 0 : last.stretch + (cut ? 1 : 0),
    });
  }
  return points;
}

/** Whether work of a day was done between the last point and a check after it. */
function liesBetween(work: number, points: readonly RowPoint[], day: number): boolean {
  const [before, last] = [points.at(-2), points.at(-1)];
  if (last === undefined || last.day > work) return false;
  if (work === day) return last.day === work;
  // After a second check of its day it's done.
  return work < day && !(last.day === work && before?.day === work);
}

/**
 * Any two checks of a history held against each other, the earlier one first.
 *
 * @param done what was done between them, where it is known: see `compareChecks`
 * @throws RangeError for a check that the history doesn't have
 */
export function compareTwo(
  history: History,
  one: string,
  other: string,
  done: readonly PromisedChange[] = [],
): Comparison & { readonly before: CheckThen; readonly after: CheckThen } {
  const [before, after] = history.checks.filter(({ id }) => id === one || id === other);
  if (before === undefined || after === undefined)
    throw new RangeError(`Got checks ${one} and ${other} when two checks of the history were expected.`);
  return { ...compareChecks(history.wing, before, after, done), before, after };
}
