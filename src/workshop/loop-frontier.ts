/** From the optimum of every number of changes to plans: which lines change how, what is left, and how much of the way that is. */
import { SAME_LENGTH_M } from "../diagnosis/rows.ts";
import type { Wing } from "../plan/model.ts";
import type { Deviations } from "../readings/model.ts";
import { loopChange } from "./line-loops.ts";
import type { LoopOptimum } from "./loop-optimum.ts";
import type { PosedLoops } from "./loop-problem.ts";
import type { LineLoops, LoopPlan } from "./model.ts";

/** An improvement below this share of the present cost isn't one. */
const LEAST_GAIN = 1e-9;

/**
 * The plans of 0, 1, 2, … changes, without those that bring nothing over a plan of fewer.
 *
 * Changes stand in the order of the loops given.
 */
export function loopFrontier(
  wing: Wing,
  deviations: Deviations,
  loops: readonly LineLoops[],
  posed: PosedLoops,
  optimum: LoopOptimum,
): readonly LoopPlan[] {
  const { cost, shared, choice, mostChanges } = optimum;
  const count = posed.groups.length;
  const present = cost[0] as number;
  const least = cost[mostChanges] as number;
  const plans: LoopPlan[] = [];
  let reachedSoFar = Number.POSITIVE_INFINITY;
  for (let k = 0; k <= mostChanges; k++) {
    const its = cost[k] as number;
    if (k > 0 && !(its < reachedSoFar - LEAST_GAIN * Math.max(1e-3, present))) continue;
    reachedSoFar = its;
    const states = loops.map((line) => line.present);
    posed.groups.forEach(({ lines, options }, g) => {
      const option = options[choice[k * count + g] as number] as readonly number[];
      lines.forEach((line, n) => {
        states[line] = option[n] as number;
      });
    });
    plans.push(
      planOf(wing, deviations, loops, states, {
        sharedM: (shared[k] as number) / 1000,
        costM2: its / 1e6,
        reached: present > least ? (present - its) / (present - least) : 1,
      }),
    );
  }
  return plans;
}

/** A plan with its figures: what is left of each path that was read above a line with loops. */
function planOf(
  wing: Wing,
  deviations: Deviations,
  loops: readonly LineLoops[],
  states: readonly number[],
  known: Pick<LoopPlan, "sharedM" | "costM2" | "reached">,
): LoopPlan {
  const changes = loops.flatMap((line, place) => {
    const state = states[place] as number;
    return state === line.present ? [] : [loopChange(line, state)];
  });
  const changeOf = new Map(changes.map(({ lineKey, changeM }) => [lineKey, changeM]));
  let squares = 0;
  let count = 0;
  let worstM = 0;
  let beyond = 0;
  for (const line of loops)
    for (const tab of line.tabs) {
      const deviationM = deviations.paths[tab]?.deviationM;
      if (deviationM === undefined) continue;
      const left = Math.abs(deviationM + (changeOf.get(line.lineKey) ?? 0) - known.sharedM);
      squares += left * left;
      count++;
      worstM = Math.max(worstM, left);
      if (left > wing.tolerances.pathM + SAME_LENGTH_M) beyond++;
    }
  return { changes, ...known, rmsM: count > 0 ? Math.sqrt(squares / count) : 0, worstM, beyond };
}
