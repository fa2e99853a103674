/** The brakes: what is left of their free travel. */
import { say } from "../../words/index.ts";
import type { Finding } from "../model.ts";
import { robustMean } from "../robust.ts";
import { measuredValues } from "../rows.ts";
import { plainMm, wayOf } from "../wording.ts";
import { type Grounds, keysOf, noteworthy, rowDoubt, withSpread } from "./grounds.ts";

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
      ? say("diagnosis.brake.left", { free: plainMm(free), left: plainMm(left) })
      : say("diagnosis.brake.used", { free: plainMm(free), by: plainMm(left) });
  // What braked wings do is common knowledge of the trade; accidents from it were found by a national association's investigations.
  const needed =
    left < limit
      ? [say("diagnosis.brake.limit", { limit: plainMm(limit) }), say("diagnosis.brake.braked")]
      : [];
  return [
    {
      id: "brake",
      kind: "brake",
      severity,
      headline: say("diagnosis.brake.headline", {
        by: withSpread(plainMm(average), uncertaintyM),
        way: wayOf(average),
      }),
      detail: [travel, ...needed].join(" "),
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
