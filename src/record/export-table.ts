/**
 * Tables for other programs as plain data: headings in English with their units, figures as numbers, in every language
 * alike. `export-csv.ts` and `export-xlsx.ts` write them.
 */

/** Text, a number in its column's unit, a day, or nothing there. */
export type ExportCell = string | number | ExportDay | undefined;

export interface ExportDay {
  /** ISO date, its first ten characters. */
  readonly day: string;
}

export type ExportUnit = "mm" | "m" | "m²" | "N" | "kg" | "degrees" | "ppm";

/** Headings: the same in every language, for programs. */
export type ExportColumnName =
  | "tab"
  | "line"
  | "side"
  | "row"
  | "rib"
  | "tier"
  | "mm"
  | "note"
  | "specified"
  | "measured"
  | "deviation"
  | "standard uncertainty"
  | "readings"
  | "spread"
  | "tolerance"
  | "decision"
  | "probability"
  | "paths"
  | "mean"
  | "mean left"
  | "mean right"
  | "worst"
  | "worst tab"
  | "worst side"
  | "beyond tolerance"
  | "incidence change"
  | "basis"
  | "attributed change"
  | "across"
  | "low 95"
  | "high 95"
  | "readings low 95"
  | "readings high 95"
  | "maillon"
  | "loop now"
  | "take-up now"
  | "loop then"
  | "take-up then"
  | "take-up from"
  | "change"
  | "expected";

export interface ExportColumn {
  readonly name: ExportColumnName;
  /** Of its numbers; undefined for text, counts, and where the name is the unit. */
  readonly unit?: ExportUnit;
  /** Decimals that a spreadsheet shows; the number itself keeps what it has. */
  readonly decimals?: number;
}

export type ExportTableName =
  | "readings"
  | "deviations"
  | "rows"
  | "lines"
  | "incidence"
  | "loop plan"
  | "after the loops";

export interface ExportTable {
  readonly name: ExportTableName;
  readonly head: readonly ExportColumn[];
  /** As many cells a row as there are columns. */
  readonly rows: readonly (readonly ExportCell[])[];
}

/** A column's heading, its unit last: `deviation mm`. */
export function headingOf({ name, unit }: ExportColumn): string {
  return unit === undefined ? name : `${name} ${unit}`;
}

export function isDay(cell: ExportCell): cell is ExportDay {
  return typeof cell === "object";
}

/** Metres → millimetres to a thousandth: no figure of a wing is finer. Undefined where there is no figure. */
export function inMm(lengthM: number | undefined): number | undefined {
  return finite(lengthM === undefined ? undefined : lengthM * 1000, 3);
}

/** Radians → degrees to a thousandth. */
export function inDegrees(angleRad: number | undefined): number | undefined {
  return finite(angleRad === undefined ? undefined : (angleRad * 180) / Math.PI, 3);
}

/** Rounded to so many decimals; undefined where it is no number that a cell can hold. */
export function finite(value: number | undefined, decimals: number): number | undefined {
  if (value === undefined || !Number.isFinite(value)) return undefined;
  // Adding zero makes −0 a plain 0.
  return Number(value.toFixed(decimals)) + 0;
}
