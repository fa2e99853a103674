/** The wing in a few figures, for when nothing is pointed at. */
import type { Analysis } from "../../diagnosis/model.ts";
import { degreesText } from "./format.ts";

export interface IncidenceText {
  readonly mean: string;
  readonly left: string;
  readonly right: string;
  /** "nose up", "nose down" or "unchanged" (below 0.05°). */
  readonly sense: string;
}

const UNCHANGED_RAD = (0.05 * Math.PI) / 180;

/** The incidence change in words; undefined without readings. */
export function incidenceText(analysis: Analysis): IncidenceText | undefined {
  const mean = analysis.meanIncidenceRad;
  if (analysis.measured === undefined || mean === undefined) return undefined;
  return {
    mean: degreesText(mean),
    left: degreesText(analysis.leftIncidenceRad),
    right: degreesText(analysis.rightIncidenceRad),
    sense: Math.abs(mean) < UNCHANGED_RAD ? "unchanged" : mean > 0 ? "nose up" : "nose down",
  };
}
