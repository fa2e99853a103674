/** Every row against every row behind it, for both sides together and for each side by itself. */
import { type Decision, type DecisionRule, decide } from "../../diagnosis/conformity.ts";
import type { Row, Side, Wing } from "../../plan/model.ts";
import type { Deviations } from "../../readings/model.ts";
import {
  differenceWeights,
  meanWeights,
  type PathUncertainties,
  standardUncertainty,
  type TabWeights,
} from "../../readings/uncertainty.ts";

export type MatrixSides = "both" | Side;
export const MATRIX_SIDES: readonly MatrixSides[] = ["both", "left", "right"];

export interface RowMean {
  readonly row: Row;
  readonly read: number;
  readonly total: number;
  /** [m]; undefined where nothing was read. */
  readonly meanM: number | undefined;
  readonly standardUncertaintyM: number;
  readonly lineKeys: readonly string[];
}

export interface RowDifference {
  readonly front: Row;
  readonly rear: Row;
  /** Mean of the front row less mean of the rear one [m]: positive where the rear row is the shorter. */
  readonly valueM: number;
  readonly standardUncertaintyM: number;
  readonly decision: Decision;
  /** All lines of both rows, of the sides compared. */
  readonly lineKeys: readonly string[];
}

/** One matrix: rows front to rear, differences by front row then rear row. */
export interface RowDifferences {
  readonly sides: MatrixSides;
  readonly means: readonly RowMean[];
  readonly differences: readonly RowDifference[];
  /** Largest |difference| + U over all matrices of the check, and at least the limit [m]: a common scale. */
  readonly extentM: number;
  readonly limitM: number;
}

/** Rows that tip the profile; tip lines and brakes don't. */
const PROFILE_ROWS: readonly Row[] = ["A", "B", "C", "D"];

/**
 * The three matrices of a check.
 *
 * @param deviations what the rows are judged by: with or without their uniform part the differences are the same
 * @param uncertainties of the same check
 */
export function rowMatrices(
  wing: Wing,
  deviations: Deviations,
  uncertainties: PathUncertainties,
  rule: DecisionRule,
): Readonly<Record<MatrixSides, RowDifferences>> {
  const limitM = wing.tolerances.rowToRowM;
  const parts = MATRIX_SIDES.map((sides) => {
    const means = PROFILE_ROWS.flatMap((row): (RowMean & { readonly weights: TabWeights })[] => {
      const all = deviations.paths.flatMap((path, tab) =>
        path.row === row && (sides === "both" || path.side === sides) ? [tab] : [],
      );
      if (all.length === 0) return [];
      const read = all.filter((tab) => uncertainties.read[tab] === 1);
      const weights = meanWeights(read);
      return [
        {
          row,
          read: read.length,
          total: all.length,
          meanM: read.length === 0 ? undefined : weighted(deviations, weights),
          standardUncertaintyM: standardUncertainty(uncertainties, weights),
          lineKeys: wing.lines.flatMap((line) =>
            line.row === row && (sides === "both" || line.side === sides) ? [line.key] : [],
          ),
          weights,
        },
      ];
    });
    const differences = means.flatMap((front, place) =>
      means.slice(place + 1).flatMap((rear): RowDifference[] => {
        if (front.meanM === undefined || rear.meanM === undefined) return [];
        const weights = differenceWeights(front.weights, rear.weights);
        const valueM = weighted(deviations, weights);
        const standardUncertaintyM = standardUncertainty(uncertainties, weights);
        return [
          {
            front: front.row,
            rear: rear.row,
            valueM,
            standardUncertaintyM,
            decision: decide(valueM, standardUncertaintyM, { lower: -limitM, upper: limitM }, rule),
            lineKeys: [...front.lineKeys, ...rear.lineKeys],
          },
        ];
      }),
    );
    return { sides, means: means.map(({ weights: _, ...mean }) => mean), differences };
  });
  const extentM = Math.max(
    limitM * 1.25,
    ...parts.flatMap(({ differences }) =>
      differences.map(
        ({ valueM, standardUncertaintyM }) => Math.abs(valueM) + 2 * standardUncertaintyM + limitM * 0.1,
      ),
    ),
  );
  const [both, left, right] = parts.map((part) => ({ ...part, extentM, limitM }));
  return { both: both as RowDifferences, left: left as RowDifferences, right: right as RowDifferences };
}

function weighted(deviations: Deviations, weights: TabWeights): number {
  let sum = 0;
  for (const [tab, weight] of weights) sum += weight * (deviations.paths[tab]?.deviationM ?? 0);
  return sum;
}
