/** Single lower lines and paths that stand apart from their row. */

import { meanWeights } from "../../readings/uncertainty.ts";
import { say } from "../../words/index.ts";
import type { Finding } from "../model.ts";
import { findOutliers } from "../outliers.ts";
import { plainMm, sidedName, signedMm, sourceOf, wayOf } from "../wording.ts";
import { doubt, type Grounds, keysOf, noteworthy, withSpread } from "./grounds.ts";

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
    const isLine = outlier.kind === "lower line";
    return {
      id: `single ${outlier.lineKey}`,
      kind: "single" as const,
      severity:
        Math.abs(outlier.offM) > wing.tolerances.pathM && noteworthy(outlier.offM, uncertaintyM)
          ? ("act" as const)
          : ("watch" as const),
      headline: say("diagnosis.single.headline", {
        kind: isLine ? "line" : "tab",
        name: isLine ? id : tabs,
        side: outlier.side,
        by: withSpread(plainMm(outlier.offM), uncertaintyM),
        way: wayOf(outlier.offM),
      }),
      detail: isLine ? say("diagnosis.single.line", { tabs }) : say("diagnosis.single.path"),
      valueM: outlier.offM,
      standardUncertaintyM: uncertaintyM,
      ...keysOf(wing, outlier.tabKeys),
      side: outlier.side,
    };
  });
}

/** Paths beyond the limit that no row, side or single finding speaks of: a wing with any isn't in order. */
export function beyondFinding({ wing, deviations }: Grounds): Finding | undefined {
  const { pathM } = wing.tolerances;
  const beyond = deviations.paths.filter(
    (path) => path.row !== "brake" && Math.abs(path.deviationM ?? 0) > pathM,
  );
  if (beyond.length === 0) return undefined;
  const tabOf = new Map(wing.tabs.map((tab) => [tab.key, tab]));
  const names = beyond.map(
    (path) =>
      `${sidedName(tabOf.get(path.tabKey)?.id ?? path.tabKey, path.side)} ${signedMm(path.deviationM ?? 0)}`,
  );
  return {
    id: "beyond",
    kind: "single",
    severity: "watch",
    headline: say("diagnosis.beyond.headline", {
      count: beyond.length,
      limit: plainMm(pathM),
      source: sourceOf(wing.tolerances),
    }),
    detail: say("diagnosis.beyond.detail", { names: names.join(", ") }),
    ...keysOf(
      wing,
      beyond.map((path) => path.tabKey),
    ),
    side: undefined,
  };
}
