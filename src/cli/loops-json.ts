/** A loop plan as JSON: millimetres, line keys as the other commands have them. */
import type { Wing } from "../plan/index.ts";
import type { Check, Deviations } from "../readings/index.ts";
import {
  fileNameOf,
  type LineLoops,
  type LoopChange,
  type LoopChoices,
  type LoopPlan,
  type LoopPlans,
  type LoopReport,
  type LoopState,
} from "../workshop/index.ts";
import { wingCaution } from "./messages.ts";
import { mm } from "./wing-report.ts";

/** Names the JSON that `recheck` reads changes from. */
export const LOOP_PLAN_FORMAT = "linewright-loop-plan";

/** A loop plan with all that it was made from. */
export interface LoopAnswer {
  readonly wing: Wing;
  readonly check: Check;
  readonly deviations: Deviations;
  readonly loops: readonly LineLoops[];
  readonly choices: LoopChoices;
  readonly plans: LoopPlans;
  /** On the best plan. */
  readonly report: LoopReport;
}

export function loopsJson({ wing, check, loops, choices, plans, report }: LoopAnswer): object {
  return {
    format: LOOP_PLAN_FORMAT,
    version: 1,
    ok: true,
    wing: wing.name,
    caution: wingCaution(),
    check: { date: check.date, tensionN: check.tensionN, from: check.from },
    toleranceMm: { pathMm: mm(wing.tolerances.pathM), source: wing.tolerances.source },
    choices: {
      lines: [...choices.mayChange],
      kinds: [...choices.kinds],
      mostTakeUpMm: mm(choices.mostTakeUpM),
      reserveMm: mm(choices.reserveM),
      symmetry: choices.symmetry,
      rowsTogether: choices.rowsTogether,
      aim: choices.aim,
      uniformFree: choices.uniformFree,
      worthMm: mm(choices.worthM),
      mostChanges: choices.mostChanges ?? null,
      rowWeights: choices.rowWeights,
    },
    loops: loops.map((line) => ({
      line: line.lineKey,
      row: line.row,
      maillon: line.maillonId,
      barAssumed: line.barAssumed,
      recorded: line.presentRecorded,
      present: stateJson(line.states[line.present] as LoopState),
      specified: stateJson(line.states[line.specified] as LoopState),
      states: line.states.map(stateJson),
    })),
    best: planJson(plans.best),
    frontier: plans.frontier.map(planJson),
    runnersUp: plans.runnersUp.map(planJson),
    blocked: plans.blocked.map(({ lineKey, reason }) => ({ line: lineKey, reason })),
    summary: report.summary,
    paths: report.paths.map((path) => ({
      tab: path.tabKey,
      presentMm: mm(path.presentM),
      changeMm: mm(path.changeM),
      leftMm: mm(path.predictedM),
      standardUncertaintyMm: mm(path.standardUncertaintyM),
    })),
    unreachable: report.unreachable.map((path) => ({
      tab: path.tabKey,
      leftMm: mm(path.predictedM),
      reason: path.reason,
      replace: path.replaceNames,
      sentence: path.sentence,
    })),
    followUp: report.followUp,
    reserve: report.reserve.map((row) => ({
      row: row.row,
      meanMm: mm(row.meanM),
      leastMm: mm(row.leastM),
      used: row.used,
      sentence: row.sentence,
    })),
    cautions: report.cautions,
  };
}

function planJson(plan: LoopPlan) {
  return {
    changes: plan.changes.map(changeJson),
    sharedMm: mm(plan.sharedM),
    rmsMm: mm(plan.rmsM),
    worstMm: mm(plan.worstM),
    beyond: plan.beyond,
    reached: Math.round(1000 * plan.reached) / 1000,
  };
}

function changeJson({ lineKey, from, to, changeM, standardUncertaintyM }: LoopChange) {
  return {
    line: lineKey,
    from: stateJson(from),
    to: stateJson(to),
    changeMm: mm(changeM),
    standardUncertaintyMm: mm(standardUncertaintyM),
  };
}

function stateJson({ kind, takeUpM, standardUncertaintyM, source }: LoopState) {
  return {
    kind: kind.id,
    name: fileNameOf(kind.id),
    takeUpMm: mm(takeUpM),
    standardUncertaintyMm: mm(standardUncertaintyM),
    source,
  };
}
