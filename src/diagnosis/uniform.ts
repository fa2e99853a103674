/** The part that all main rows share: the wing's or the measuring point's, which totals alone can't tell. */
import type { Deviations } from "../readings/model.ts";
import { meanWeights, type PathUncertainties, type TabWeights } from "../readings/uncertainty.ts";
import { mean } from "./average.ts";
import { robustMean, robustUncertainty } from "./robust.ts";

export interface UniformPart {
  /** Mean of the main rows' mean deviations [m]. */
  readonly valueM: number;
  readonly standardUncertaintyM: number;
}

/** Tabs read of each main row that has any. */
function rowsRead(deviations: Deviations): readonly (readonly number[])[] {
  return (["A", "B", "C", "D"] as const)
    .map((row) =>
      deviations.paths.flatMap((path, tab) =>
        path.row === row && path.deviationM !== undefined ? [tab] : [],
      ),
    )
    .filter((tabs) => tabs.length > 0);
}

/**
 * Mean of the main rows' means [m], so that a row with many tabs doesn't weigh more; undefined where none was read. The rows'
 * means are robust against blunders; over the rows the mean is plain: a whole row that is off is no blunder.
 */
export function uniformValue(deviations: Deviations): number | undefined {
  return mean(
    rowsRead(deviations).map((tabs) =>
      robustMean(tabs.map((tab) => deviations.paths[tab]?.deviationM as number)),
    ) as number[],
  );
}

/** The same with its uncertainty. */
export function uniformPart(
  deviations: Deviations,
  uncertainties: PathUncertainties,
): UniformPart | undefined {
  const valueM = uniformValue(deviations);
  if (valueM === undefined) return undefined;
  const rows = rowsRead(deviations);
  const means = rows.map(
    (tabs): TabWeights => new Map([...meanWeights(tabs)].map(([tab, weight]) => [tab, weight / rows.length])),
  );
  return { valueM, standardUncertaintyM: robustUncertainty(uncertainties, means) };
}

/**
 * Deviations less their uniform part. The brakes stay as read: to count their shortening as the measuring point's would
 * hide free travel that is gone.
 */
export function withoutUniform(deviations: Deviations, part: Pick<UniformPart, "valueM">): Deviations {
  return {
    ...deviations,
    paths: deviations.paths.map((path) =>
      path.row === "brake" || path.deviationM === undefined || path.measuredM === undefined
        ? path
        : { ...path, measuredM: path.measuredM - part.valueM, deviationM: path.deviationM - part.valueM },
    ),
  };
}
