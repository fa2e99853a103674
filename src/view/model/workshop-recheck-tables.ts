/** Two checks held against each other, as tables and sentences. Lengths and degrees in words; differences are after less before. */
import type { Analysis } from "../../diagnosis/model.ts";
import type { Row, Side, Wing } from "../../plan/model.ts";
import {
  fromUnit,
  type Key,
  lengthNumber,
  say,
  signedLength,
  signedLengthNumber,
  speech,
} from "../../words/index.ts";
import { type ChangeComparison, type Comparison, type Kept, sayList } from "../../workshop/index.ts";
import { degreesText, rowName, sidedName, signedMm } from "./format.ts";
import { decisionGroups } from "./judging-decisions.ts";
import { COVERAGE } from "./judging-words.ts";
import type { Done } from "./workshop-recheck.ts";

/** How a change is marked: kept its promise, can't be told from nothing, came out otherwise, wasn't read. */
export type ChangeMark = "kept" | "open" | "otherwise" | "unread";

export interface ChangeRow {
  readonly lineKey: string;
  readonly name: string;
  readonly what: string;
  readonly promised: string;
  readonly did: string;
  /** Expanded, k = 2: "±1.8". */
  readonly known: string;
  readonly mark: ChangeMark;
  readonly verdict: string;
  /** Whether the readings look as if nothing had been done: it came out otherwise, and within its uncertainty of nothing. */
  readonly looksUndone: boolean;
  readonly paths: number;
}

const reachM = ({ standardUncertaintyM = 0 }: Kept): number => COVERAGE * standardUncertaintyM;

interface Verdict {
  readonly mark: ChangeMark;
  readonly verdict: Key;
  readonly looksUndone: boolean;
}

function verdictOf(change: ChangeComparison): Verdict {
  const { didM, promisedM, outcome } = change;
  if (didM === undefined || outcome === "not read")
    return { mark: "unread", verdict: "recheck.verdict.unread", looksUndone: false };
  if (outcome === "as promised")
    return Math.abs(promisedM) <= reachM(change)
      ? { mark: "open", verdict: "recheck.verdict.open", looksUndone: false }
      : { mark: "kept", verdict: "recheck.verdict.kept", looksUndone: false };
  if (Math.abs(didM) <= reachM(change))
    return { mark: "otherwise", verdict: "recheck.verdict.undone", looksUndone: true };
  const verdict =
    didM * promisedM < 0
      ? "recheck.verdict.other-way"
      : Math.abs(didM) > Math.abs(promisedM)
        ? "recheck.verdict.more"
        : "recheck.verdict.less";
  return { mark: "otherwise", verdict, looksUndone: false };
}

/** One row a change, in the wing's order. */
export function changeRows(
  comparison: Pick<Comparison, "changes">,
  done: readonly Done[],
): readonly ChangeRow[] {
  const of = new Map(done.map((change) => [change.lineKey, change]));
  return comparison.changes.map((change): ChangeRow => {
    const { mark, verdict, looksUndone } = verdictOf(change);
    return {
      lineKey: change.lineKey,
      name: of.get(change.lineKey)?.name ?? change.lineKey,
      what: of.get(change.lineKey)?.what ?? "",
      promised: signedMm(change.promisedM, 1),
      did: signedMm(change.didM, 1),
      known: knownText(change),
      paths: change.tabKeys.length,
      mark,
      verdict: say(verdict),
      looksUndone,
    };
  });
}

function knownText(kept: Kept): string {
  return kept.standardUncertaintyM === undefined ? "" : `±${lengthNumber(reachM(kept), 1)}`;
}

/** In one sentence what became of the changes; empty where there are none. */
export function changesSentence(rows: readonly ChangeRow[]): string {
  if (rows.length === 0) return "";
  const count = (mark: ChangeMark): number => rows.filter((row) => row.mark === mark).length;
  const otherwise = rows.filter(({ mark }) => mark === "otherwise");
  return say("recheck.changes.sentence", {
    kept: count("kept"),
    count: rows.length,
    otherwise: otherwise.length,
    names: sayList(otherwise.map(({ name }) => name)),
    open: count("open"),
    unread: count("unread"),
  });
}

