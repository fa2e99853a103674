/** A choice of loops made by hand, weighed by the same rule as the plans. */
import type { Wing } from "../plan/model.ts";
import type { Deviations } from "../readings/model.ts";
import { loopChange } from "./line-loops.ts";
import { type LoopPlans, planLoops } from "./loop-plan.ts";
import type { LineLoops, LoopChoices, LoopPlan } from "./model.ts";

/** Line key → id of the kind that its loop is to be; lines left out stay as they are. */
export type ChosenLoops = ReadonlyMap<string, string>;

/**
 * The changes from the present loops to those chosen, in the order of the loops. A line that isn't among the loops, or a kind
 * that it can't have, is left out: both may come from an address or from another version of the plan.
 */
export function chosenChanges(loops: readonly LineLoops[], chosen: ChosenLoops): LoopPlan["changes"] {
  return loops.flatMap((line) => {
    const kindId = chosen.get(line.lineKey);
    const to = line.states.findIndex((state) => state.kind.id === kindId);
    return to < 0 || to === line.present ? [] : [loopChange(line, to)];
  });
}

/** The loops that a plan ends with, as a choice. */
export function chosenBy(plan: Pick<LoopPlan, "changes">): ChosenLoops {
  return new Map(plan.changes.map(({ lineKey, to }) => [lineKey, to.kind.id]));
}

/**
 * What a choice of loops leaves, by the rule of {@link planLoops}. What the person ties by hand may lie outside what the plans
 * may change; it's weighed all the same.
 *
 * `reached` is counted in the mean square of what is left, as the plans' own costs may be of another aim: below 0 where the
 * choice is worse than the present.
 *
 * @param plans of the same deviations, loops and choices
 * @throws RangeError as {@link planLoops}
 */
export function weighLoops(
  wing: Wing,
  deviations: Deviations,
  loops: readonly LineLoops[],
  choices: LoopChoices,
  chosen: ChosenLoops,
  plans: Pick<LoopPlans, "best" | "present">,
): LoopPlan {
  const changes = chosenChanges(loops, chosen);
  const changeOf = new Map(changes.map((change) => [change.lineKey, change]));
  const moved = deviations.paths.map((path) => ({ ...path }));
  const tied = loops.map((line): LineLoops => {
    const change = changeOf.get(line.lineKey);
    if (change === undefined) return line;
    for (const tab of line.tabs) {
      const path = moved[tab];
      if (path?.deviationM !== undefined)
        moved[tab] = { ...path, deviationM: path.deviationM + change.changeM };
    }
    return { ...line, present: line.states.indexOf(change.to) };
  });
  const held = planLoops(wing, { ...deviations, paths: moved }, tied, {
    ...choices,
    mayChange: new Set(),
  }).present;
  const from = plans.present.rmsM ** 2;
  const way = from - plans.best.rmsM ** 2;
  return { ...held, changes, reached: way > 0 ? (from - held.rmsM ** 2) / way : 1 };
}
