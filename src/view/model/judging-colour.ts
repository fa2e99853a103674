/** By what a line is coloured: its whole paths, or the line alone. */
import type { Analysis } from "../../diagnosis/model.ts";
import type { ColouredBy } from "../state/choices.ts";

/**
 * The analysis whose lines are to be coloured by: as it is, or with each line's own change in place of its paths' mean. A
 * line through which no reading runs stays without a deviation.
 */
export function analysisColouredBy(analysis: Analysis, by: ColouredBy): Analysis {
  if (by === "path" || analysis.measured === undefined) return analysis;
  return {
    ...analysis,
    lines: analysis.lines.map((line) =>
      line.basis === "not measured" ? line : { ...line, deviationM: line.attributedM },
    ),
  };
}
