/** Figures and names in sentences: lengths in the unit that is set, degrees with two decimals, a true minus sign. */

import { SIDES, type Side, type Tolerances } from "../plan/model.ts";
import { fixed, length, say, signedFixed, signedLength } from "../words/index.ts";

export { trimmed, trimmedLength as trimmedMm, trimmedLengthNumber as trimmedNumber } from "../words/index.ts";

/** `−12 mm`, `+3 mm`, `0 mm`. @param decimals as in millimetres */
export function signedMm(valueM: number, decimals = 0): string {
  return signedLength(valueM, decimals);
}

/** `12 mm`, without a sign. @param decimals as in millimetres */
export function plainMm(valueM: number, decimals = 0): string {
  return length(Math.abs(valueM), decimals);
}

/** `+0.65°`. */
export function signedDegrees(valueRad: number): string {
  return `${signedFixed((valueRad * 180) / Math.PI, 2)}°`;
}

/** `0.65°`, without a sign. */
export function plainDegrees(valueRad: number): string {
  return `${fixed(Math.abs((valueRad * 180) / Math.PI), 2)}°`;
}

/** The case of a message that tells short from long. */
export function wayOf(valueM: number): "short" | "long" {
  return valueM < 0 ? "short" : "long";
}

/** A tab or line with its side: `A1 left`. */
export function sidedName(id: string, side: Side): string {
  return say("diagnosis.name", { id, side });
}

/** Where the limits come from, in the user's words; the plan's default in the language set. */
export function sourceOf({ source }: Pick<Tolerances, "source">): string {
  switch (source.trim().toLowerCase()) {
    case "common practice":
      return say("diagnosis.source.common");
    case "the plan, which names no source":
      return say("diagnosis.source.unnamed");
    default:
      return source;
  }
}

/** `left 8 mm, right used up and 4 mm more`: what is left of the brakes' free travel, by side [m]. */
export function sayTravel(travel: Readonly<Partial<Record<Side, number>>>): string {
  return SIDES.flatMap((side) => {
    const leftM = travel[side];
    if (leftM === undefined) return [];
    const mm = Math.round(leftM * 1000);
    const rest = mm > 0 ? "some" : mm === 0 ? "none" : "less";
    return [say("diagnosis.travel.side", { side, rest, travel: plainMm(leftM) })];
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
  const travel = other === undefined ? "" : sayTravel(other);
  const known = travel === "" ? "no" : "yes";
  return say(shown === "lines" ? "diagnosis.travel.lines" : "diagnosis.travel.model", { known, travel });
}
