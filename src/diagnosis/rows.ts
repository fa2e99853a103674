/** Rows summed up: how far each is off, by side, and its worst path. */
import { ROWS, type Row, type Wing } from "../plan/model.ts";
import type { Deviations, PathDeviation } from "../readings/model.ts";
import type { RowSummary } from "./model.ts";

export function mean(values: readonly number[]): number | undefined {
  return values.length === 0 ? undefined : values.reduce((sum, value) => sum + value, 0) / values.length;
}

export function median(values: readonly number[]): number | undefined {
  if (values.length === 0) return undefined;
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1
    ? sorted[middle]
    : ((sorted[middle - 1] as number) + (sorted[middle] as number)) / 2;
}

export function measuredValues(paths: readonly PathDeviation[]): number[] {
  return paths.flatMap((path) => (path.deviationM === undefined ? [] : [path.deviationM]));
}

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
        meanM: mean(measuredValues(measured)),
        leftM: mean(measuredValues(measured.filter((path) => path.side === "left"))),
        rightM: mean(measuredValues(measured.filter((path) => path.side === "right"))),
        worstM: worst?.deviationM,
        worstTabKey: worst?.tabKey,
        outOfTolerance: measured.filter((path) => Math.abs(path.deviationM ?? 0) > wing.tolerances.pathM)
          .length,
        incidenceRad: measured.length > 0 ? incidenceOf(row) : undefined,
      },
    ];
  });
}
