/** A rigging in words: what differs from the reference setting, what it does, what is left of the brakes' travel. */
import type { BrakeTravel } from "../../diagnosis/brake-travel.ts";
import { trimmed } from "../../diagnosis/wording.ts";
import { SIDES, type Wing } from "../../plan/model.ts";
import { length, say } from "../../words/index.ts";
import { type Rigging, referenceWeightKg } from "../state/rigging.ts";
import { degreesText } from "./format.ts";

/** What differs from the reference setting, one phrase each; empty at trim. */
export function riggingDifferences(wing: Wing, rigging: Rigging): readonly string[] {
  const settings = wing.settings.flatMap(({ id, name }) => {
    const percent = rigging.percent[id] ?? 0;
    return percent === 0 ? [] : [say("panes.rigging.setting", { name, percent })];
  });
  const weight =
    rigging.weightKg === undefined || rigging.weightKg === referenceWeightKg(wing)
      ? []
      : [
          say("panes.rigging.weight.differs", {
            weight: trimmed(rigging.weightKg, 1),
            reference: trimmed(referenceWeightKg(wing), 1),
          }),
        ];
  const { left, right } = rigging.brakeMm;
  const brakes =
    left === right
      ? left === 0
        ? []
        : [say("panes.rigging.brake.pulled", { side: "both", pull: length(left / 1000) })]
      : SIDES.flatMap((side) =>
          rigging.brakeMm[side] === 0
            ? []
            : [say("panes.rigging.brake.pulled", { side, pull: length(rigging.brakeMm[side] / 1000) })],
        );
  return [...settings, ...weight, ...brakes];
}

/** What the rigging alone does to the incidence of the wing as specified, in a phrase. */
export function riggingEffect(meanRad: number | undefined): string | undefined {
  if (meanRad === undefined) return undefined;
  const sense = Math.abs(meanRad) < 0.0009 ? "same" : meanRad > 0 ? "up" : "down";
  return say("panes.sense.by", { angle: degreesText(meanRad), sense });
}

/** "left 28 mm, right 19 mm"; where it is used up, by how much the edge is pulled. Undefined without brakes. */
export function travelText(travel: BrakeTravel | undefined): string | undefined {
  if (travel === undefined) return undefined;
  const parts = SIDES.flatMap((side) => {
    const leftM = travel[side];
    if (leftM === undefined) return [];
    const mm = Math.round(leftM * 1000);
    const rest = mm > 0 ? "some" : mm === 0 ? "none" : "less";
    return [{ rest, text: say("panes.travel", { side, rest, travel: length(Math.abs(leftM)) }) }];
  });
  return parts.length === 0
    ? undefined
    : parts.map(({ text }) => text).join(parts.some(({ rest }) => rest === "less") ? "; " : ", ");
}

/** Whether either brake has less travel than the tolerances ask for. */
export function travelShort(travel: BrakeTravel | undefined, leastM: number): boolean {
  return SIDES.some((side) => (travel?.[side] ?? Number.POSITIVE_INFINITY) < leastM);
}
