/** Figures and names in sentences: mm with a true minus sign, degrees with two decimals. */
import type { Row } from "../plan/model.ts";

/** `−12 mm`, `+3 mm`, `0 mm`. */
export function signedMm(valueM: number, decimals = 0): string {
  const rounded = (valueM * 1000).toFixed(decimals);
  const size = rounded.replace("-", "");
  if (Number(rounded) === 0) return `${size} mm`;
  return `${Number(rounded) < 0 ? "−" : "+"}${size} mm`;
}

/** `12 mm`, without a sign. */
export function plainMm(valueM: number, decimals = 0): string {
  return `${Math.abs(valueM * 1000).toFixed(decimals)} mm`;
}

/** `+0.65°`. */
export function signedDegrees(valueRad: number): string {
  const rounded = ((valueRad * 180) / Math.PI).toFixed(2);
  const size = rounded.replace("-", "");
  if (Number(rounded) === 0) return `${size}°`;
  return `${Number(rounded) < 0 ? "−" : "+"}${size}°`;
}

/** `0.65°`, without a sign. */
export function plainDegrees(valueRad: number): string {
  return `${Math.abs((valueRad * 180) / Math.PI).toFixed(2)}°`;
}

export function rowName(row: Row): string {
  if (row === "tip") return "The tip lines";
  return row === "brake" ? "The brake lines" : `Row ${row}`;
}

export function shortOrLong(valueM: number): string {
  return valueM < 0 ? "short" : "long";
}
