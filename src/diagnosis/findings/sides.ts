/** The sides against each other, and what it does. */
import type { Finding } from "../model.ts";
import { plainDegrees, plainMm, signedMm } from "../wording.ts";
import { type Grounds, keysOf, noteworthy, plusMinus, sidesDoubt } from "./grounds.ts";

export function sideFindings(grounds: Grounds): Finding[] {
  const { wing, deviations, known } = grounds;
  const differences = known.rows.flatMap((summary) =>
    summary.leftM === undefined || summary.rightM === undefined || summary.row === "brake"
      ? []
      : [{ row: summary.row, difference: summary.leftM - summary.rightM }],
  );
  const widest = differences.reduce<(typeof differences)[number] | undefined>(
    (most, entry) => (!most || Math.abs(entry.difference) > Math.abs(most.difference) ? entry : most),
    undefined,
  );
  if (!widest) return [];
  const uncertaintyM = sidesDoubt(grounds, widest.row);
  if (!noteworthy(widest.difference, uncertaintyM)) return [];
  const limit = wing.tolerances.leftRightM;
  const severity =
    Math.abs(widest.difference) > limit
      ? "act"
      : Math.abs(widest.difference) > 0.6 * limit
        ? "watch"
        : "fine";
  const shorter = widest.difference < 0 ? "left" : "right";
  const { leftIncidenceRad: left, rightIncidenceRad: right } = known;
  const twist = left === undefined || right === undefined ? undefined : left - right;
  const effect =
    twist === undefined || Math.abs(twist) < 0.0005
      ? "In the model both halves keep nearly the same incidence."
      : `In the model the ${twist > 0 ? "left" : "right"} half flies ${plainDegrees(twist)} more incidence than the other, so the wing tends to turn to that side.`;
  const listed = differences
    .filter((entry) => noteworthy(entry.difference, undefined))
    .map((entry) => `${entry.row} ${signedMm(entry.difference, 1)}`)
    .join(", ");
  return [
    {
      id: "sides",
      kind: "sides",
      severity,
      headline: `${shorter === "left" ? "Left" : "Right"} side shorter: ${plainMm(widest.difference, 1)}${plusMinus(uncertaintyM)} in ${widest.row === "tip" ? "the tip lines" : `row ${widest.row}`}`,
      detail: `Left minus right, row means: ${listed}. ${effect}`,
      valueM: widest.difference,
      standardUncertaintyM: uncertaintyM,
      ...keysOf(
        wing,
        deviations.paths
          .filter((path) => path.row === widest.row && path.side === shorter)
          .map((path) => path.tabKey),
      ),
      side: shorter,
    },
  ];
}
