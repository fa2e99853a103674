/** A table as cells that have been read already: a sheet, a paste from a spreadsheet, a text file. */
import { say } from "../../words/index.ts";
import { fileLine } from "../problems.ts";
import type { CsvComment, CsvRecord, CsvRecords, Delimiter } from "../records.ts";

/** What a cell holds: its text, its number, or nothing. */
export type Cell = string | number | boolean | Date | null;

/** Where a table is from: what messages call its places by. */
export type CellSource =
  | { readonly kind: "sheet"; readonly name: string }
  | { readonly kind: "pasted" }
  /** `lines`: for each row the physical line of the file that it starts on, counted from 1. */
  | { readonly kind: "file"; readonly lines: readonly number[] };

export interface CellTable {
  readonly source: CellSource;
  /** Row by row from the top left corner; rows may differ in length. */
  readonly rows: readonly (readonly Cell[])[];
  /** Comment lines that don't stand among the rows. */
  readonly comments: readonly CsvComment[];
  /** How a text was split; undefined for what never was text. */
  readonly delimiter: Delimiter | undefined;
  readonly badQuotes: CsvRecords["badQuotes"];
}

/** A spreadsheet's sheet; `rows` start at cell A1. */
export function sheetCells(name: string, rows: CellTable["rows"]): CellTable {
  return { source: { kind: "sheet", name }, rows, comments: [], delimiter: undefined, badQuotes: [] };
}

/** What a message calls the table. */
export function tableName({ source }: CellTable): string {
  return say("tables.name", { kind: source.kind, sheet: source.kind === "sheet" ? source.name : "" });
}

/** A column as a spreadsheet letters it: 0 is A, 26 is AA. */
export function columnLetter(index: number): string {
  const letter = String.fromCharCode(65 + (index % 26));
  return index < 26 ? letter : columnLetter(Math.floor(index / 26) - 1) + letter;
}

/** A place for a message, from indexes counted from 0: `sheet Readings, cell C7`, `file line 7, cell C`. */
export function cellPlace(table: CellTable, row: number, column?: number): string {
  if (table.source.kind === "file") {
    const line = fileLine(table.source.lines[row] ?? row + 1);
    return column === undefined
      ? line
      : say("tables.place", { where: line, cell: columnLetter(column), part: "cell" });
  }
  return say("tables.place", {
    where: tableName(table),
    cell: column === undefined ? row + 1 : `${columnLetter(column)}${row + 1}`,
    part: column === undefined ? "row" : "cell",
  });
}

/** A cell's text. A day is written as such: a spreadsheet makes days of numbers such as 7.4. */
export function cellText(cell: Cell | undefined): string {
  if (cell === null || cell === undefined) return "";
  if (cell instanceof Date) {
    const isDay = !Number.isNaN(cell.getTime());
    return say("tables.day", { day: isDay ? cell.toISOString().slice(0, 10) : "none" });
  }
  if (typeof cell === "boolean") return cell ? "TRUE" : "FALSE";
  return String(cell);
}

/** A table, or the same with rows and columns exchanged; its places stay those of the table as it stands. */
export interface Grid {
  readonly table: CellTable;
  readonly turned: boolean;
  readonly height: number;
  readonly width: number;
  at(row: number, column: number): Cell;
  text(row: number, column: number): string;
  place(row: number, column?: number): string;
}

export function gridOf(table: CellTable, turned: boolean): Grid {
  const across = table.rows.reduce((most, row) => Math.max(most, row.length), 0);
  const down = table.rows.length;
  const at = (row: number, column: number): Cell =>
    (turned ? table.rows[column]?.[row] : table.rows[row]?.[column]) ?? null;
  return {
    table,
    turned,
    height: turned ? across : down,
    width: turned ? down : across,
    at,
    text: (row, column) => cellText(at(row, column)).trim(),
    place: (row, column) => {
      if (!turned) return cellPlace(table, row, column);
      return column === undefined
        ? say("tables.place", { where: tableName(table), cell: columnLetter(row), part: "column" })
        : cellPlace(table, column, row);
    },
  };
}

/** A comment line among the cells: `# tension: 50 N`; "#" alone or "#N/A" isn't one. */
const COMMENT = /^#+\s*\p{L}[\p{L} ]*:/u;

/** The first filled cell of a row, if it is a comment. */
function commentOf(grid: Grid, row: number): string | undefined {
  for (let column = 0; column < grid.width; column++) {
    const text = grid.text(row, column);
    if (text !== "") return COMMENT.test(text) ? text : undefined;
  }
  return undefined;
}

/** Comments among the rows; `line` is the row's index + 1. */
export function commentsAmong(table: CellTable): readonly CsvComment[] {
  const grid = gridOf(table, false);
  return table.rows.flatMap((_, row) => {
    const comment = commentOf(grid, row);
    return comment === undefined ? [] : [{ line: row + 1, text: comment.replace(/^#+/u, "").trim() }];
  });
}

/** Rows as records, without empty ones and comments; `line` is the row's index + 1. */
export function recordsOf(grid: Grid): readonly CsvRecord[] {
  const records: CsvRecord[] = [];
  for (let row = 0; row < grid.height; row++) {
    const cells = Array.from({ length: grid.width }, (_, column) => cellText(grid.at(row, column)));
    if (cells.every((text) => text.trim() === "") || commentOf(grid, row) !== undefined) continue;
    const numbers = cells.map((_, column) => {
      const cell = grid.at(row, column);
      return typeof cell === "number" ? cell : undefined;
    });
    records.push({ line: row + 1, cells, numbers });
  }
  return records;
}
