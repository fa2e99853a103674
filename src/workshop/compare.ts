/**
 * Before and after: did each change do what it promised, and did anything move that shouldn't have?
 *
 * Two checks of the same wing are held against each other path by path. What a path was promised is the sum of the changes
 * made to its lines; what it did is its deviation after less its deviation before. The measuring point and the instrument's
 * zero may differ between the two days: that shows as a shift that all paths share, even those that nothing was done to. It's
 * estimated from those, told, and taken out where there are enough of them.
 */
import { robustMean } from "../diagnosis/robust.ts";
import type { Row, Side, Wing } from "../plan/model.ts";
import { normalQuantile } from "../readings/distributions.ts";
import type { Deviations } from "../readings/model.ts";
import {
  differenceWeights,
  meanWeights,
  type PathUncertainties,
  standardUncertainty,
  type TabWeights,
} from "../readings/uncertainty.ts";

/** One day's check: its deviations and how uncertain they are. */
export interface CheckedState {
  readonly deviations: Deviations;
  readonly uncertainties: PathUncertainties;
}

/** What was done to a line: by how much it was to get longer [m], and how well that is known. */
export interface PromisedChange {
  readonly lineKey: string;
  readonly changeM: number;
  readonly standardUncertaintyM: number;
}

export type Outcome =
  /** within its uncertainty of what was promised */
  | "as promised"
  /** off by more than its expanded uncertainty */
  | "otherwise"
  /** not read on both days */
  | "not read";

/** What a path, or the mean of the paths above a line, was promised and did. */
export interface Kept {
  readonly promisedM: number;
  /** After less before, less the shared shift where it's taken out; undefined where not read on both days. */
  readonly didM: number | undefined;
  /** Of did less promised: both days' readings and the promise itself [m]; undefined where not read on both days. */
  readonly standardUncertaintyM: number | undefined;
  readonly outcome: Outcome;
}

export interface PathComparison extends Kept {
  readonly tabKey: string;
  readonly side: Side;
  readonly row: Row;
  readonly beforeM: number | undefined;
  /** Before and what was promised. */
  readonly plannedM: number | undefined;
  readonly afterM: number | undefined;
}

export interface ChangeComparison extends Kept {
  readonly lineKey: string;
  /** Tabs above it that were read on both days. */
  readonly tabKeys: readonly string[];
}

export interface RowComparison {
  readonly row: Row;
  /** Means over the paths read in both checks [m]; undefined where there are none. */
  readonly beforeM: number | undefined;
  readonly plannedM: number | undefined;
  readonly afterM: number | undefined;
}

/** Plain data. */
export interface Comparison {
  /** In the wing's order. */
  readonly paths: readonly PathComparison[];
  /** One for every line that was changed, in the order given. */
  readonly changes: readonly ChangeComparison[];
  readonly rows: readonly RowComparison[];
  /** Paths that nothing was done to and that moved all the same, told so that a check in order names none in 19 of 20 cases. */
  readonly movedTabKeys: readonly string[];
  /** What all paths share that nothing was done to, after less before [m]; undefined where there are none. */
  readonly shiftM: number | undefined;
  /** Whether it was taken out of what every path did. */
  readonly shiftRemoved: boolean;
}

/** Fewest untouched paths for their shared shift to be taken out; an assumption. */
const ENOUGH_UNTOUCHED = 8;
/** Coverage factor of the expanded uncertainty: about 95 % (JCGM 100:2008, 6.2.2 and G.6.6). */
const COVERAGE = 2;
/** Share of checks in order in which some path is told to have moved. */
const FALSE_ALARM = 0.05;
/** Changes smaller than this are none [m]. */
const NOTHING = 1e-9;

/**
 * Holds the check after against the check before and what was done between them.
 *
 * A change is as promised where |did − promised| ≤ 2 u: the normalised error En of laboratory comparisons (ISO/IEC 17043,
 * B.3.1, from memory) is then at most 1. With twenty changes in order, one is likely told as otherwise all the same.
 *
 * The two days' common effects (zero, tension, measuring point) count as independent of each other, as the set-up is made
 * anew; with the shift taken out, what is common to all paths drops out of the uncertainty too.
 *
 * @param done lines whose loops were changed, or that were replaced; lines of other wings are a caller's mistake
 * @throws RangeError where a changed line isn't the wing's
 * @throws Error where a state isn't that of the wing
 */
