/** Single lower lines and paths that stand apart from their row. */

import { meanWeights } from "../../readings/uncertainty.ts";
import type { Finding } from "../model.ts";
import { findOutliers } from "../outliers.ts";
import { plainMm, signedMm } from "../wording.ts";
import { doubt, type Grounds, keysOf, noteworthy, plusMinus } from "./grounds.ts";

export function singleFindings(grounds: Grounds): Finding[] {
  const { wing, deviations } = grounds;
  const tabIndex = new Map(wing.tabs.map((tab, i) => [tab.key, i]));
  const lineOf = new Map(wing.lines.map((line) => [line.key, line]));
  const tabOf = new Map(wing.tabs.map((tab) => [tab.key, tab]));
  return findOutliers(wing, deviations).map((outlier) => {
    const id = lineOf.get(outlier.lineKey)?.id ?? outlier.lineKey;
    const tabs = outlier.tabKeys.map((key) => tabOf.get(key)?.id ?? key).join(", ");
    const uncertaintyM = doubt(
      grounds,
      meanWeights(outlier.tabKeys.flatMap((key) => tabIndex.get(key) ?? [])),
    );
    const off = `${plainMm(outlier.offM)}${plusMinus(uncertaintyM)} ${outlier.offM < 0 ? "shorter" : "longer"}`;
    const detail =
      outlier.kind === "lower line"
        ? `All tabs above it (${tabs}) are off together, which points at the lower line itself: a wrong loop, a knot or a wrong line.`
        : "One path alone: read it again first; then look for a knot, a swapped or wrongly joined line.";
    return {
      id: `single ${outlier.lineKey}`,
      kind: "single" as const,
      severity:
        Math.abs(outlier.offM) > wing.tolerances.pathM && noteworthy(outlier.offM, uncertaintyM)
          ? ("act" as const)
          : ("watch" as const),
      headline:
        outlier.kind === "lower line"
          ? `${id} on the ${outlier.side}: ${off} than its row`
          : `Tab ${tabs} on the ${outlier.side}: ${off} than its row`,
      detail,
      valueM: outlier.offM,
      standardUncertaintyM: uncertaintyM,
      ...keysOf(wing, outlier.tabKeys),
      side: outlier.side,
    };
  });
}

/** Paths beyond the limit that no row, side or single finding speaks of: a wing with any isn't in order. */
export function beyondFinding({ wing, deviations }: Grounds): Finding | undefined {
  const { pathM, source } = wing.tolerances;
  const beyond = deviations.paths.filter(
    (path) => path.row !== "brake" && Math.abs(path.deviationM ?? 0) > pathM,
  );
  if (beyond.length === 0) return undefined;
  const tabOf = new Map(wing.tabs.map((tab) => [tab.key, tab]));
  const listed = beyond.map(
    (path) => `${tabOf.get(path.tabKey)?.id ?? path.tabKey} ${path.side} ${signedMm(path.deviationM ?? 0)}`,
  );
  return {
    id: "beyond",
    kind: "single",
    severity: "watch",
    headline: `${beyond.length === 1 ? "One path" : `${beyond.length} paths`} beyond the limit of ${plainMm(pathM)} (${source})`,
    detail: `${listed.join(", ")}. The rows' means are within the limits: these paths scatter about them.`,
    ...keysOf(
      wing,
      beyond.map((path) => path.tabKey),
    ),
    side: undefined,
  };
}
