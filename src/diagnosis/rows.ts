/** Rows summed up: how far each is off, by side, and its worst path. */
import { ROWS, type Row, type Wing } from "../plan/model.ts";
import type { Deviations, PathDeviation } from "../readings/model.ts";
import type { RowSummary } from "./model.ts";
import { robustMean } from "./robust.ts";

export { mean, median } from "./average.ts";

export function measuredValues(paths: readonly PathDeviation[]): number[] {
  return paths.flatMap((path) => (path.deviationM === undefined ? [] : [path.deviationM]));
}

/** A path on the tolerance itself isn't beyond it; the last digits don't count [m]. */
export const SAME_LENGTH_M = 1e-7;

/**
 * Means by `robustMean`, which one blunder hardly moves; the worst path shows the blunder. Of readings in whole millimetres such
 * a mean is a multiple of half a millimetre.
 */
export function summariseRows(
  wing: Wing,
  deviations: Deviations,
  incidenceOf: (row: Row) => number | undefined,
): RowSummary[] {
  return ROWS.flatMap((row) => {
    const paths = deviations.paths.filter((path) => path.row === row);
    if (paths.length === 0) return [];
    const measured = paths.filter((path) => path.deviationM !== undefined);
    const worst = measured.reduce<PathDeviation | undefined>(
      (most, path) =>
        !most || Math.abs(path.deviationM ?? 0) > Math.abs(most.deviationM ?? 0) ? path : most,
      undefined,
    );
    return [
      {
        row,
        measured: measured.length,
        total: paths.length,
        meanM: robustMean(measuredValues(measured)),
        leftM: robustMean(measuredValues(measured.filter((path) => path.side === "left"))),
        rightM: robustMean(measuredValues(measured.filter((path) => path.side === "right"))),
        worstM: worst?.deviationM,
        worstTabKey: worst?.tabKey,
        outOfTolerance: measured.filter(
          (path) => Math.abs(path.deviationM ?? 0) > wing.tolerances.pathM + SAME_LENGTH_M,
        ).length,
        incidenceRad: measured.length > 0 ? incidenceOf(row) : undefined,
      },
    ];
  });
}
