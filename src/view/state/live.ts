/** The solved states under the present rigging and trials, and the analyses that show them. */
import type { Analysis } from "../../diagnosis/model.ts";
import { analysisOf, type States } from "../../diagnosis/states.ts";
import type { Shown } from "./choices.ts";

export interface Live {
  readonly states: States;
  /** The readings' analysis, its solved part under the rigging. */
  readonly asMeasured: Analysis;
  /** The same with what is tried; undefined where nothing is. */
  readonly asTried: Analysis | undefined;
  /** Line key → what was tried when the states were solved [m]. */
  readonly trial: ReadonlyMap<string, number>;
  /** How long the worker took; undefined for states that came with the analysis [ms]. */
  readonly tookMs: number | undefined;
}

export function liveOf(
  analysis: Analysis,
  states: States,
  trial: ReadonlyMap<string, number>,
  tookMs: number | undefined,
): Live {
  return {
    states,
    asMeasured: tookMs === undefined ? analysis : analysisOf(analysis, states, "measured", trial),
    asTried: states.tried === undefined ? undefined : analysisOf(analysis, states, "tried", trial),
    trial,
    tookMs,
  };
}

/** The analysis to show figures, charts and colours of. */
export function analysisShown(live: Live, shown: Shown): Analysis {
  return (shown === "tried" ? live.asTried : undefined) ?? live.asMeasured;
}

/** The state to draw: one that isn't there gives way to the nearest that is. */
export function stateShown(live: Live, shown: Shown): Shown {
  if (shown === "tried" && live.states.tried === undefined)
    return live.states.measured === undefined ? "specified" : "measured";
  return shown !== "tried" && live.states.measured === undefined ? "specified" : shown;
}
