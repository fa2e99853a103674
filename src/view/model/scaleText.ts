/** What the grey middle of the colour scale means, in words: one line on a small screen. */
import { type DeviationScale, isCramped } from "../../diagnosis/scale.ts";
import { trimmedNumber } from "../../diagnosis/wording.ts";
import { lengthUnitName, say } from "../../words/index.ts";
import type { ColouredBy } from "../state/choices.ts";

/** @returns undefined where no uncertainty is known, so that only 0 is grey */
export function neutralText(scale: DeviationScale, of: ColouredBy): string | undefined {
  if (scale.expandedM === 0) return undefined;
  return say(isCramped(scale) ? "charts.scale.cramped" : "charts.scale", {
    neutral: trimmedNumber(scale.neutralM),
    expanded: trimmedNumber(scale.expandedM),
    unit: lengthUnitName(),
    of,
  });
}
