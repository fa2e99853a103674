/** The sides against each other, and what it does. */
import { say } from "../../words/index.ts";
import type { Finding } from "../model.ts";
import { plainDegrees, plainMm, signedMm } from "../wording.ts";
import { type Grounds, keysOf, noteworthy, sidesDoubt, withSpread } from "./grounds.ts";

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
      ? say("diagnosis.sides.even")
      : say("diagnosis.sides.turn", { side: twist > 0 ? "left" : "right", angle: plainDegrees(twist) });
  const means = differences
    .filter((entry) => noteworthy(entry.difference, undefined))
    .map(({ row, difference }) => say("diagnosis.sides.row", { row, by: signedMm(difference, 1) }))
    .join(", ");
  return [
    {
      id: "sides",
      kind: "sides",
      severity,
      headline: say("diagnosis.sides.headline", {
        side: shorter,
        by: withSpread(plainMm(widest.difference, 1), uncertaintyM),
        row: widest.row,
      }),
      detail: `${say("diagnosis.sides.means", { means })} ${effect}`,
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
