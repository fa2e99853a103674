/** What a recognised table leaves open: to be settled (errors) or looked at (warnings) before it is read. */

import type { Problem, Row, Wing } from "../../plan/index.ts";
import { say } from "../../words/index.ts";
import { readCellNumber } from "../numbers.ts";
import { failure, warning } from "../problems.ts";
import { type CellTable, type Grid, gridOf, tableName } from "./cells.ts";
import type { RecognisedColumn, RecognisedTable, TableSection } from "./recognition.ts";
import { namesAgree } from "./tab-numbers.ts";
import { numberFor } from "./table-cells.ts";

/** Asked anew of every recognition, so that what was changed by hand is no longer asked. */
export function openQuestions(
  table: CellTable,
  wing: Wing,
  recognition: RecognisedTable,
): readonly Problem[] {
  const grid = gridOf(table, recognition.orientation === "across");
  return [
    ...wholeTable(table, wing, recognition),
    ...recognition.sections.flatMap((section) => [
      ...sidesUnknown(grid, section, recognition),
      ...lookOver(grid, section, recognition),
    ]),
    ...outside(grid, recognition),
    ...twice(grid, recognition),
  ];
}

function wholeTable(table: CellTable, wing: Wing, recognition: RecognisedTable): readonly Problem[] {
  const problems: Problem[] = [];
  const columns = recognition.sections.flatMap((section) => section.columns);
  const where = tableName(table);
  if (recognition.holds === "specified") {
    problems.push(failure(where, say("tables.ask.specified"), say("tables.ask.specified.fix")));
  }
  if (!columns.some((column) => column.role === "readings"))
    problems.push(failure(where, say("readings.table.no-readings"), say("tables.ask.column")));
  const named: readonly string[] = ["tab", "line", "name", "number"];
  if (!columns.some((column) => named.includes(column.role)))
    problems.push(failure(where, say("readings.table.no-names"), say("tables.ask.column")));
  if (recognition.layout === "matrix") problems.push(...numbering(where, wing, recognition));
  return problems;
}

function numbering(where: string, wing: Wing, recognition: RecognisedTable): readonly Problem[] {
  const rows = new Set<Row>(
    recognition.sections.flatMap((section) =>
      section.columns.flatMap((column) => (column.role === "readings" ? (column.row ?? []) : [])),
    ),
  );
  const { agree, example } = namesAgree(wing, rows);
  if (example === undefined || recognition.numbering === "names") return [];
  const { row, number, id } = example;
  const found = { number, row, id };
  if (agree === "contradict" && recognition.numbering === undefined) {
    const remedy = say("tables.ask.numbering");
    return [failure(where, say("tables.numbering.ask", found), remedy)];
  }
  const message = say("tables.numbering.differs", found);
  return [warning(where, undefined, message, say("tables.check-plan"))];
}

function sidesUnknown(grid: Grid, section: TableSection, recognition: RecognisedTable): readonly Problem[] {
  if (recognition.layout === "readings") return [];
  const without = section.columns.filter((column) => column.role === "readings" && column.side === undefined);
  if (without.length === 0) return [];
  const message = say("tables.ask.side", { columns: listed(without) });
  const remedy = say("tables.ask.side.fix");
  return [failure(grid.place(section.headerRow ?? section.firstRow), message, remedy)];
}

function listed(columns: readonly RecognisedColumn[]): string {
  const names = columns.map(({ label, title }) => (title === "" ? label : `${label} ("${title}")`));
  const isLetter = /^\p{Lu}+$/u.test(columns[0]?.label ?? "");
  return say("tables.columns", {
    kind: isLetter ? "letters" : "rows",
    count: names.length,
    names: names.join(", "),
  });
}

