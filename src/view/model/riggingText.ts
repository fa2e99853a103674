/** A rigging in words: what differs from the reference setting, what it does, what is left of the brakes' travel. */
import type { BrakeTravel } from "../../diagnosis/brake-travel.ts";
import { SIDES, type Wing } from "../../plan/model.ts";
import { type Rigging, referenceWeightKg } from "../state/rigging.ts";
import { degreesText } from "./format.ts";

/** What differs from the reference setting, one phrase each; empty at trim. */
export function riggingDifferences(wing: Wing, rigging: Rigging): readonly string[] {
  const settings = wing.settings.flatMap(({ id, name }) => {
    const percent = rigging.percent[id] ?? 0;
    return percent === 0 ? [] : [`${name} ${percent} %`];
  });
  const weight =
    rigging.weightKg === undefined || rigging.weightKg === referenceWeightKg(wing)
      ? []
      : [`${rigging.weightKg} kg instead of ${referenceWeightKg(wing)} kg`];
  const { left, right } = rigging.brakeMm;
  const brakes =
    left === right
      ? left === 0
        ? []
        : [`both brakes pulled ${left} mm`]
      : SIDES.flatMap((side) =>
          rigging.brakeMm[side] === 0 ? [] : [`${side} brake pulled ${rigging.brakeMm[side]} mm`],
        );
  return [...settings, ...weight, ...brakes];
}

/** What the rigging alone does to the incidence of the wing as specified, in a phrase. */
export function riggingEffect(meanRad: number | undefined): string | undefined {
  if (meanRad === undefined) return undefined;
  const sense = Math.abs(meanRad) < 0.0009 ? "unchanged" : meanRad > 0 ? "nose up" : "nose down";
  return `${degreesText(meanRad)}, ${sense}`;
}

/** "left 28 mm, right 19 mm"; where it is used up, by how much the edge is pulled. Undefined without brakes. */
export function travelText(travel: BrakeTravel | undefined): string | undefined {
  if (travel === undefined) return undefined;
  const parts = SIDES.flatMap((side) => {
    const leftM = travel[side];
    if (leftM === undefined) return [];
    const mm = Math.round(leftM * 1000);
    return [mm > 0 ? `${side} ${mm} mm` : mm === 0 ? `${side} none` : `${side} none, edge pulled ${-mm} mm`];
  });
  return parts.length === 0
    ? undefined
    : parts.join(parts.some((part) => part.includes("edge")) ? "; " : ", ");
}

/** Whether either brake has less travel than the tolerances ask for. */
export function travelShort(travel: BrakeTravel | undefined, leastM: number): boolean {
  return SIDES.some((side) => (travel?.[side] ?? Number.POSITIVE_INFINITY) < leastM);
}
