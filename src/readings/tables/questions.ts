/** What a recognised table leaves open: to be settled (errors) or looked at (warnings) before it is read. */
import type { Problem, Row, Wing } from "../../plan/index.ts";
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
    problems.push(
      failure(
        where,
        "The table says that it holds specified lengths; readings were expected. Specified lengths taken for readings would show a wing without any deviation.",
        "Choose the table of the readings. If these were read, say so, or take that word out of the title.",
      ),
    );
  }
  if (!columns.some((column) => column.role === "readings"))
    problems.push(failure(where, "No column holds readings.", "Say which column does."));
  const named: readonly string[] = ["tab", "line", "name", "number"];
  if (!columns.some((column) => named.includes(column.role)))
    problems.push(
      failure(where, "No column says which tab or line a row is about.", "Say which column does."),
    );
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
  const found = `Number ${number} counted outwards in row ${row} is the plan's tab ${id}`;
  if (agree === "contradict" && recognition.numbering === undefined) {
    const remedy =
      "Say whether the table's numbers count outwards from the wing's middle or are those in the names.";
    return [failure(where, `${found}: the plan's names don't count the tabs outwards.`, remedy)];
  }
  const message = `${found}: the plan's names differ from the table's numbers, which were counted outwards.`;
  return [warning(where, undefined, message, "Check a few values against the plan.")];
}

function sidesUnknown(grid: Grid, section: TableSection, recognition: RecognisedTable): readonly Problem[] {
  if (recognition.layout === "readings") return [];
  const without = section.columns.filter((column) => column.role === "readings" && column.side === undefined);
  if (without.length === 0) return [];
  const message = `${listed(without)}: nothing says which side these were read on.`;
  const remedy =
    "Say left, right, or both where one length stands for both sides; in a heading: left, right.";
  return [failure(grid.place(section.headerRow ?? section.firstRow), message, remedy)];
}

function listed(columns: readonly RecognisedColumn[]): string {
  const names = columns.map(({ label, title }) => (title === "" ? label : `${label} ("${title}")`));
  const place = /^row /u.test(columns[0]?.label ?? "") ? "" : names.length === 1 ? "Column " : "Columns ";
  return `${place}${names.join(", ")}`;
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
        `${listed(unused)}: holds numbers and isn't used (${why}).`,
        "Nothing to do if these aren't readings.",
      ),
    );
  }
  const single = section.columns.filter((column) => column.role === "readings" && column.level !== undefined);
  if (recognition.layout === "matrix" && single.length > 0) {
    const message = `${listed(single)}: headed as lengths of single lines, which a number doesn't name; they aren't read.`;
    problems.push(
      warning(
        where,
        undefined,
        message,
        "Give readings of single lines in a table with the plan's names of lines.",
      ),
    );
  }
  const both = section.columns.filter((column) => column.role === "readings" && column.side === "both");
  if (both.length > 0) {
    const message = `${listed(both)}: one length is taken for both sides, so left and right can't be told apart.`;
    problems.push(
      warning(where, undefined, message, "Nothing to do if one reading does stand for both sides."),
    );
  }
  const alike = section.columns.filter(
    (column) => column.role === "readings" && isAlike(column, section, recognition),
  );
  if (alike.length > 0) {
    const message = `${listed(alike)}: several columns of the same side, taken for repeats of one reading.`;
    const remedy =
      "If one of them holds something else, say so, or rename it; repeats are best headed left 1, left 2.";
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
  const what = orientation === "across" ? "columns" : "rows";
  const message = `Found numbers outside the table, in ${what} ${rows.slice(0, 8).join(", ")}${rows.length > 8 ? " …" : ""}; they aren't read.`;
  return [
    warning(
      tableName(grid.table),
      undefined,
      message,
      "If they are readings, give them in a table of their own, or number the rows.",
    ),
  ];
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
          const message = `Found a second reading of ${name.toUpperCase()} on the ${column.side}; the first is at ${before}. Both are kept as repeats.`;
          problems.push(
            warning(place, name.toUpperCase(), message, "Correct the name if another one was meant."),
          );
        }
      }
    }
  }
  return problems;
}

const NAMES: readonly string[] = ["tab", "line", "name", "row", "number"];