/** Columns that hold numbers but aren't used, and such that stand for both sides or are taken for repeats. */
function lookOver(grid: Grid, section: TableSection, recognition: RecognisedTable): readonly Problem[] {
  const problems: Problem[] = [];
  const where = grid.place(section.headerRow ?? section.firstRow);
  const unused = section.columns.filter(
    (column) => column.role === "ignored" && holdsNumbers(grid, section, column.index),
  );
  if (unused.length > 0) {
    const why = [...new Set(unused.map((column) => column.why))].join("; ");
    problems.push(
      warning(
        where,
        undefined,
        say("tables.unused", { columns: listed(unused), why }),
        say("tables.unused.fix"),
      ),
    );
  }
  const single = section.columns.filter((column) => column.role === "readings" && column.level !== undefined);
  if (recognition.layout === "matrix" && single.length > 0) {
    const message = say("tables.single", { columns: listed(single) });
    problems.push(warning(where, undefined, message, say("tables.single.fix")));
  }
  const both = section.columns.filter((column) => column.role === "readings" && column.side === "both");
  if (both.length > 0) {
    const message = say("tables.both", { columns: listed(both) });
    problems.push(warning(where, undefined, message, say("tables.both.fix")));
  }
  const alike = section.columns.filter(
    (column) => column.role === "readings" && isAlike(column, section, recognition),
  );
  if (alike.length > 0) {
    const message = say("tables.alike", { columns: listed(alike) });
    const remedy = say("tables.alike.fix");
    problems.push(warning(where, undefined, message, remedy));
  }
  return problems;
}

/** Rows with numbers that no section takes in: another table below, a tip line after the numbered rows. */
function outside(grid: Grid, { sections, orientation }: RecognisedTable): readonly Problem[] {
  const first = Math.min(...sections.map((section) => section.firstRow));
  const readings = new Set(
    sections.flatMap((section) =>
      section.columns.filter((column) => column.role === "readings").map((column) => column.index),
    ),
  );
  const rows: number[] = [];
  for (let row = first; row < grid.height; row++) {
    if (sections.some((section) => row >= section.firstRow && row <= section.lastRow)) continue;
    if ([...readings].some((column) => readCellNumber(grid.text(row, column)) !== undefined))
      rows.push(row + 1);
  }
  if (rows.length === 0) return [];
  const message = say("tables.outside", {
    way: orientation,
    places: `${rows.slice(0, 8).join(", ")}${rows.length > 8 ? " …" : ""}`,
  });
  return [warning(tableName(grid.table), undefined, message, say("tables.outside.fix"))];
}

/** Two columns of the same readings whose headings don't tell them apart. */
function isAlike(column: RecognisedColumn, section: TableSection, { layout }: RecognisedTable): boolean {
  if (layout === "readings") return false;
  return section.columns.some(
    (other) =>
      other.index !== column.index &&
      other.role === "readings" &&
      other.side === column.side &&
      other.side !== undefined &&
      other.row === column.row &&
      other.level === column.level &&
      other.title === column.title,
  );
}

function holdsNumbers(grid: Grid, section: TableSection, column: number): boolean {
  for (let row = section.firstRow; row <= section.lastRow; row++)
    if (readCellNumber(grid.text(row, column)) !== undefined) return true;
  return false;
}

/** A name or a number that heads two rows with readings of the same: perhaps a repeat, perhaps a slip. */
function twice(grid: Grid, recognition: RecognisedTable): readonly Problem[] {
  if (recognition.layout === "readings") return [];
  const seen = new Map<string, string>();
  const problems: Problem[] = [];
  for (const section of recognition.sections) {
    if (section.columns.some((column) => column.role === "repeat")) continue;
    const numbers = section.columns
      .filter((column) => column.role === "number")
      .map((column) => column.index);
    const names = section.columns
      .filter((column) => NAMES.includes(column.role))
      .map((column) => column.index);
    for (let row = section.firstRow; row <= section.lastRow; row++) {
      for (const column of section.columns) {
        if (column.role !== "readings" || readCellNumber(grid.text(row, column.index)) === undefined)
          continue;
        const name =
          recognition.layout === "matrix"
            ? `${column.row} ${numberFor(grid, row, column.index, numbers) ?? ""}`
            : names.map((each) => grid.text(row, each).toLowerCase()).join("");
        const key = `${name} ${column.side} ${column.level} ${column.repeat}`;
        const place = grid.place(row, column.index);
        const before = seen.get(key);
        if (before === undefined) seen.set(key, place);
        else {
          const message = say("tables.second", {
            name: name.toUpperCase(),
            side: column.side ?? "none",
            first: before,
          });
          problems.push(warning(place, name.toUpperCase(), message, say("tables.second.fix")));
        }
      }
    }
  }
  return problems;
}

const NAMES: readonly string[] = ["tab", "line", "name", "row", "number"];
