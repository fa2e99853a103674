/** Lengths of the workshop as figures without idle zeros, in the unit that is set, and as they are typed into a field. */
import { fixed, inUnit, lengthDecimals, lengthNumber, lengthUnitName } from "../../words/index.ts";

/** A number with as many decimals as it needs, up to so many. */
export function trimmed(value: number, most: number): string {
  let decimals = most;
  while (decimals > 0 && value.toFixed(decimals).endsWith("0")) decimals -= 1;
  return fixed(value, decimals);
}

/** A length [m] without its unit: "10", "4.5". @param most decimals at most, as in millimetres */
export function lengthFigure(valueM: number, most = 1): string {
  return trimmed(inUnit(valueM), lengthDecimals(most));
}

/** The same with its unit: "10 mm", "4.5 mm". */
export function shortLength(valueM: number, most = 1): string {
  return `${lengthFigure(valueM, most)} ${lengthUnitName()}`;
}

/** Coverage of about 95 %. */
const COVERAGE = 2;

/** How far a length may be off with a coverage of about 95 %, without its unit: "±1.8". */
export function within(standardUncertaintyM: number): string {
  return `±${lengthNumber(COVERAGE * standardUncertaintyM, 1)}`;
}
