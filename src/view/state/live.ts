/** The solved states under the present rigging and trials, and the analyses that show them. */
import type { Analysis } from "../../diagnosis/model.ts";
import { afterAnalysisOf, analysisOf, type States } from "../../diagnosis/states.ts";
import type { Equilibrium } from "../../geometry/model.ts";
import type { Shown } from "./choices.ts";

export interface Live {
  readonly states: States;
  /** The readings' analysis, its solved part under the rigging. */
  readonly asMeasured: Analysis;
  /** The same with what is tried; undefined where nothing is. */
  readonly asTried: Analysis | undefined;
  /** Line key → what was tried when the states were solved [m]. */
  readonly trial: ReadonlyMap<string, number>;
  /** The wing as a check after the work has it, under the same rigging; left out where there is no such check. */
  readonly after?: { readonly solved: Equilibrium; readonly analysis: Analysis };
  /** How long the worker took; undefined for states that came with the analysis [ms]. */
  readonly tookMs: number | undefined;
}

export function liveOf(
  analysis: Analysis,
  states: States,
  trial: ReadonlyMap<string, number>,
  tookMs: number | undefined,
  after?: Analysis,
): Live {
  return {
    states,
    asMeasured: tookMs === undefined ? analysis : analysisOf(analysis, states, "measured", trial),
    asTried: states.tried === undefined ? undefined : analysisOf(analysis, states, "tried", trial),
    trial,
    ...(after === undefined || states.after === undefined
      ? {}
      : { after: { solved: states.after.solved, analysis: afterAnalysisOf(after, states) } }),
    tookMs,
  };
}

/** The analysis to show figures, charts and colours of. */
export function analysisShown(live: Live, shown: Shown): Analysis {
  const other = shown === "tried" ? live.asTried : shown === "after" ? live.after?.analysis : undefined;
  return other ?? live.asMeasured;
}

/** The state to draw: one that isn't there gives way to the nearest that is. */
export function stateShown(live: Live, shown: Shown): Shown {
  if (shown === "tried" && live.states.tried !== undefined) return shown;
  if (live.states.measured === undefined) return "specified";
  if (shown === "after" && live.after !== undefined) return shown;
  return shown === "tried" || shown === "after" ? "measured" : shown;
}
