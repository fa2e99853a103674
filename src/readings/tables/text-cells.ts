/** A text as a table of cells: a file of separated values, or what a spreadsheet puts on the clipboard. */
import { readCellNumber } from "../numbers.ts";
import { type CsvRecords, DELIMITERS, type Delimiter, plainText, readRecords } from "../records.ts";
import { findTable } from "../table.ts";
import { type CellTable, sheetCells } from "./cells.ts";
import { readHeading } from "./heading.ts";

/**
 * Cells of a paste: separated by tabs, cells with line breaks or tabs in them in double quotes (as spreadsheets
 * write them). A paste without any tab is split as {@link fileCells} splits.
 */
export function pastedCells(text: string): CellTable {
  const plain = plainText(text);
  const delimiter = plain.includes("\t") ? "\t" : delimiterOf(plain);
  return { ...withPlaces(plain, delimiter), source: { kind: "pasted" } };
}

/**
 * Cells of a text file. The delimiter is the one with which the headings make sense, else the one that leaves
 * most cells to be numbers and headings.
 */
export function fileCells(text: string): CellTable {
  const plain = plainText(text);
  const delimiter = delimiterOf(plain);
  const { records, comments, badQuotes } = recordsWith(plain, delimiter);
  return {
    ...sheetCells(
      "",
      records.map((record) => record.cells),
    ),
    source: { kind: "file", lines: records.map((record) => record.line) },
    comments,
    delimiter,
    badQuotes,
  };
}

/** Keeps empty rows, so that a cell's address is that of the range that was copied. */
function withPlaces(plain: string, delimiter: Delimiter): Omit<CellTable, "source"> {
  const { records, comments, badQuotes } = recordsWith(plain, delimiter);
  const rows: (readonly string[])[] = [];
  // A quoted cell spans lines of the text but is one row of the sheet: only gaps between records are counted.
  const lines = plain.split("\n");
  let after = 1;
  for (const { line, cells } of records) {
    const between = lines.slice(after - 1, line - 1);
    rows.push(...between.map(() => []));
    rows.push(cells);
    after = line + 1 + cells.reduce((breaks, cell) => breaks + (cell.match(/\n/gu)?.length ?? 0), 0);
  }
  return { rows, comments, delimiter, badQuotes };
}

function recordsWith(plain: string, delimiter: Delimiter): CsvRecords {
  const split = readRecords(plain, delimiter);
  const stated = STATED.test(plain) ? 1 : 0;
  return { ...split, records: split.records.filter((record) => record.line > stated) };
}

const STATED = /^"?sep=([,;\t])"?(?=\n|$)/iu;

function delimiterOf(plain: string): Delimiter {
  const stated = STATED.exec(plain)?.[1];
  const known = DELIMITERS.find((delimiter) => delimiter === stated);
  if (known !== undefined) return known;
  const found = findTable(plain);
  if (found.ok) return found.table.delimiter;
  const scored = DELIMITERS.map((delimiter) => ({ delimiter, score: understood(plain, delimiter) }));
  return scored.sort((one, other) => other.score - one.score)[0]?.delimiter ?? ",";
}

/** How many cells mean something where a text is split so; single cells in a row don't count. */
function understood(plain: string, delimiter: Delimiter): number {
  const means = (cell: string): boolean =>
    readCellNumber(cell) !== undefined || (cell.trim() !== "" && readHeading(cell) !== undefined);
  return readRecords(plain, delimiter)
    .records.filter((record) => record.cells.length > 1)
    .reduce((sum, record) => sum + record.cells.filter(means).length, 0);
}