/** What all paths share from one day to the other, in words. */
export function shiftSentence({ shiftM, shiftRemoved }: Pick<Comparison, "shiftM" | "shiftRemoved">): string {
  if (shiftM === undefined) return say("recheck.shift.unknown");
  return say("recheck.shift", { by: signedLength(shiftM, 1), removed: shiftRemoved ? "yes" : "no" });
}

/** Paths that moved though nothing was done to them, in words, with the lines that end at their tabs. */
export interface Moved {
  readonly sentence: string;
  readonly lineKeys: readonly string[];
  readonly count: number;
}

/** More names than the first are cut down to the second, and the rest counted. */
const FEW = 12;
const AMONG = 6;

export function movedOf(wing: Wing, { movedTabKeys }: Pick<Comparison, "movedTabKeys">): Moved {
  const tabs = new Map(wing.tabs.map((tab) => [tab.key, tab]));
  const moved = movedTabKeys.flatMap((key) => tabs.get(key) ?? []);
  const count = moved.length;
  if (count === 0) return { sentence: say("recheck.moved.none"), lineKeys: [], count };
  const names = moved.map((tab) => sidedName(tab.id, tab.side));
  const list = sayList(
    count > FEW ? [...names.slice(0, AMONG), say("recheck.moved.more", { count: count - AMONG })] : names,
  );
  return {
    sentence: say("recheck.moved", { count, names: list }),
    lineKeys: moved.map(({ lineKey }) => lineKey),
    count,
  };
}

export interface RowsRow {
  readonly row: Row;
  readonly name: string;
  readonly beforeM: number | undefined;
  /** Undefined where nothing was to be done, as it would be the same as before. */
  readonly plannedM: number | undefined;
  readonly afterM: number | undefined;
}

/** Means of the rows over the paths read on both days; rows without any are left out. */
export function rowsRows({ rows }: Pick<Comparison, "rows">, planned: boolean): readonly RowsRow[] {
  return rows
    .filter(({ beforeM, afterM }) => beforeM !== undefined && afterM !== undefined)
    .map(({ row, beforeM, plannedM, afterM }) => ({
      row,
      name: rowName(row),
      beforeM,
      plannedM: planned ? plannedM : undefined,
      afterM,
    }));
}

/** Ends of an axis that holds some rows and zero with a little room, rounded out to 5 mm or 0.2 in [m]. */
export function rowsAxis(rows: readonly RowsRow[]): readonly [number, number] {
  const values = rows.flatMap(({ beforeM = 0, plannedM = 0, afterM = 0 }) => [beforeM, plannedM, afterM]);
  const low = 1.06 * Math.min(-0.004, ...values);
  const high = 1.06 * Math.max(0.004, ...values);
  const step = fromUnit(speech().unit === "in" ? 0.2 : 5);
  return [Math.floor(low / step) * step, Math.ceil(high / step) * step];
}

/** Brakes that are off by far more than the rows would squeeze them all: they get an axis of their own. */
export function apartRows(rows: readonly RowsRow[]): readonly (readonly RowsRow[])[] {
  const main = rows.filter(({ row }) => row !== "brake");
  const brakes = rows.filter(({ row }) => row === "brake");
  const largest = (of: readonly RowsRow[]): number =>
    Math.max(0, ...of.flatMap(({ beforeM = 0, afterM = 0 }) => [Math.abs(beforeM), Math.abs(afterM)]));
  if (brakes.length === 0 || main.length === 0 || largest(brakes) <= 1.5 * Math.max(0.005, largest(main)))
    return [rows];
  return [main, brakes];
}

export interface AngleRow {
  readonly id: "all" | Side;
  readonly name: string;
  readonly before: string;
  readonly planned: string | undefined;
  readonly after: string;
}

type Angles = Pick<Analysis, "meanIncidenceRad" | "leftIncidenceRad" | "rightIncidenceRad">;

/** Mean incidence change of the whole wing and of each side, in each state. */
export function angleRows(before: Angles, planned: Angles | undefined, after: Angles): readonly AngleRow[] {
  const rows = [
    ["all", "meanIncidenceRad"],
    ["left", "leftIncidenceRad"],
    ["right", "rightIncidenceRad"],
  ] as const;
  return rows
    .filter(([, key]) => before[key] !== undefined || after[key] !== undefined)
    .map(([id, key]) => ({
      id,
      name: id === "all" ? say("recheck.angle.all") : say("recheck.angle.side", { side: id }),
      before: degreesText(before[key]),
      planned: planned === undefined ? undefined : degreesText(planned[key]),
      after: degreesText(after[key]),
    }));
}

