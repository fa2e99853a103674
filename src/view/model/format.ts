/** Numbers in words for the screen: SI in, mm, daN and degrees out, always with a true minus sign and fixed decimals. */
import type { Row, Side } from "../../plan/model.ts";

export const MINUS = "−";
const THIN = "\u202f";

/** A signed fixed-decimal number; what rounds to zero carries no sign. */
export function signed(value: number, decimals: number): string {
  const text = Math.abs(value).toFixed(decimals);
  if (Number(text) === 0) return text;
  return `${value < 0 ? MINUS : "+"}${text}`;
}

/** A deviation [m] as signed millimetres without the unit; an en dash where there is none. */
export function signedMm(deviationM: number | undefined, decimals = 0): string {
  return deviationM === undefined ? "–" : signed(deviationM * 1000, decimals);
}

/** A deviation [m] as signed millimetres with the unit, or "not measured". */
export function deviationText(deviationM: number | undefined, decimals = 0): string {
  return deviationM === undefined ? "not measured" : `${signedMm(deviationM, decimals)}${THIN}mm`;
}

/** A length [m] as whole millimetres with the unit. */
export function lengthText(lengthM: number | undefined): string {
  return lengthM === undefined ? "–" : `${Math.round(lengthM * 1000)}${THIN}mm`;
}

/** A force [N] as decanewtons with one decimal. */
export function forceText(forceN: number | undefined): string {
  return forceN === undefined ? "–" : `${(forceN / 10).toFixed(1)}${THIN}daN`;
}

/** An angle [rad] as signed degrees. */
export function degreesText(angleRad: number | undefined, decimals = 2): string {
  return angleRad === undefined ? "–" : `${signed((angleRad * 180) / Math.PI, decimals)}°`;
}

const DATE_PARTS = /^(\d{4})-(\d{2})-(\d{2})/;
const MONTHS = [
  "January",
  "February",
  "March",
  "April",
  "May",
  "June",
  "July",
  "August",
  "September",
  "October",
  "November",
  "December",
];

/** An ISO date as "14 March 2026"; anything else is returned as it is. */
export function dateText(iso: string): string {
  const parts = DATE_PARTS.exec(iso);
  const month = MONTHS[Number(parts?.[2]) - 1];
  return parts === null || month === undefined ? iso : `${Number(parts[3])} ${month} ${parts[1]}`;
}

/** The row as a label: "A", "Tip", "Brake". */
export function rowName(row: Row): string {
  return row === "tip" ? "Tip" : row === "brake" ? "Brake" : row;
}

/** The row inside a sentence: "row C", "the tip lines", "the brakes". */
export function rowPhrase(row: Row): string {
  return row === "tip" ? "tip lines" : row === "brake" ? "brakes" : `row ${row}`;
}

/** The plan's name with its side: "C3 left". */
export function sidedName(id: string, side: Side): string {
  return `${id} ${side}`;
}

/** "1 line", "3 lines". */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}
