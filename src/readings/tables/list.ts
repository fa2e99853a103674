/** Finds tables with a name in every row: a row per tab or line, or a row per reading; with headings or without. */
import { say } from "../../words/index.ts";
import { type Column, readHeadings } from "../headings.ts";
import { matchName, type NameLookup } from "../names.ts";
import { readCellNumber } from "../numbers.ts";
import { findHeader } from "../table.ts";
import { columnLetter, type Grid, recordsOf } from "./cells.ts";
import { readHeading } from "./heading.ts";
import type { RecognisedColumn, RecognisedTable, TableSection } from "./recognition.ts";

export interface FoundList {
  readonly layout: RecognisedTable["layout"];
  readonly section: TableSection;
}

/** A table whose headings say what its columns are: those of `parseReadingsCsv`. */
export function headedList(grid: Grid): FoundList | undefined {
  const found = findHeader(
    grid.table.delimiter ?? "\t",
    { records: recordsOf(grid), comments: [], badQuotes: [] },
    0,
  );
  if (found.ok) {
    const { header, columns, shape } = found.table;
    const known = new Map(columns.map((column) => [column.index, column]));
    const all = header.cells.map((title, index) => headedColumn(grid, index, title.trim(), known.get(index)));
    return {
      layout: shape === "wide" ? "names" : "readings",
      section: {
        headerRow: header.line - 1,
        firstRow: header.line,
        lastRow: lastRowOf(grid, header.line),
        columns: repeated(all),
      },
    };
  }
  return splitNames(grid);
}

/** Where another header stands below, another table begins: what it holds may be something else. */
function lastRowOf(grid: Grid, from: number): number {
  const next = recordsOf(grid).find(
    (record) =>
      record.line > from && findHeader("\t", { records: [record], comments: [], badQuotes: [] }, 0).ok,
  );
  return next === undefined ? grid.height - 1 : next.line - 2;
}

const ROW_HEADING = /^\s*(?:row|reihe|ebene|rang|rang[ée]e|line row)\s*$/iu;

/** A table whose names stand in two columns, the wing's row and the tab's number. */
function splitNames(grid: Grid): FoundList | undefined {
  for (const { line, cells } of recordsOf(grid).slice(0, 20)) {
    const rowAt = cells.findIndex((text) => ROW_HEADING.test(text));
    const numberAt = cells.findIndex((text) => readHeading(text)?.isNumber === true);
    if (rowAt < 0 || numberAt < 0 || rowAt === numberAt) continue;
    const known = new Map(
      readHeadings(cells)
        .filter((column) => column.role !== "name")
        .map((column) => [column.index, column]),
    );
    const columns = cells.map((title, index): RecognisedColumn => {
      const column = headedColumn(grid, index, title.trim(), known.get(index));
      const role = index === rowAt ? "row" : index === numberAt ? "number" : column.role;
      return role === column.role ? column : { ...column, role, why: `headed "${title.trim()}"` };
    });
    const readings = columns.filter((column) => column.role === "readings");
    const bySide = columns.some((column) => column.role === "side");
    if (readings.length === 0) continue;
    return {
      layout: bySide ? "readings" : "names",
      section: { headerRow: line - 1, firstRow: line, lastRow: grid.height - 1, columns: repeated(columns) },
    };
  }
  return undefined;
}

function headedColumn(
  grid: Grid,
  index: number,
  title: string,
  column: Column | undefined,
): RecognisedColumn {
  const base = {
    index,
    label: grid.turned ? say("tables.row", { number: index + 1 }) : columnLetter(index),
    title,
    row: undefined,
    level: undefined,
    repeat: undefined,
    unit: column?.unit,
    sureness: "clear" as const,
  };
  if (column === undefined) {
    const why = title === "" ? say("tables.why.no-heading") : say("tables.why.unknown", { title });
    return { ...base, role: "ignored", side: undefined, why };
  }
  const why = say("tables.why.headed", { title });
  const { role } = column;
  if (role === "left" || role === "right") {
    const repeat = /\d+/u.exec(title)?.[0];
    return {
      ...base,
      role: "readings",
      side: role,
      repeat: repeat === undefined ? undefined : Number(repeat),
      why,
    };
  }
  return { ...base, role: role === "value" ? "readings" : role, side: undefined, why };
}

/** Several columns of one side are repeats; where nothing tells them apart that is only likely. */
function repeated(columns: readonly RecognisedColumn[]): readonly RecognisedColumn[] {
  return columns.map((column) => {
    if (column.role !== "readings" || column.side === undefined) return column;
    const same = columns.filter((other) => other.role === "readings" && other.side === column.side);
    if (same.length === 1) return column;
    const repeat = column.repeat ?? same.indexOf(column) + 1;
    const told = new Set(same.map((other) => other.repeat)).size === same.length;
    return told
      ? { ...column, repeat }
      : {
          ...column,
          repeat,
          sureness: "likely",
          why: say("tables.why.repeat", { why: column.why }),
        };
  });
}

/** At least this share of a column's cells must be names of the plan before it is taken for the names' column. */
const NAMED_SHARE = 0.6;

/**
 * A table without headings that we know: the column of the plan's names, and what holds numbers. Which side a
 * column of numbers is of must be asked.
 */
export function bareList(grid: Grid, lookup: NameLookup): FoundList | undefined {
  const rows = recordsOf(grid);
  const known = (text: string): boolean =>
    (["tab", "line"] as const).some((kind) => matchName(lookup, kind, "left", text).found !== "none");
  const columns = Array.from({ length: grid.width }, (_, index) => {
    const cells = rows.map((row) => row.cells[index]?.trim() ?? "").filter((text) => text !== "");
    return {
      index,
      cells: cells.length,
      names: cells.filter(known).length,
      numbers: cells.filter((text) => readCellNumber(text) !== undefined).length,
    };
  });
  const names = columns.find((each) => each.names >= 2 && each.names >= NAMED_SHARE * each.cells);
  const values = columns.filter(
    (each) => each.index !== names?.index && each.numbers >= 2 && each.numbers >= NAMED_SHARE * each.cells,
  );
  if (names === undefined || values.length === 0) return undefined;
  const first = rows.find((row) => known(row.cells[names.index]?.trim() ?? ""));
  const firstRow = (first?.line ?? 1) - 1;
  const titleOf = (index: number): string => (firstRow > 0 ? grid.text(firstRow - 1, index) : "");
  return {
    layout: "names",
    section: {
      headerRow: undefined,
      firstRow,
      lastRow: grid.height - 1,
      columns: columns.map(({ index }) => {
        const isName = index === names.index;
        const isValue = values.some((each) => each.index === index);
        const heading = readHeading(titleOf(index));
        const compared = heading?.holds === "specified" || heading?.holds === "difference";
        return {
          index,
          label: grid.turned ? say("tables.row", { number: index + 1 }) : columnLetter(index),
          title: titleOf(index),
          role: isName ? "name" : isValue && !compared ? "readings" : "ignored",
          side: isValue ? heading?.side : undefined,
          row: undefined,
          level: undefined,
          repeat: undefined,
          unit: isValue ? heading?.unit : undefined,
          sureness: isName ? "likely" : isValue && !compared && heading?.side === undefined ? "ask" : "clear",
          why: isName
            ? say("tables.why.names")
            : isValue
              ? compared
                ? say("tables.why.compared")
                : say("tables.why.no-side")
              : say("tables.why.neither"),
        };
      }),
    },
  };
}