export interface LimitRow {
  readonly name: string;
  /** How many, before and after. */
  readonly out: readonly [number, number];
  readonly undecided: readonly [number, number];
  readonly conforms: readonly [number, number];
}

/** What is held against its limit, by kind; a last row for all of it. Empty where one of the checks isn't judged. */
export function limitRows(
  wing: Wing,
  before: Pick<Analysis, "assessment">,
  after: Pick<Analysis, "assessment">,
): readonly LimitRow[] {
  if (before.assessment === undefined || after.assessment === undefined) return [];
  const [one, other] = [decisionGroups(wing, before.assessment), decisionGroups(wing, after.assessment)];
  const titles = [...new Set([...one, ...other].map(({ title }) => title))];
  const count = (groups: typeof one, title: string, outcome: keyof (typeof one)[number]["count"]): number =>
    groups.find((group) => group.title === title)?.count[outcome] ?? 0;
  const row = (title: string): LimitRow => ({
    name: title,
    out: [count(one, title, "does not conform"), count(other, title, "does not conform")],
    undecided: [count(one, title, "undecided"), count(other, title, "undecided")],
    conforms: [count(one, title, "conforms"), count(other, title, "conforms")],
  });
  const rows = titles.map(row);
  const sum = (of: "out" | "undecided" | "conforms"): readonly [number, number] => [
    rows.reduce((total, each) => total + each[of][0], 0),
    rows.reduce((total, each) => total + each[of][1], 0),
  ];
  return [
    ...rows,
    {
      name: say("recheck.limits.all"),
      out: sum("out"),
      undecided: sum("undecided"),
      conforms: sum("conforms"),
    },
  ];
}

export const PATH_COLUMNS = ["tab", "before", "planned", "after", "difference"] as const;
export type PathColumn = (typeof PATH_COLUMNS)[number];

export interface PathRow {
  readonly tabKey: string;
  readonly name: string;
  /** The line that ends at the tab. */
  readonly lineKey: string;
  /** Place in the wing's order. */
  readonly tab: number;
  readonly before: number | undefined;
  readonly planned: number | undefined;
  readonly after: number | undefined;
  /** Did less promised, the shared shift taken out where it is [m]. */
  readonly difference: number | undefined;
  readonly known: string;
  /** Whether the difference is beyond its uncertainty. */
  readonly otherwise: boolean;
}

/** All paths, in the wing's order [m]. */
export function pathRows(wing: Wing, { paths }: Pick<Comparison, "paths">): readonly PathRow[] {
  const tabs = new Map(wing.tabs.map((tab) => [tab.key, tab]));
  return paths.flatMap((path, tab): PathRow[] => {
    const at = tabs.get(path.tabKey);
    if (at === undefined) return [];
    return [
      {
        tabKey: path.tabKey,
        name: sidedName(at.id, at.side),
        lineKey: at.lineKey,
        tab,
        before: path.beforeM,
        planned: path.plannedM,
        after: path.afterM,
        difference: path.didM === undefined ? undefined : path.didM - path.promisedM,
        known: knownText(path),
        otherwise: path.outcome === "otherwise",
      },
    ];
  });
}

/** By one column; what wasn't read comes last either way, and differences go by their size. */
export function sortedPaths(
  rows: readonly PathRow[],
  by: PathColumn,
  descending: boolean,
): readonly PathRow[] {
  const figureOf = (row: PathRow): number | undefined =>
    by === "difference" && row.difference !== undefined ? Math.abs(row.difference) : row[by];
  return [...rows].sort((a, b) => {
    const [x, y] = [figureOf(a), figureOf(b)];
    if (x === undefined || y === undefined) return x === y ? a.tab - b.tab : x === undefined ? 1 : -1;
    return (descending ? y - x : x - y) || a.tab - b.tab;
  });
}

/** "+3.1 ±1.9" in the unit that is set; an en dash where it wasn't read twice. */
export function differenceText({ difference, known }: PathRow): string {
  return difference === undefined ? "–" : `${signedLengthNumber(difference, 1)} ${known}`;
}
