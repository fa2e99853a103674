/** What is worth saying about a check, in words, ranked by what matters to the person who flies the wing. */
import type { Wing } from "../plan/model.ts";
import type { Deviations } from "../readings/model.ts";
import type { PathUncertainties } from "../readings/uncertainty.ts";
import { brakeFindings } from "./findings/brakes.ts";
import type { Grounds } from "./findings/grounds.ts";
import { rowFindings } from "./findings/rows.ts";
import { sideFindings } from "./findings/sides.ts";
import { beyondFinding, singleFindings } from "./findings/single.ts";
import { orderFinding, uniformFinding } from "./findings/whole.ts";
import type { Finding } from "./model.ts";

/**
 * @param uncertainties of the same check: figures carry them, and what drowns in them isn't said
 */
export function findingsOf(
  wing: Wing,
  deviations: Deviations,
  known: Grounds["known"],
  uncertainties?: PathUncertainties,
): Finding[] {
  if (!deviations.paths.some((path) => path.deviationM !== undefined)) return [];
  const grounds: Grounds = { wing, deviations, known, uncertainties };
  const found = [
    ...brakeFindings(grounds),
    ...rowFindings(grounds),
    ...sideFindings(grounds),
    ...singleFindings(grounds),
    ...uniformFinding(grounds),
  ];
  const rank = { act: 0, watch: 1, fine: 2 };
  const ranked = found
    .map((finding, order) => ({ finding, order }))
    .sort((a, b) => rank[a.finding.severity] - rank[b.finding.severity] || a.order - b.order)
    .map(({ finding }) => finding);
  if (ranked.some((finding) => finding.severity !== "fine")) return ranked;
  return [beyondFinding(grounds) ?? orderFinding(grounds), ...ranked];
}
