/** Row by row: how far off, on which side, and what it does to the profile and the flight. */
import type { Row } from "../../plan/model.ts";
import { say } from "../../words/index.ts";
import type { Finding, RowSummary } from "../model.ts";
import { plainDegrees, plainMm, signedMm, wayOf } from "../wording.ts";
import { type Grounds, keysOf, noteworthy, rowDoubt, sidesDoubt, withSpread } from "./grounds.ts";

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
    const isMost = summary.row === shortest && ordered[0] === summary && others.length > 0;
    return [
      {
        id: `row ${summary.row}`,
        kind: "rows",
        severity,
        headline: say("diagnosis.rows.headline", {
          row: summary.row,
          by: withSpread(plainMm(average), uncertaintyM),
          way: wayOf(average),
          read: summary.measured === 1 ? "one" : "several",
          most: isMost ? "yes" : "no",
        }),
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
  if (leftM === undefined || rightM === undefined) return say("diagnosis.rows.one-side");
  const difference = leftM - rightM;
  const both = { left: signedMm(leftM, 1), right: signedMm(rightM, 1) };
  const uncertaintyM = sidesDoubt(grounds, summary.row);
  if (!noteworthy(difference, uncertaintyM, 0.001)) return say("diagnosis.rows.alike", both);
  return say("diagnosis.rows.apart", {
    ...both,
    side: difference < 0 ? "left" : "right",
    by: withSpread(plainMm(difference, 1), uncertaintyM),
  });
}

function rowEffect(summary: RowSummary): string {
  const incidence = summary.incidenceRad;
  if (incidence === undefined || summary.row === "tip") return "";
  if (Math.abs(incidence) < 0.0005) return say("diagnosis.rows.still");
  return say("diagnosis.rows.turn", { sense: incidence > 0 ? "up" : "down", angle: plainDegrees(incidence) });
}

/** What a turned profile does in the air: common practice, no source. */
function flightSentence(summary: RowSummary): string {
  const incidence = summary.incidenceRad;
  if (incidence === undefined || summary.row === "tip" || Math.abs(incidence) < FELT) return "";
  return say(incidence > 0 ? "diagnosis.rows.more" : "diagnosis.rows.less");
}

function gapSentence(other: Row | undefined, gap: number): string {
  if (other === undefined || !noteworthy(gap, undefined)) return "";
  return say("diagnosis.rows.gap", { row: other, gap: signedMm(gap) });
}
