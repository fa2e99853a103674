/** Decisions, rules and odds in words and figures. */
import type { Limits } from "../../diagnosis/conformance.ts";
import { type Outcome, outcomeCase } from "../../diagnosis/conformity.ts";
import { trimmedMm, trimmedNumber } from "../../diagnosis/wording.ts";
import type { Line, Wing } from "../../plan/model.ts";
import type { Target } from "../../readings/model.ts";
import { lengthNumber, lengthUnitName, say, signedLengthNumber } from "../../words/index.ts";
import { sidedName } from "./format.ts";

/** Coverage factor of every uncertainty shown: U = k·u. */
export const COVERAGE = 2;

/** Gravest first. */
export const OUTCOMES: readonly Outcome[] = ["does not conform", "undecided", "conforms"];

/** `does not conform`, within a sentence or beside a mark. */
export function outcomeText(outcome: Outcome): string {
  return say("judging.outcome", { outcome: outcomeCase(outcome) });
}

/** Expanded uncertainty (k = 2) of a standard uncertainty [m] without its unit: `±1.2`. @param decimals as in millimetres */
export function expandedText(standardUncertaintyM: number, decimals = 1): string {
  return `±${lengthNumber(COVERAGE * standardUncertaintyM, decimals)}`;
}

/** A value [m] with its expanded uncertainty: `−4.2 ±1.2 mm`. */
export function valueText(valueM: number, standardUncertaintyM: number): string {
  return `${signedLengthNumber(valueM, 1)} ${expandedText(standardUncertaintyM)} ${lengthUnitName()}`;
}

/** Limits [m] with their unit: `±10 mm`, `at least 50 mm`, `at most 3 mm`, `−5 to +10 mm`. */
export function limitsText({ lower, upper }: Limits): string {
  if (lower === undefined)
    return upper === undefined
      ? say("judging.limits.none")
      : say("judging.limits.most", { limit: trimmedMm(upper) });
  if (upper === undefined) return say("judging.limits.least", { limit: trimmedMm(lower) });
  if (Math.abs(lower + upper) < 1e-9) return `±${trimmedMm(Math.abs(upper))}`;
  return say("judging.limits.between", {
    lower: signedLengthNumber(lower),
    upper: signedLengthNumber(upper),
    unit: lengthUnitName(),
  });
}

/**
 * How plausible a mistake is beside the readings being true, from the decimal logarithm of the odds. Words only: the odds
 * rest on assumed rates of mistakes, so their digits mean nothing.
 */
export function plausibleText(log10Odds: number, of: "one" | "several" = "one"): string {
  const odds = log10Odds >= 4 ? "certain" : log10Odds >= 2 ? "far" : log10Odds >= 1 ? "clearly" : "somewhat";
  return say("judging.plausible", { odds, of });
}

/** The line or tab that a reading is of, as called out: `A3 left`, `line AM1 right`. */
export function targetName({ kind, id, side }: Target): string {
  return say("judging.target", { kind, id, side });
}

/** `CM2 left`; a key that the wing doesn't have is given back. */
export function lineName(wing: Wing, lineKey: string): string {
  const line: Line | undefined = wing.lines.find(({ key }) => key === lineKey);
  return line === undefined ? lineKey : sidedName(line.id, line.side);
}

/** A typed length [m] without its unit, tenths of a millimetre only where there are any: `7421`. */
export function typedText(valueM: number): string {
  return trimmedNumber(valueM);
}
