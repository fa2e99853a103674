/** The part that all main rows share: the wing's or the measuring point's, which totals alone can't tell. */
import type { Deviations } from "../readings/model.ts";
import {
  meanWeights,
  type PathUncertainties,
  standardUncertainty,
  type TabWeights,
} from "../readings/uncertainty.ts";

export interface UniformPart {
  /** Mean of the main rows' mean deviations [m]. */
  readonly valueM: number;
  readonly standardUncertaintyM: number;
}

/** Weights of the mean of the main rows' means, so that a row with many tabs doesn't weigh more; empty where none was read. */
export function uniformWeights(deviations: Deviations): TabWeights {
  const rows = (["A", "B", "C", "D"] as const)
    .map((row) =>
      meanWeights(
        deviations.paths.flatMap((path, tab) =>
          path.row === row && path.deviationM !== undefined ? [tab] : [],
        ),
      ),
    )
    .filter((weights) => weights.size > 0);
  return new Map(
    rows.flatMap((row) => [...row].map(([tab, weight]) => [tab, weight / rows.length] as const)),
  );
}

/** Mean of the main rows' means [m]; undefined where none was read. */
export function uniformValue(deviations: Deviations): number | undefined {
  const weights = uniformWeights(deviations);
  if (weights.size === 0) return undefined;
  return [...weights].reduce(
    (sum, [tab, weight]) => sum + weight * (deviations.paths[tab]?.deviationM ?? 0),
    0,
  );
}

/** The same with its uncertainty. */
export function uniformPart(
  deviations: Deviations,
  uncertainties: PathUncertainties,
): UniformPart | undefined {
  const valueM = uniformValue(deviations);
  if (valueM === undefined) return undefined;
  return { valueM, standardUncertaintyM: standardUncertainty(uncertainties, uniformWeights(deviations)) };
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
