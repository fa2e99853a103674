/** A check's decisions as a table: grouped, in plain words, gravest groups first. */
import type { Assessed, Assessment } from "../../diagnosis/assess.ts";
import type { Limits } from "../../diagnosis/conformance.ts";
import type { Decision, Outcome } from "../../diagnosis/conformity.ts";
import type { Row, Side, Wing } from "../../plan/model.ts";
import { type Key, say } from "../../words/index.ts";

export type DecisionFilter = "all" | "does not conform" | "undecided";
export const DECISION_FILTERS: readonly DecisionFilter[] = ["does not conform", "undecided", "all"];

export interface DecisionEntry {
  readonly id: string;
  readonly subject: string;
  /** The subject without its side, where a heading has said that. */
  readonly brief: string;
  readonly valueM: number;
  readonly standardUncertaintyM: number;
  readonly limits: Limits;
  readonly decision: Decision;
  readonly tabKeys: readonly string[];
  /** Lines of all paths concerned. */
  readonly lineKeys: readonly string[];
  /** Of the path or pair. */
  readonly row: Row | undefined;
  /** Undefined where both sides are compared. */
  readonly side: Side | undefined;
  /** True where the value is a deviation or a difference of deviations, false for a length such as the free travel. */
  readonly isDeviation: boolean;
}

export interface DecisionGroup {
  readonly id: string;
  readonly title: string;
  /** What the group's values are. */
  readonly about: string;
  readonly entries: readonly DecisionEntry[];
  readonly count: Readonly<Record<Outcome, number>>;
  /** Ends of a common axis for the group [m]. */
  readonly axisM: readonly [number, number];
}

/** Brake paths stand apart: where they have shrunk, a common scale would squeeze all others. */
const GROUPS: readonly {
  readonly id: string;
  readonly kind: Assessed["kind"];
  readonly title: Key;
  readonly about: Key;
  readonly brakes?: boolean;
}[] = [
  {
    id: "brake travel",
    kind: "brake travel",
    title: "judging.group.travel",
    about: "judging.group.travel.about",
  },
  { id: "rows", kind: "rows", title: "judging.group.rows", about: "judging.group.rows.about" },
  { id: "sides", kind: "sides", title: "judging.group.sides", about: "judging.group.sides.about" },
  { id: "pairs", kind: "pair", title: "judging.group.pairs", about: "judging.group.pairs.about" },
  {
    id: "paths",
    kind: "path",
    title: "judging.group.paths",
    about: "judging.group.paths.about",
    brakes: false,
  },
  {
    id: "brake paths",
    kind: "path",
    title: "judging.group.brake-paths",
    about: "judging.group.paths.about",
    brakes: true,
  },
];

/** All decisions of an assessment; groups without any are left out. */
export function decisionGroups(wing: Wing, assessment: Assessment): readonly DecisionGroup[] {
  const tabIds = new Map(wing.tabs.map((tab) => [tab.key, tab.id]));
  const pathLines = new Map(wing.paths.map((path) => [path.tabKey, path.lineKeys]));
  return GROUPS.flatMap(({ id, kind, title, about, brakes }): DecisionGroup[] => {
    const entries = assessment.assessed
      .filter((each) => each.kind === kind && (brakes === undefined || (each.rows[0] === "brake") === brakes))
      .map(
        (each): DecisionEntry => ({
          id: `${kind}: ${each.rows.join(" ")} ${each.side ?? "both"} ${each.tabKeys[0] ?? ""}`,
          subject: subjectOf(each, tabIds),
          brief: (kind === "path" && tabIds.get(each.tabKeys[0] ?? "")) || subjectOf(each, tabIds),
          valueM: each.valueM,
          standardUncertaintyM: each.standardUncertaintyM,
          limits: each.limits,
          decision: each.decision,
          tabKeys: each.tabKeys,
          lineKeys: [...new Set(each.tabKeys.flatMap((key) => pathLines.get(key) ?? []))],
          row: each.rows[0],
          side: each.side,
          isDeviation: kind !== "brake travel",
        }),
      );
    if (entries.length === 0) return [];
    return [
      {
        id,
        title: say(title),
        about: say(about),
        entries,
        count: countOutcomes(entries),
        axisM: axisOf(entries),
      },
    ];
  });
}

