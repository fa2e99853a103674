/** Which loops to change: the best plan, what fewer changes would reach, and what stands in the way. */
import { ROWS, type Wing } from "../plan/model.ts";
import type { Deviations } from "../readings/model.ts";
import { LOOP_KINDS } from "./kinds.ts";
import { loopFrontier } from "./loop-frontier.ts";
import { optimiseLoops } from "./loop-optimum.ts";
import { mayEnd, poseLoops, refusal } from "./loop-problem.ts";
import type { LineLoops, LoopChoices, LoopPlan, LoopState } from "./model.ts";

/** A line that can't be changed, or whose present loop isn't as it should be. */
export interface BlockedLine {
  readonly lineKey: string;
  readonly reason:
    | "locked"
    /** no state but the present one is allowed */
    | "no other state"
    /** no path above it was read */
    | "not read"
    /** the present loop takes up more than the maker allows */
    | "present beyond limit"
    /** the present loop is of a kind that isn't to be tied */
    | "present kind not allowed"
    /** one line of its row can't go along */
    | "row can't move";
}

export interface LoopPlans {
  /** Least cost with the cost of its changes, of at most `choices.mostChanges`. */
  readonly best: LoopPlan;
  /** The best plans of at most 0, 1, 2, … changes, without those that bring nothing over fewer; whatever the most changes. */
  readonly frontier: readonly LoopPlan[];
  /** As it is: no change. */
  readonly present: LoopPlan;
  /** Plans of the frontier with fewer changes than the best that cost, changes included, at most 5 % more: the cheapest first. */
  readonly runnersUp: readonly LoopPlan[];
  readonly blocked: readonly BlockedLine[];
}

/** A plan is a runner-up up to this much dearer than the best. */
const RUNNER_UP_SHARE = 0.05;
const MOST_RUNNERS_UP = 3;
/**
 * A change is worth making where it does as much as bringing one path in by 8 mm, or a lower line's four paths by 4 mm each:
 * less is near what readings and take-ups can tell, and every change uses up a loop. A choice of ours, no source.
 */
export const DEFAULT_WORTH_M = 0.008;

/**
 * Choices to begin with: every line of the main rows and the tip may change, to any of the kinds that the geometry knows or
 * to what the plan specifies for it; twins alike; no reserve, no limit; the mean square of what is left once the shared part
 * is taken out.
 */
export function defaultChoices(_wing: Wing, loops: readonly LineLoops[]): LoopChoices {
  return {
    mayChange: new Set(loops.filter((line) => line.row !== "brake").map((line) => line.lineKey)),
    kinds: new Set([
      ...LOOP_KINDS.map((kind) => kind.id),
      ...loops.flatMap((line) => line.states[line.specified]?.kind.id ?? []),
    ]),
    mostTakeUpM: undefined,
    reserveM: 0,
    symmetry: "same",
    rowsTogether: false,
    aim: "mean",
    uniformFree: true,
    worthM: DEFAULT_WORTH_M,
    mostChanges: undefined,
    rowWeights: {},
  };
}

/** What a plan costs with its changes [m²]: `costM2` and the square of `worthM` for each. */
export function totalCost(plan: LoopPlan, worthM: number): number {
  return plan.costM2 + plan.changes.length * worthM ** 2;
}

/**
 * The best choice of loops, exactly: no other states of the lines that may change, with any shared part, cost less.
 *
 * Minimised is Σ w r² over the paths that were read above lines with loops, r what is left of a path less the shared part;
 * plus, for the aim "tolerance", all that is beyond the wing's tolerance, so heavily that a tenth of a millimetre less of it
 * outweighs any mean square; plus what twins in unlike states cost; plus `worthM`² for each change. Lines that may not
 * change count too: they pull at the shared part. Brakes aren't concerned.
 *
 * Nothing of it is a clearance to fly: the cautions of `diagnosis/caution.ts` go with every plan.
 *
 * @param deviations of this wing, measured with the present loops; paths that weren't read are left out
 * @throws RangeError where loops and deviations don't belong together, or a choice is not a number it can be
 */
export function planLoops(
  wing: Wing,
  deviations: Deviations,
  loops: readonly LineLoops[],
  choices: LoopChoices,
): LoopPlans {
  checkChoices(choices);
  const concerned = loops.filter((line) => line.row !== "brake");
  const posed = poseLoops(wing, deviations, concerned, choices);
  const frontier = loopFrontier(wing, deviations, concerned, posed, optimiseLoops(posed.problem));
  const total = (plan: LoopPlan): number => totalCost(plan, choices.worthM);
  const most = choices.mostChanges ?? Number.POSITIVE_INFINITY;
  const best = frontier
    .filter((plan) => plan.changes.length <= most)
    // The first of equals is the one with fewer changes.
    .reduce((least, plan) => (total(plan) < total(least) * (1 - 1e-9) ? plan : least));
  return {
    best,
    frontier,
    present: frontier[0] as LoopPlan,
    runnersUp: frontier
      .filter(
        (plan) =>
          plan.changes.length < best.changes.length && total(plan) <= total(best) * (1 + RUNNER_UP_SHARE),
      )
      .sort((a, b) => total(a) - total(b) || a.changes.length - b.changes.length)
      .slice(0, MOST_RUNNERS_UP),
    blocked: concerned.flatMap((line) => blockedReasons(deviations, concerned, line, choices)),
  };
}

function checkChoices({ worthM, reserveM, mostTakeUpM, mostChanges, rowWeights }: LoopChoices): void {
  const asked: readonly (readonly [string, number])[] = [
    ["worthM", worthM],
    ["reserveM", reserveM],
    ["mostTakeUpM", mostTakeUpM ?? 0],
    ["mostChanges", mostChanges ?? 0],
    ...ROWS.map((row) => [`rowWeights.${row}`, rowWeights[row] ?? 1] as const),
  ];
  const strange = asked.find(([, value]) => !(value >= 0) || value === Number.POSITIVE_INFINITY);
  if (strange !== undefined)
    throw new RangeError(`Got ${strange[1]} for ${strange[0]}; expected a number from 0 upwards.`);
}

function blockedReasons(
  deviations: Deviations,
  loops: readonly LineLoops[],
  line: LineLoops,
  choices: LoopChoices,
): BlockedLine[] {
  const reasons: BlockedLine["reason"][] = [];
  const present = refusal(line.states[line.present] as LoopState, { ...choices, reserveM: 0 });
  if (present === "limit") reasons.push("present beyond limit");
  if (present === "kind") reasons.push("present kind not allowed");
  if (!choices.mayChange.has(line.lineKey)) reasons.push("locked");
  else if (line.states.every((_, state) => state === line.present || !mayEnd(line, state, choices)))
    reasons.push("no other state");
  else if (!line.tabs.some((tab) => deviations.paths[tab]?.deviationM !== undefined))
    reasons.push("not read");
  else if (choices.rowsTogether && !rowCanMove(loops, line, choices)) reasons.push("row can't move");
  return reasons.map((reason) => ({ lineKey: line.lineKey, reason }));
}

function rowCanMove(loops: readonly LineLoops[], line: LineLoops, choices: LoopChoices): boolean {
  const row = loops.filter(
    (other) =>
      other.row === line.row &&
      choices.mayChange.has(other.lineKey) &&
      (choices.symmetry !== "free" || other.side === line.side),
  );
  return line.states.some((_, state) => {
    const by = state - line.present;
    return (
      by !== 0 &&
      row.every((other) => other.states[other.present + by] && mayEnd(other, other.present + by, choices))
    );
  });
}
