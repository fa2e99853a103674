/** The brakes: what is left of their free travel. */
import type { Finding } from "../model.ts";
import { robustMean } from "../robust.ts";
import { measuredValues } from "../rows.ts";
import { plainMm, shortOrLong } from "../wording.ts";
import { type Grounds, keysOf, noteworthy, plusMinus, rowDoubt } from "./grounds.ts";

/** Common knowledge of the trade; accidents from it were found by a national association's investigations. */
const BRAKED =
  "A wing that is braked with hands up flies slower, comes up badly and stalls sooner; accidents have come of it.";

/** Brakes first: shrunk brake lines that have used up their travel brake the wing with hands up. */
export function brakeFindings(grounds: Grounds): Finding[] {
  const { wing, deviations } = grounds;
  if (!wing.brakes) return [];
  const brakes = deviations.paths.filter((path) => path.row === "brake" && path.deviationM !== undefined);
  const values = measuredValues(brakes);
  const average = robustMean(values);
  if (average === undefined) return [];
  const free = wing.brakes.freeTravelM;
  // The first brake tab to be pulled is the one that has lost most.
  const worst = Math.min(...values);
  const left = free + worst;
  const limit = wing.tolerances.minBrakeFreeTravelM;
  const severity = left < limit ? "act" : Math.abs(average) > wing.tolerances.pathM ? "watch" : "fine";
  const uncertaintyM = rowDoubt(grounds, "brake");
  if (severity === "fine" && !noteworthy(average, uncertaintyM)) return [];
  const travel =
    left > 0
      ? `Of ${plainMm(free)} free travel about ${plainMm(left)} is left at the tab that has lost most.`
      : `Counted on the brake lines alone, the free travel of ${plainMm(free)} is used up, by about ${plainMm(left)} at the shortest tab, which then pulls at the trailing edge with hands up.`;
  const needed = left < limit ? ` At least ${plainMm(limit)} is set as the limit.` : "";
  return [
    {
      id: "brake",
      kind: "brake",
      severity,
      headline: `Brake lines ${plainMm(average)}${plusMinus(uncertaintyM)} ${shortOrLong(average)} on average`,
      detail: `${travel}${needed}${left < limit ? ` ${BRAKED}` : ""}`,
      valueM: average,
      standardUncertaintyM: uncertaintyM,
      ...keysOf(
        wing,
        brakes.map((path) => path.tabKey),
      ),
      side: undefined,
    },
  ];
}
