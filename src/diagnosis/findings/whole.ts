/** The wing as a whole: what all lines share, and that nothing is out. */
import { say } from "../../words/index.ts";
import type { Finding } from "../model.ts";
import { uniformPart, uniformValue } from "../uniform.ts";
import { plainDegrees, plainMm, signedMm, sourceOf } from "../wording.ts";
import { type Grounds, keysOf, noteworthy, withSpread } from "./grounds.ts";

/** What all main rows share: it hardly alters the incidence, and may as well be the datum. */
export function uniformFinding(grounds: Grounds): Finding[] {
  const { wing, deviations, uncertainties } = grounds;
  const average = uniformValue(deviations);
  if (average === undefined) return [];
  const main = deviations.paths.filter((path) => path.row !== "brake");
  const uncertaintyM =
    uncertainties === undefined ? undefined : uniformPart(deviations, uncertainties)?.standardUncertaintyM;
  if (!noteworthy(average, uncertaintyM)) return [];
  return [
    {
      id: "uniform",
      kind: "uniform",
      severity: "fine",
      headline: say("diagnosis.uniform.headline", { by: withSpread(signedMm(average, 1), uncertaintyM) }),
      valueM: average,
      standardUncertaintyM: uncertaintyM,
      detail: say("diagnosis.uniform.detail"),
      ...keysOf(
        wing,
        main.map((path) => path.tabKey),
      ),
      side: undefined,
    },
  ];
}

export function orderFinding({ wing, deviations, known }: Grounds): Finding {
  const measured = deviations.paths.filter((path) => path.deviationM !== undefined);
  const worst = Math.max(
    ...measured.filter((path) => path.row !== "brake").map((path) => Math.abs(path.deviationM ?? 0)),
    0,
  );
  const incidence =
    known.meanIncidenceRad === undefined
      ? []
      : [say("diagnosis.order.incidence", { angle: plainDegrees(known.meanIncidenceRad) })];
  return {
    id: "order",
    kind: "order",
    severity: "fine",
    headline: say("diagnosis.order.headline", { read: measured.length, total: deviations.paths.length }),
    detail: [
      say("diagnosis.order.worst", {
        worst: plainMm(worst),
        limit: plainMm(wing.tolerances.pathM),
        source: sourceOf(wing.tolerances),
      }),
      ...incidence,
      say("diagnosis.order.clearance"),
    ].join(" "),
    lineKeys: [],
    tabKeys: [],
    side: undefined,
  };
}
