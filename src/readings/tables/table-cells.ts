/** From a recognised table to its filled cells, each with its target and its number. */

import { type Problem, SIDES, type Side, type Wing } from "../../plan/index.ts";
import { say } from "../../words/index.ts";
import { unguardFormula } from "../formula-guard.ts";
import type { Column } from "../headings.ts";
import type { LengthCell } from "../lengths.ts";
import type { NameLookup } from "../names.ts";
import { exactNumber, readCellNumber, type Unit } from "../numbers.ts";
import { warning } from "../problems.ts";
import type { CsvRecord } from "../records.ts";
import { isBlank, type ReadCells, readCells } from "../rows.ts";
import { type Grid, recordsOf } from "./cells.ts";
import { tabNumber } from "./matrix.ts";
import type { RecognisedColumn, RecognisedTable, TableSection } from "./recognition.ts";
import { tabOf, tabsOutwards } from "./tab-numbers.ts";

/** All filled cells of readings, and what is wrong with the others. */
export function tableCells(
  grid: Grid,
  recognition: RecognisedTable,
  wing: Wing,
  lookup: NameLookup,
): ReadCells {
  const parts = recognition.sections.map((section) =>
    recognition.layout === "matrix"
      ? matrixCells(grid, section, recognition, wing)
      : listCells(grid, section, recognition, lookup),
  );
  const unit =
    recognition.unitFrom === "plan" || recognition.unitFrom === "cells" ? undefined : recognition.unit;
  const cells = parts.flatMap((part) => part.cells);
  return {
    cells: unit === undefined ? cells : cells.map((cell) => ({ ...cell, unit: cell.unit ?? unit })),
    problems: parts.flatMap((part) => part.problems),
  };
}

/** A list goes the way of every CSV file. */
function listCells(
  grid: Grid,
  section: TableSection,
  recognition: RecognisedTable,
  lookup: NameLookup,
): ReadCells {
  const { columns, firstRow, lastRow } = section;
  const titles = columns.map((column) => column.title);
  while (titles.length > 0 && titles.at(-1) === "" && columns[titles.length - 1]?.role === "ignored")
    titles.pop();
  const rowAt = columns.find((column) => column.role === "row")?.index;
  const numberAt = columns.find((column) => column.role === "number")?.index;
  const composed = rowAt !== undefined && numberAt !== undefined;
  const both = columns.filter((column) => column.role === "readings" && column.side === "both");
  const known: Column[] = columns.flatMap((column) => columnsFor(column, recognition.layout));
  if (composed)
    known.push({ index: titles.length, title: titles[rowAt] ?? "row", role: "tab", unit: undefined });
  else if (numberAt !== undefined)
    known.push({ index: numberAt, title: titles[numberAt] ?? "number", role: "name", unit: undefined });

  const rows = recordsOf(grid)
    .filter(({ line }) => line - 1 >= firstRow && line - 1 <= lastRow)
    .map((record): CsvRecord => {
      if (!composed) return record;
      const name = `${record.cells[rowAt]?.trim() ?? ""}${record.cells[numberAt]?.trim() ?? ""}`;
      const put = <T>(list: readonly T[], value: T): readonly T[] => [
        ...list.slice(0, titles.length),
        value,
        ...list.slice(titles.length),
      ];
      const numbers = put(record.numbers ?? [], undefined);
      return { line: record.line, cells: put(record.cells, name), numbers };
    });
  const header = {
    line: (section.headerRow ?? firstRow) + 1,
    cells: composed ? [...titles, "name"] : titles,
  };
  const read = readCells(
    {
      delimiter: grid.table.delimiter ?? "\t",
      shape: recognition.layout === "readings" ? "long" : "wide",
      header,
      columns: known,
      unused: [],
      rows,
      before: [],
      comments: [],
      badQuotes: [],
      placeOf: (line, column) =>
        grid.place(line - 1, composed && column?.index === titles.length ? rowAt : column?.index),
    },
    lookup,
  );
  // What isn't told by rows.ts: a column that stands for both sides was given as two.
  return both.length === 0 ? read : { ...read, problems: withoutTwins(read.problems) };
}

