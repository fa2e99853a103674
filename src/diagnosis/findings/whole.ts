/** The wing as a whole: what all lines share, and that nothing is out. */
import type { Finding } from "../model.ts";
import { uniformPart, uniformValue } from "../uniform.ts";
import { plainDegrees, plainMm, signedMm } from "../wording.ts";
import { type Grounds, keysOf, noteworthy, plusMinus } from "./grounds.ts";

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
      headline: `All main lines together: ${signedMm(average, 1)}${plusMinus(uncertaintyM)} on average`,
      valueM: average,
      standardUncertaintyM: uncertaintyM,
      detail:
        "A change that all lines share hardly alters the incidence. From totals alone it can't be told whether the wing or the measuring point is off by that much.",
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
      ? ""
      : ` On average the profile stands ${plainDegrees(known.meanIncidenceRad)} off the plan in the model.`;
  return {
    id: "order",
    kind: "order",
    severity: "fine",
    headline: `In order against the limits set: ${measured.length} of ${deviations.paths.length} paths read`,
    detail: `The largest deviation is ${plainMm(worst)}; the limit set is ${plainMm(wing.tolerances.pathM)} (${wing.tolerances.source}).${incidence} This is no clearance to fly.`,
    lineKeys: [],
    tabKeys: [],
    side: undefined,
  };
}
