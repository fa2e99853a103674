/** Whatever a table of lengths comes as, as cells of text; and the unit that its figures look like. */
import { type CellTable, cellText } from "../../readings/tables/cells.ts";
import { pastedCells } from "../../readings/tables/text-cells.ts";
import type { TableUnit } from "./build-table.ts";

export type Cells = readonly (readonly string[])[];

/** A paste is parted by tabs or signs; one without either by blanks, as text from a printed sheet is. */
export function cellsOf(text: string): Cells {
  const { rows, delimiter } = pastedCells(text);
  const cells = rows.map((row) => row.map(cellText));
  const parted = delimiter !== undefined && cells.some((row) => row.length > 1);
  return parted ? cells : text.split(/\r?\n/u).map((line) => line.trim().split(/\s+/u));
}

/** Of several sheets the one with most cells filled. @returns undefined where none is */
export function sheetOf(tables: readonly CellTable[]): Cells | undefined {
  const filled = (cells: Cells): number => cells.flat().filter((cell) => cell !== "").length;
  const [fullest] = tables
    .map(({ rows }): Cells => rows.map((row) => row.map(cellText)))
    .sort((a, b) => filled(b) - filled(a));
  return fullest === undefined || filled(fullest) === 0 ? undefined : fullest;
}

/** Metres where all figures are as small as metres are. */
export function unitOf(cells: Cells): TableUnit {
  const figures = cells
    .flat()
    .map((cell) => cell.trim().replace(",", "."))
    .filter((cell) => /^\d+\.\d+$/u.test(cell))
    .map(Number);
  const whole = cells.flat().some((cell) => /^\d{3,}$/u.test(cell.trim()));
  return figures.length > 2 && !whole && figures.every((figure) => figure < 15) ? "m" : "mm";
}