/** A column as `rows.ts` knows it; one for both sides counts as two. */
function columnsFor(column: RecognisedColumn, layout: RecognisedTable["layout"]): readonly Column[] {
  const { index, title, role, unit, side } = column;
  const base = { index, title: title === "" ? column.label : title, unit };
  if (role === "ignored" || role === "row" || role === "number") return [];
  if (role !== "readings") return [{ ...base, role }];
  if (layout === "readings") return [{ ...base, role: "value" }];
  const sides: readonly Side[] = side === "both" ? SIDES : side === undefined ? [] : [side];
  return sides.map((each) => ({ ...base, role: each }));
}

function withoutTwins(problems: readonly Problem[]): readonly Problem[] {
  const seen = new Set<string>();
  return problems.filter(({ where, message }) => {
    const key = `${where}|${message}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

/** Marks that point to a footnote. */
const FOOTNOTE = /\s*[*†‡]+\s*$/u;

function matrixCells(grid: Grid, section: TableSection, recognition: RecognisedTable, wing: Wing): ReadCells {
  const cells: LengthCell[] = [];
  const problems: Problem[] = [];
  const numbers = section.columns.filter((column) => column.role === "number").map((column) => column.index);
  const notes = section.columns.filter((column) => column.role === "note");
  for (let row = section.firstRow; row <= section.lastRow; row++) {
    const note = notes
      .map((column) => grid.text(row, column.index))
      .filter((text) => text !== "")
      .join("; ");
    for (const column of section.columns) {
      if (column.role !== "readings" || column.row === undefined || column.level !== undefined) continue;
      const text = unguardFormula(grid.text(row, column.index));
      if (isBlank(text)) continue;
      const where = grid.place(row, column.index);
      const tell = (subject: string | undefined, message: string, remedy: string): void => {
        problems.push(warning(where, subject, message, `${remedy} ${say("readings.left-out")}`));
      };
      const number = numberFor(grid, row, column.index, numbers);
      if (number === undefined) {
        // A line of text or of means between two blocks isn't one of tabs.
        if (readCellNumber(text) !== undefined)
          tell(undefined, say("tables.no-number", { found: text }), say("tables.no-number.fix"));
        continue;
      }
      const unmarked = text.replace(FOOTNOTE, "");
      const cell = grid.at(row, column.index);
      const value = typeof cell === "number" ? exactNumber(cell) : readCellNumber(unmarked);
      const sides: readonly Side[] =
        column.side === "both" ? SIDES : column.side === undefined ? [] : [column.side];
      const told = new Set<string>();
      for (const side of sides) {
        const tab = tabOf(wing, column.row, side, number, recognition.numbering ?? "outwards");
        const name = `${column.row} ${number}`;
        if (tab === undefined) {
          const { length } = tabsOutwards(wing, column.row, side);
          const message = say("tables.number", { number, row: column.row, side, count: length });
          tell(name, message, say("tables.number.fix"));
        } else if (value === undefined) {
          const message = say("readings.length", { found: text });
          if (!told.has(message)) tell(tab.id, message, say("tables.number-only.fix"));
          told.add(message);
        } else {
          cells.push({
            where,
            line: row + 1,
            columnIndex: column.index,
            text,
            target: { kind: "tab", id: tab.id, side },
            number: value,
            unit: unitOf(value.unit, column),
            note: noteOf(note, unmarked === text ? undefined : text),
            mayBeDecimals: false,
          });
        }
      }
    }
  }
  return { cells, problems };
}

function unitOf(ofCell: Unit | undefined, column: RecognisedColumn): Unit | undefined {
  return ofCell ?? column.unit;
}

function noteOf(note: string, marked: string | undefined): string | undefined {
  const parts = [note, marked === undefined ? "" : say("tables.marked", { text: marked })].filter(
    (part) => part !== "",
  );
  return parts.length === 0 ? undefined : parts.join("; ");
}

/** The number that stands nearest to the left in the row, else nearest to the right. */
export function numberFor(
  grid: Grid,
  row: number,
  column: number,
  numberColumns: readonly number[],
): number | undefined {
  const before = numberColumns.filter((each) => each < column).at(-1);
  const at = before ?? numberColumns.find((each) => each > column);
  return at === undefined ? undefined : tabNumber(grid.at(row, at));
}
