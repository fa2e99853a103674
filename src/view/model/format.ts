/** Figures and names for the screen, in the language and unit that are set: SI in, daN and degrees out. */
import type { Row } from "../../plan/model.ts";
import {
  fixed,
  length,
  longDate,
  say,
  signedFixed,
  signedLength,
  signedLengthNumber,
} from "../../words/index.ts";

const THIN = "\u202f";

/** A signed fixed-decimal number; what rounds to zero carries no sign. */
export function signed(value: number, decimals: number): string {
  return signedFixed(value, decimals);
}

/** A deviation [m], signed and without its unit; an en dash where there is none. @param decimals as in millimetres */
export function signedMm(deviationM: number | undefined, decimals = 0): string {
  return deviationM === undefined ? "–" : signedLengthNumber(deviationM, decimals);
}

/** A deviation [m], signed and with its unit, or "not measured". @param decimals as in millimetres */
export function deviationText(deviationM: number | undefined, decimals = 0): string {
  return deviationM === undefined ? say("charts.not-measured") : signedLength(deviationM, decimals, THIN);
}

/** A length [m] with its unit, to the millimetre or as fine in inches. */
export function lengthText(lengthM: number | undefined): string {
  return lengthM === undefined ? "–" : length(lengthM, 0, THIN);
}

/** A force [N] as decanewtons with one decimal. */
export function forceText(forceN: number | undefined): string {
  return forceN === undefined ? "–" : `${fixed(forceN / 10, 1)}${THIN}daN`;
}

/** An angle [rad] as signed degrees. */
export function degreesText(angleRad: number | undefined, decimals = 2): string {
  return angleRad === undefined ? "–" : `${signed((angleRad * 180) / Math.PI, decimals)}°`;
}

/** An ISO date written out, as "14 March 2026"; anything else is returned as it is. */
export function dateText(iso: string): string {
  return /^\d{4}-(0[1-9]|1[0-2])-\d{2}/.test(iso) ? longDate(iso) : iso;
}

/** The row as a label: "A", "Tip", "Brake". */
export function rowName(row: Row): string {
  return say("charts.row.label", { row });
}

/** The row inside a sentence: "row C", "tip lines", "brakes". */
export function rowPhrase(row: Row): string {
  return say("charts.row", { row });
}

/** The plan's name with its side: "C3 left". */
export { sidedName } from "../../diagnosis/wording.ts";
