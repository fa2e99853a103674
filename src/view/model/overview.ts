/** The wing in a few figures, for when nothing is pointed at. */
import type { Analysis } from "../../diagnosis/model.ts";
import { say } from "../../words/index.ts";
import { degreesText } from "./format.ts";

export interface IncidenceText {
  readonly mean: string;
  readonly left: string;
  readonly right: string;
  /** "nose up", "nose down" or "unchanged" (below 0.05°). */
  readonly sense: string;
  /** The same as a case of messages. */
  readonly way: Way;
}

export type Way = "up" | "down" | "same";

const UNCHANGED_RAD = (0.05 * Math.PI) / 180;

/** The incidence change in words; undefined without readings. */
export function incidenceText(analysis: Analysis): IncidenceText | undefined {
  const mean = analysis.meanIncidenceRad;
  if (analysis.measured === undefined || mean === undefined) return undefined;
  const way = Math.abs(mean) < UNCHANGED_RAD ? "same" : mean > 0 ? "up" : "down";
  return {
    mean: degreesText(mean),
    left: degreesText(analysis.leftIncidenceRad),
    right: degreesText(analysis.rightIncidenceRad),
    sense: say("panes.sense", { sense: way }),
    way,
  };
}
