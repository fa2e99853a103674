/** Decisions, rules and odds in words and figures. */
import type { Limits } from "../../diagnosis/conformance.ts";
import type { Outcome } from "../../diagnosis/conformity.ts";
import type { Line, Wing } from "../../plan/model.ts";
import type { Target } from "../../readings/model.ts";
import { MINUS, sidedName, signed } from "./format.ts";

/** Coverage factor of every uncertainty shown: U = k·u. */
export const COVERAGE = 2;

/** Gravest first. */
export const OUTCOMES: readonly Outcome[] = ["does not conform", "undecided", "conforms"];

/** `Does not conform`, for a heading or a count. */
export function outcomeTitle(outcome: Outcome): string {
  return `${outcome.slice(0, 1).toUpperCase()}${outcome.slice(1)}`;
}

/** Expanded uncertainty (k = 2) of a standard uncertainty [m] in millimetres: `±1.2`. */
export function expandedText(standardUncertaintyM: number, decimals = 1): string {
  return `±${(COVERAGE * standardUncertaintyM * 1000).toFixed(decimals)}`;
}

/** A value [m] with its expanded uncertainty: `−4.2 ±1.2 mm`. */
export function valueText(valueM: number, standardUncertaintyM: number): string {
  return `${signed(valueM * 1000, 1)} ${expandedText(standardUncertaintyM)} mm`;
}

/** Limits [m] in millimetres: `±10 mm`, `at least 50 mm`, `at most +3 mm`, `−5 to +10 mm`. */
export function limitsText({ lower, upper }: Limits): string {
  if (lower === undefined) return upper === undefined ? "no limit" : `at most ${mm(upper)}`;
  if (upper === undefined) return `at least ${mm(lower)}`;
  if (Math.abs(lower + upper) < 1e-9) return `±${bare(upper)} mm`;
  return `${signed(lower * 1000, 0)} to ${signed(upper * 1000, 0)} mm`;
}

function bare(valueM: number): string {
  return String(Number((Math.abs(valueM) * 1000).toFixed(1)));
}

function mm(valueM: number): string {
  return `${valueM < 0 ? MINUS : ""}${bare(valueM)} mm`;
}

/**
 * How plausible a mistake is beside the readings being true, from the decimal logarithm of the odds. Words only: the odds
 * rest on assumed rates of mistakes, so their digits mean nothing.
 */
export function plausibleText(log10Odds: number, of: "one" | "several" = "one"): string {
  const than = of === "one" ? "a true length" : "true lengths";
  if (log10Odds >= 4)
    return `Hardly to be doubted; ${than} like ${of === "one" ? "this" : "these"} would be a rare chance`;
  if (log10Odds >= 2) return `Far more likely than ${than}`;
  if (log10Odds >= 1) return `Clearly more likely than ${than}`;
  return `Somewhat more likely than ${than}`;
}

/** The line or tab that a reading is of, as called out: `A3 left`, `line AM1 right`. */
export function targetName(target: Target): string {
  return `${target.kind === "line" ? "line " : ""}${sidedName(target.id, target.side)}`;
}

/** `CM2 left`; a key that the wing doesn't have is given back. */
export function lineName(wing: Wing, lineKey: string): string {
  const line: Line | undefined = wing.lines.find(({ key }) => key === lineKey);
  return line === undefined ? lineKey : sidedName(line.id, line.side);
}

/** A typed length [m] in millimetres, tenths only where there are any: `7421`. */
export function typedText(valueM: number): string {
  return String(Number((valueM * 1000).toFixed(1)));
}
