/** Row by row: how far off, on which side, and what it does to the profile and the flight. */
import type { Row } from "../../plan/model.ts";
import type { Finding, RowSummary } from "../model.ts";
import { plainDegrees, plainMm, rowName, signedMm } from "../wording.ts";
import { type Grounds, keysOf, noteworthy, plusMinus, rowDoubt, sidesDoubt } from "./grounds.ts";

/** An incidence change below this isn't worth a sentence on the flight [rad]. */
const FELT = 0.0017;

/** Row by row, the one that is off most first, with what it alone does to the profile. */
export function rowFindings(grounds: Grounds): Finding[] {
  const { wing, deviations, known } = grounds;
  const rows = known.rows.filter((summary) => summary.row !== "brake" && summary.meanM !== undefined);
  const ordered = [...rows].sort((a, b) => Math.abs(b.meanM ?? 0) - Math.abs(a.meanM ?? 0));
  const shortest = ordered.find((summary) => (summary.meanM ?? 0) < 0)?.row;
  return ordered.flatMap((summary) => {
    const average = summary.meanM as number;
    const uncertaintyM = rowDoubt(grounds, summary.row);
    if (!noteworthy(average, uncertaintyM)) return [];
    const others = rows.filter((other) => other.row !== summary.row && other.row !== "tip");
    const furthest = others.reduce<RowSummary | undefined>(
      (most, other) =>
        !most || Math.abs((other.meanM ?? 0) - average) > Math.abs((most.meanM ?? 0) - average)
          ? other
          : most,
      undefined,
    );
    const gap = furthest === undefined ? 0 : average - (furthest.meanM ?? 0);
    const { pathM, rowToRowM } = wing.tolerances;
    const severity =
      Math.abs(average) > pathM || Math.abs(gap) > rowToRowM
        ? Math.abs(average) > 0.6 * pathM
          ? "act"
          : "watch"
        : Math.abs(average) > 0.6 * pathM
          ? "watch"
          : "fine";
    const verb = average < 0 ? "short" : "long";
    const most =
      summary.row === shortest && ordered[0] === summary && others.length > 0 ? ", the most of all rows" : "";
    const over = summary.measured === 1 ? " at the one path read" : " on average";
    return [
      {
        id: `row ${summary.row}`,
        kind: "rows",
        severity,
        headline: `${rowName(summary.row)} ${plainMm(average)}${plusMinus(uncertaintyM)} ${verb}${over}${most}`,
        valueM: average,
        standardUncertaintyM: uncertaintyM,
        detail: [
          sidesSentence(grounds, summary),
          gapSentence(furthest?.row, gap),
          rowEffect(summary),
          flightSentence(summary),
        ]
          .filter((sentence) => sentence !== "")
          .join(" "),
        ...keysOf(
          wing,
          deviations.paths.filter((path) => path.row === summary.row).map((path) => path.tabKey),
        ),
        side: undefined,
      },
    ];
  });
}

function sidesSentence(grounds: Grounds, summary: RowSummary): string {
  const { leftM, rightM } = summary;
  if (leftM === undefined || rightM === undefined) return "Read on one side only.";
  const difference = leftM - rightM;
  const both = `Left ${signedMm(leftM, 1)}, right ${signedMm(rightM, 1)}`;
  const uncertaintyM = sidesDoubt(grounds, summary.row);
  if (!noteworthy(difference, uncertaintyM, 0.001))
    return `${both}: the same on both sides, as far as the readings tell.`;
  return `${both}: the ${difference < 0 ? "left" : "right"} side is shorter by ${plainMm(difference, 1)}${plusMinus(uncertaintyM)}.`;
}

function rowEffect(summary: RowSummary): string {
  const incidence = summary.incidenceRad;
  if (incidence === undefined || summary.row === "tip") return "";
  if (Math.abs(incidence) < 0.0005) return "Alone it hardly turns the profile in the model.";
  const sense = incidence > 0 ? "nose-up" : "nose-down";
  return `Alone it turns the profile ${sense} by ${plainDegrees(incidence)} on average in the model.`;
}

/** What a turned profile does in the air: common practice, no source. */
function flightSentence(summary: RowSummary): string {
  const incidence = summary.incidenceRad;
  if (incidence === undefined || summary.row === "tip" || Math.abs(incidence) < FELT) return "";
  return incidence > 0
    ? "More incidence makes the wing come up slowly, hang back and fly nearer the stall."
    : "Less incidence makes the wing faster and readier to collapse in turbulence.";
}

function gapSentence(other: Row | undefined, gap: number): string {
  if (other === undefined || !noteworthy(gap, undefined)) return "";
  return `Against row ${other} that is ${signedMm(gap)}.`;
}
