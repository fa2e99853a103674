/** The best loops as the screen shows them: which plan to lead with, the frontier as points, the changes as rows of a table. */
import type { Row, Side, Wing } from "../../plan/model.ts";
import { fixed, length, lengthNumber, lengthUnitName, say } from "../../words/index.ts";
import {
  type ChosenLoops,
  chosenBy,
  chosenChanges,
  type LineLoops,
  type LoopChange,
  type LoopPlan,
  type LoopPlans,
  type LoopState,
} from "../../workshop/index.ts";
import { shortLength } from "./workshop-figures.ts";

/** The share of what the best plan brings that is worth leading with: the rest tends to cost as many changes again. */
export const MOST_OF_IT = 0.9;
const SAME_SHARE = 1e-9;

/** The smallest plan that brings nine tenths of what the best brings; never one with more changes than the best. */
export function leadPlan({ frontier, best }: Pick<LoopPlans, "frontier" | "best">): LoopPlan {
  return (
    frontier.find(
      (plan) =>
        plan.changes.length <= best.changes.length && plan.reached >= MOST_OF_IT * best.reached - SAME_SHARE,
    ) ?? best
  );
}

/** How the rule of {@link leadPlan} is told. */
export function leadRule({ best }: Pick<LoopPlans, "best">, lead: LoopPlan): string {
  return lead === best ? say("loops.lead.rule.none") : say("loops.lead.rule");
}

const tenths = (metres: number): string => length(Math.abs(metres), 1);

/** The short answer. */
export function leadText(
  plans: LoopPlans,
  toleranceM: number,
): { readonly head: string; readonly body: string } {
  const { best, present } = plans;
  const lead = leadPlan(plans);
  const tolerance = shortLength(toleranceM);
  if (best.changes.length === 0)
    return {
      head: say("loops.lead.none"),
      body: say("loops.lead.none.body", {
        rms: tenths(present.rmsM),
        worst: tenths(present.worstM),
        beyond: present.beyond,
        tolerance,
      }),
    };
  const [few, most] = [lead.changes.length, best.changes.length];
  return {
    head: few === most ? say("loops.lead.best", { count: most }) : say("loops.lead.few", { few, best: most }),
    body: say("loops.lead.body", {
      from: tenths(present.rmsM),
      to: tenths(lead.rmsM),
      beyond: lead.beyond,
      tolerance,
      present: present.beyond,
    }),
  };
}

export type PlanStanding = "as it is" | "nine tenths" | "best" | "nearly as good" | "other";

export interface PlanPoint {
  readonly plan: LoopPlan;
  readonly changes: number;
  readonly rmsM: number;
  readonly beyond: number;
  readonly standing: PlanStanding;
  /** The point in words, for those who don't see it. */
  readonly text: string;
}

/** The frontier's plans, fewest changes first. */
export function planPoints(plans: LoopPlans, toleranceM: number): readonly PlanPoint[] {
  const lead = leadPlan(plans);
  const standingOf = (plan: LoopPlan): PlanStanding => {
    if (plan === plans.best || plan.changes.length === plans.best.changes.length) return "best";
    if (plan.changes.length === 0) return "as it is";
    if (plan === lead) return "nine tenths";
    return plans.runnersUp.some(({ changes }) => changes.length === plan.changes.length)
      ? "nearly as good"
      : "other";
  };
  return plans.frontier.map((plan) => {
    const standing = standingOf(plan);
    return {
      plan,
      changes: plan.changes.length,
      rmsM: plan.rmsM,
      beyond: plan.beyond,
      standing,
      text: say("loops.point", {
        changes: plan.changes.length,
        standing: plan.changes.length === 0 ? "other" : CASE[standing],
        rms: tenths(plan.rmsM),
        worst: tenths(plan.worstM),
        beyond: plan.beyond,
        tolerance: shortLength(toleranceM),
        reached: reachedText(plan),
      }),
    };
  });
}

/** Which of a message's cases a standing is. */
const CASE: Readonly<Record<PlanStanding, string>> = {
  "as it is": "other",
  "nine tenths": "tenths",
  best: "best",
  "nearly as good": "nearly",
  other: "other",
};

export function reachedText({ reached }: Pick<LoopPlan, "reached">): string {
  return `${fixed(100 * reached, 0)}\u00a0%`;
}

/** The plan of the frontier that ends with the loops chosen; undefined where they are someone's own. */
export function planChosen(
  plans: Pick<LoopPlans, "frontier">,
  loops: readonly LineLoops[],
  chosen: ChosenLoops,
): LoopPlan | undefined {
  const now = new Map(chosenChanges(loops, chosen).map(({ lineKey, to }) => [lineKey, to.kind.id]));
  return plans.frontier.find((plan) => {
    const its = chosenBy(plan);
    return its.size === now.size && [...its].every(([key, kindId]) => now.get(key) === kindId);
  });
}

