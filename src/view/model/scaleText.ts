/** What the grey middle of the colour scale means, in words: one line on a small screen. */
import { type DeviationScale, isCramped } from "../../diagnosis/scale.ts";
import type { ColouredBy } from "../state/choices.ts";

const WHAT: Readonly<Record<ColouredBy, string>> = {
  path: "a path isn’t told apart from the plan",
  line: "a line isn’t told apart from unchanged",
};

/** @returns undefined where no uncertainty is known, so that only 0 is grey */
export function neutralText(scale: DeviationScale, of: ColouredBy): string | undefined {
  if (scale.expandedM === 0) return undefined;
  const mm = (valueM: number): string => Number((valueM * 1000).toFixed(1)).toString();
  return isCramped(scale)
    ? `Grey to ±${mm(scale.neutralM)} mm only; to ±${mm(scale.expandedM)} mm ${WHAT[of]}: take a wider scale.`
    : `Grey to ±${mm(scale.expandedM)} mm: ${WHAT[of]}.`;
}