export function compareChecks(
  wing: Wing,
  before: CheckedState,
  after: CheckedState,
  done: readonly PromisedChange[],
): Comparison {
  for (const state of [before, after])
    if (
      state.deviations.paths.length !== wing.paths.length ||
      state.uncertainties.tabKeys.length !== wing.paths.length
    )
      throw new Error(`The check isn't one of the wing "${wing.name}": its tabs are others.`);
  const known = new Set(wing.lines.map((line) => line.key));
  for (const { lineKey } of done)
    if (!known.has(lineKey)) throw new RangeError(`The wing "${wing.name}" has no line ${lineKey}.`);

  const changeOf = new Map<string, PromisedChange>();
  for (const change of done) changeOf.set(change.lineKey, change);
  const promises = wing.paths.map((path) =>
    path.lineKeys.flatMap((key) => {
      const change = changeOf.get(key);
      return change === undefined ? [] : [change];
    }),
  );
  const promisedM = promises.map((made) => made.reduce((sum, { changeM }) => sum + changeM, 0));
  const readTwice = wing.paths.flatMap((_, tab) =>
    before.deviations.paths[tab]?.deviationM === undefined ||
    after.deviations.paths[tab]?.deviationM === undefined
      ? []
      : [tab],
  );
  const rawM = (tab: number): number =>
    (after.deviations.paths[tab]?.deviationM as number) -
    (before.deviations.paths[tab]?.deviationM as number);
  const isMain = (tab: number): boolean => wing.paths[tab]?.row !== "brake";
  const untouched = readTwice.filter(
    (tab) => isMain(tab) && promises[tab]?.every(({ changeM }) => Math.abs(changeM) < NOTHING),
  );
  const shiftM = robustMean(untouched.map(rawM));
  const shiftRemoved = shiftM !== undefined && untouched.length >= ENOUGH_UNTOUCHED;

  /** What the mean over some tabs did, and the uncertainty of that less the promise. */
  const kept = (tabs: readonly number[]): Kept => {
    const mean = (valueM: (tab: number) => number): number =>
      tabs.reduce((sum, tab) => sum + valueM(tab), 0) / tabs.length;
    const promised = tabs.length === 0 ? 0 : mean((tab) => promisedM[tab] as number);
    const read = new Set(readTwice);
    if (tabs.length === 0 || tabs.some((tab) => !read.has(tab)))
      return {
        promisedM: promised,
        didM: undefined,
        standardUncertaintyM: undefined,
        outcome: "not read",
      };
    const removed = shiftRemoved && tabs.every(isMain);
    const didM = mean(rawM) - (removed ? (shiftM as number) : 0);
    const weights: TabWeights = removed
      ? differenceWeights(meanWeights(tabs), meanWeights(untouched))
      : meanWeights(tabs);
    const standardUncertaintyM = Math.hypot(
      standardUncertainty(before.uncertainties, weights),
      standardUncertainty(after.uncertainties, weights),
      promiseUncertainty(tabs, promises),
    );
    return {
      promisedM: promised,
      didM,
      standardUncertaintyM,
      outcome: Math.abs(didM - promised) <= COVERAGE * standardUncertaintyM ? "as promised" : "otherwise",
    };
  };

  const paths = wing.paths.map((path, tab): PathComparison => {
    const beforeM = before.deviations.paths[tab]?.deviationM;
    return {
      tabKey: path.tabKey,
      side: path.side,
      row: path.row,
      beforeM,
      plannedM: beforeM === undefined ? undefined : beforeM + (promisedM[tab] as number),
      afterM: after.deviations.paths[tab]?.deviationM,
      ...kept([tab]),
    };
  });
  const changes = done.map(({ lineKey, changeM }): ChangeComparison => {
    const above = readTwice.filter((tab) => wing.paths[tab]?.lineKeys.includes(lineKey));
    return {
      lineKey,
      tabKeys: above.map((tab) => wing.paths[tab]?.tabKey as string),
      ...(above.length === 0
        ? { promisedM: changeM, didM: undefined, standardUncertaintyM: undefined, outcome: "not read" }
        : kept(above)),
    };
  });
  const still = new Set(untouched);
  // Bonferroni: with many paths looked at, each must be the more out of the ordinary.
  const ordinary = normalQuantile(1 - FALSE_ALARM / (2 * Math.max(1, untouched.length)));
  return {
    paths,
    changes,
    rows: rowsOf(wing, paths, readTwice),
    movedTabKeys: paths.flatMap((path, tab) =>
      still.has(tab) &&
      Math.abs((path.didM ?? 0) - path.promisedM) > ordinary * (path.standardUncertaintyM ?? 0)
        ? [path.tabKey]
        : [],
    ),
    shiftM,
    shiftRemoved,
  };
}

/** Standard uncertainty of the mean promise over some tabs: one for every change, by how many of the tabs hang on it. */
function promiseUncertainty(
  tabs: readonly number[],
  promises: readonly (readonly PromisedChange[])[],
): number {
  const counts = new Map<PromisedChange, number>();
  for (const tab of tabs)
    for (const change of promises[tab] ?? []) counts.set(change, (counts.get(change) ?? 0) + 1);
  return Math.hypot(
    ...[...counts].map(([change, count]) => (change.standardUncertaintyM * count) / tabs.length),
  );
}

function rowsOf(wing: Wing, paths: readonly PathComparison[], readTwice: readonly number[]): RowComparison[] {
  return [...new Set(wing.paths.map((path) => path.row))].map((row) => {
    const of = readTwice.flatMap((tab) => {
      const path = paths[tab];
      return path?.row === row ? [path] : [];
    });
    const meanOf = (value: (path: PathComparison) => number | undefined): number | undefined =>
      robustMean(of.map((path) => value(path) as number));
    return {
      row,
      beforeM: meanOf((path) => path.beforeM),
      plannedM: meanOf((path) => path.plannedM),
      afterM: meanOf((path) => path.afterM),
    };
  });
}