/** Groups with only what the filter lets through; empty ones are left out. */
export function filterDecisions(
  groups: readonly DecisionGroup[],
  filter: DecisionFilter,
): readonly DecisionGroup[] {
  if (filter === "all") return groups;
  return groups
    .map((group) => ({
      ...group,
      entries: group.entries.filter(({ decision }) => decision.outcome === filter),
    }))
    .filter(({ entries }) => entries.length > 0);
}

/** Entries of one row and side, the worst first. */
export interface DecisionFold {
  readonly id: string;
  /** "Row C left". */
  readonly title: string;
  readonly entries: readonly DecisionEntry[];
  readonly count: Readonly<Record<Outcome, number>>;
}

/** As many entries are looked over at once; a longer group is folded by row and side. */
const FEW = 8;
/** As many of a folded group stand above its folds. */
const WORST = 3;

/** By how much a value is beyond its limit; negative inside, by the distance to the nearer limit [m]. */
export function beyondM({
  valueM,
  limits: { lower, upper },
}: Pick<DecisionEntry, "valueM" | "limits">): number {
  return Math.max(
    lower === undefined ? Number.NEGATIVE_INFINITY : lower - valueM,
    upper === undefined ? Number.NEGATIVE_INFINITY : valueM - upper,
  );
}

/**
 * A long group as its few worst entries and folds by row and side, those first that hold the worst. The folds hold every
 * entry, the few worst too. A short group isn't folded: no folds, and nothing set apart.
 */
export function foldDecisions(group: Pick<DecisionGroup, "id" | "entries">): {
  readonly worst: readonly DecisionEntry[];
  readonly folds: readonly DecisionFold[];
} {
  if (group.entries.length <= FEW) return { worst: [], folds: [] };
  const ordered = [...group.entries].sort((a, b) => beyondM(b) - beyondM(a));
  const parts = new Map<string, DecisionEntry[]>();
  for (const entry of ordered) {
    const of = `${entry.row ?? ""} ${entry.side ?? ""}`;
    const part = parts.get(of);
    if (part === undefined) parts.set(of, [entry]);
    else part.push(entry);
  }
  return {
    worst: ordered.slice(0, WORST),
    folds: [...parts].map(([of, entries]) => ({
      id: `${group.id}: ${of.trim()}`,
      title: foldTitle(entries[0] as DecisionEntry),
      entries,
      count: countOutcomes(entries),
    })),
  };
}

function foldTitle({ row, side }: Pick<DecisionEntry, "row" | "side">): string {
  return say("judging.fold", { row: row ?? "none", side: side ?? "none" });
}

export function countOutcomes(
  entries: readonly Pick<DecisionEntry, "decision">[],
): Readonly<Record<Outcome, number>> {
  const count: Record<Outcome, number> = { conforms: 0, "does not conform": 0, undecided: 0 };
  for (const { decision } of entries) count[decision.outcome] += 1;
  return count;
}

/** Short within its group, whose title says what is compared. */
function subjectOf(
  { kind, subject, rows, side, tabKeys }: Assessed,
  tabIds: ReadonlyMap<string, string>,
): string {
  switch (kind) {
    case "rows":
      return rows.join(" − ");
    case "sides":
      return say("judging.row", { row: rows[0] ?? "" });
    case "pair":
      return tabIds.get(tabKeys[0] ?? "") ?? subject;
    case "brake travel":
      return say("judging.side", { side: side ?? "right" });
    case "path":
      return subject;
  }
}

/** Holds the middle nine tenths of the values, all limits and zero: a few blunders may lie beyond, drawn as such. */
function axisOf(entries: readonly DecisionEntry[]): readonly [number, number] {
  const limits = entries.flatMap(({ limits: { lower, upper } }) => [lower ?? 0, upper ?? 0]);
  const low = entries.map(({ valueM, standardUncertaintyM }) => valueM - 2 * standardUncertaintyM);
  const high = entries.map(({ valueM, standardUncertaintyM }) => valueM + 2 * standardUncertaintyM);
  const beyond = entries.length < 20 ? 0 : 0.05;
  const from = Math.min(0, ...limits, quantile(low, beyond));
  const to = Math.max(0, ...limits, quantile(high, 1 - beyond));
  const isOneSided = entries.every(
    ({ limits: { lower, upper } }) => lower === undefined || upper === undefined,
  );
  if (isOneSided) return [from - 0.08 * (to - from), to + 0.12 * (to - from)];
  const extent = Math.max(-from, to) * 1.08;
  return [-extent, extent];
}

function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.round(share * (sorted.length - 1))] ?? 0;
}
