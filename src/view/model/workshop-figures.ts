/** Lengths of the workshop as figures without idle zeros, in the unit that is set, and as they are typed into a field. */
import { lengthNumber } from "../../words/index.ts";

export {
  trimmed,
  trimmedLength as shortLength,
  trimmedLengthNumber as lengthFigure,
} from "../../words/index.ts";

/** Coverage of about 95 %. */
const COVERAGE = 2;

/** How far a length may be off with a coverage of about 95 %, without its unit: "±1.8". */
export function within(standardUncertaintyM: number): string {
  return `±${lengthNumber(COVERAGE * standardUncertaintyM, 1)}`;
}