/** One change, or the same change of a line and its twin. */
export interface ChangeEntry {
  readonly id: string;
  readonly name: string;
  readonly row: Row;
  readonly lines: readonly { readonly lineKey: string; readonly side: Side; readonly kindId: string }[];
  readonly from: LoopState;
  readonly to: LoopState;
  readonly changeM: number;
  readonly standardUncertaintyM: number;
  /** Whether it is tried now. */
  readonly tried: boolean;
}

/**
 * What is tried, and of a plan what isn't (any more), by row in the wing's order; twins of the same change as one.
 *
 * @param plan the plan that was chosen or is offered
 */
export function changeEntries(
  wing: Wing,
  loops: readonly LineLoops[],
  tried: readonly LoopChange[],
  plan: readonly LoopChange[],
): readonly (readonly [Row, readonly ChangeEntry[]])[] {
  const names = namesOf(wing);
  const now = new Map(tried.map((change) => [change.lineKey, change]));
  const offered = new Map(plan.map((change) => [change.lineKey, change]));
  const entries = new Map<string, ChangeEntry>();
  for (const line of loops) {
    const own = now.get(line.lineKey);
    const change = own ?? offered.get(line.lineKey);
    if (change === undefined) continue;
    const name = names.get(line.lineKey) ?? line.lineKey;
    const { from, to, changeM, standardUncertaintyM } = change;
    const id = [name, line.row, from.kind.id, to.kind.id, (changeM * 1e4).toFixed(0), own !== undefined].join(
      "|",
    );
    const known = entries.get(id);
    const its = { lineKey: line.lineKey, side: line.side, kindId: to.kind.id };
    entries.set(
      id,
      known === undefined
        ? {
            id,
            name,
            row: line.row,
            lines: [its],
            from,
            to,
            changeM,
            standardUncertaintyM,
            tried: own !== undefined,
          }
        : { ...known, lines: [...known.lines, its] },
    );
  }
  // Twins that change otherwise stand beneath each other.
  const place = new Map([...names.values()].reverse().map((name, index, all) => [name, all.length - index]));
  const order = ({ name }: ChangeEntry): number => place.get(name) ?? 0;
  return byRow([...entries.values()]).map(
    ([row, its]) => [row, [...its].sort((a, b) => order(a) - order(b))] as const,
  );
}

/** Line key → its name in the plan. */
export function namesOf(wing: Wing): ReadonlyMap<string, string> {
  return new Map(wing.lines.map((line) => [line.key, line.id]));
}

/** Entries by their row, rows in the order in which they come. */
export function byRow<T extends { readonly row: Row }>(
  entries: readonly T[],
): readonly (readonly [Row, readonly T[]])[] {
  const rows = new Map<Row, T[]>();
  for (const entry of entries) rows.set(entry.row, [...(rows.get(entry.row) ?? []), entry]);
  return [...rows];
}

/** A line whose loop differs between two choices; twins that differ alike as one. */
export interface Differing {
  readonly name: string;
  readonly sides: readonly Side[];
  readonly one: LoopState;
  readonly other: LoopState;
}

/** Lines that end otherwise by one choice than by another, in the order of the loops. */
export function differing(
  wing: Wing,
  loops: readonly LineLoops[],
  one: ChosenLoops,
  other: ChosenLoops,
): readonly Differing[] {
  const names = namesOf(wing);
  const found = new Map<string, Differing>();
  for (const line of loops) {
    const [a, b] = [stateBy(line, one), stateBy(line, other)];
    if (a === undefined || b === undefined || a === b) continue;
    const name = names.get(line.lineKey) ?? line.lineKey;
    const id = [name, a.kind.id, b.kind.id].join("|");
    const known = found.get(id);
    found.set(id, { name, sides: [...(known?.sides ?? []), line.side], one: a, other: b });
  }
  return [...found.values()];
}

/** The state that a line ends in by a choice. */
export function stateBy(line: LineLoops, chosen: ChosenLoops): LoopState | undefined {
  const kindId = chosen.get(line.lineKey);
  return line.states.find(({ kind }) => kind.id === kindId) ?? line.states[line.present];
}

/** `13.0 ± 0.4 mm, plan`: take-up, one standard uncertainty, source; a plain eye takes up nothing. */
export function takeUpText({ takeUpM, standardUncertaintyM, source }: LoopState): string {
  if (takeUpM === 0 && standardUncertaintyM === 0) return say("loops.take-up.none");
  return say("loops.take-up.known", {
    takeUp: lengthNumber(takeUpM, 1),
    uncertainty: lengthNumber(standardUncertaintyM, 1),
    unit: lengthUnitName(),
    source,
  });
}

export function sidesText(sides: readonly Side[]): string {
  return say("loops.sides", { sides: sides.length > 1 ? "both" : (sides[0] ?? "both") });
}
