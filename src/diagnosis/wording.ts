/** Figures and names in sentences: mm with a true minus sign, degrees with two decimals. */

import { type Row, SIDES, type Side } from "../plan/model.ts";

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

/** `left 8 mm, right used up and 4 mm more`: what is left of the brakes' free travel, by side [m]. */
export function sayTravel(travel: Readonly<Partial<Record<Side, number>>>): string {
  return SIDES.flatMap((side) => {
    const leftM = travel[side];
    if (leftM === undefined) return [];
    const mm = Math.round(leftM * 1000);
    if (mm > 0) return [`${side} ${mm} mm`];
    return [`${side} used up${mm === 0 ? "" : ` and ${-mm} mm more`}`];
  }).join(", ");
}

/**
 * Free travel is counted in two ways; which one a figure is, and why the other differs.
 *
 * @param shown where the figure beside it is from: the brake lines alone, or the model's trailing edge
 * @param other what the other way gives [m]; left out where it isn't known
 */
export function sayTravelApart(
  shown: "lines" | "model",
  other?: Readonly<Partial<Record<Side, number>>>,
): string {
  const words = other === undefined ? "" : sayTravel(other);
  const why = "short rear rows lower the trailing edge and give travel back, long ones take it";
  if (shown === "lines")
    return `Free brake travel is counted on the brake lines alone here. In the model ${words === "" ? "" : `it is ${words}: `}${why}. The smaller counts.`;
  const counted =
    words === ""
      ? "Findings and limits count the brake lines alone, as read."
      : `On the brake lines alone it is ${words}.`;
  return `In the model ${why}. ${counted} The smaller counts.`;
}
