/** Recognises a table of readings: where its header is, what its columns are, in which unit and direction. */

import type { Parsed, Row, Wing } from "../../plan/index.ts";
import { type Key, say } from "../../words/index.ts";
import { defaultFrame } from "../frame.ts";
import { numberHabits } from "../lengths.ts";
import { lookUpNames, type NameLookup } from "../names.ts";
import { readUnit, type Unit } from "../numbers.ts";
import { failure } from "../problems.ts";
import { type CellTable, type Grid, gridOf, tableName } from "./cells.ts";
import { holdsInText, unitInText } from "./heading.ts";
import { bareList, headedList } from "./list.ts";
import { matrixSections, saysSpecified } from "./matrix.ts";
import { openQuestions } from "./questions.ts";
import type { RecognisedTable, Sureness, TableSection } from "./recognition.ts";
import { namesAgree } from "./tab-numbers.ts";
import { tableCells } from "./table-cells.ts";

/**
 * How a table would be read, as plain data to show, confirm and change before `readTable` reads by it.
 *
 * Recognised are: a row per tab or line, or per reading, with headings as `parseReadingsCsv` knows them, names
 * also in two columns (row and number); the same without headings; tab numbers down and the wing's rows across,
 * in blocks beside or under one another; and each of these with rows and columns exchanged. Headings may be
 * English, German or French.
 *
 * @returns its problems are the questions still open: errors have to be settled by changing the recognition,
 * warnings need a look. No value where this is no table of readings at all.
 */
export function recogniseTable(table: CellTable, wing: Wing): Parsed<RecognisedTable> {
  const lookup = lookUpNames(wing);
  for (const turned of [false, true]) {
    const grid = gridOf(table, turned);
    const found = matrixOf(grid, wing, lookup) ?? listOf(grid, wing, lookup, headedList(grid));
    if (found !== undefined) return recognised(table, wing, found);
  }
  for (const turned of [false, true]) {
    const grid = gridOf(table, turned);
    const found = listOf(grid, wing, lookup, bareList(grid, lookup));
    if (found !== undefined) return recognised(table, wing, found);
  }
  const message = say("tables.none");
  const remedy = say("tables.none.fix");
  return { ok: false, problems: [failure(tableName(table), message, remedy)] };
}

function recognised(table: CellTable, wing: Wing, value: RecognisedTable): Parsed<RecognisedTable> {
  return { ok: true, value, problems: openQuestions(table, wing, value) };
}

/** A matrix, standing or lying; undefined where the table isn't one. */
export function recogniseMatrix(table: CellTable, wing: Wing): RecognisedTable | undefined {
  const lookup = lookUpNames(wing);
  return matrixOf(gridOf(table, false), wing, lookup) ?? matrixOf(gridOf(table, true), wing, lookup);
}

function matrixOf(grid: Grid, wing: Wing, lookup: NameLookup): RecognisedTable | undefined {
  const sections = matrixSections(grid);
  if (sections.length === 0) return undefined;
  const rows = new Set<Row>(
    sections.flatMap((section) =>
      section.columns.flatMap((column) => (column.role === "readings" ? (column.row ?? []) : [])),
    ),
  );
  const names = namesAgree(wing, rows);
  const numbering = names.agree === "contradict" ? undefined : "outwards";
  return finished(grid, wing, lookup, "matrix", sections, numbering);
}

function listOf(
  grid: Grid,
  wing: Wing,
  lookup: NameLookup,
  found: ReturnType<typeof headedList>,
): RecognisedTable | undefined {
  if (found === undefined) return undefined;
  return finished(grid, wing, lookup, found.layout, [found.section], undefined);
}

const ORDER: readonly Sureness[] = ["clear", "likely", "ask"];

function finished(
  grid: Grid,
  wing: Wing,
  lookup: NameLookup,
  layout: RecognisedTable["layout"],
  sections: readonly TableSection[],
  numbering: RecognisedTable["numbering"],
): RecognisedTable {
  const around = textsAround(grid, sections);
  const title = unitAround(around);
  const bare: RecognisedTable = {
    layout,
    orientation: grid.turned ? "across" : "down",
    sections,
    holds: holdsOf(grid, sections, around.flat()),
    unit: title,
    unitFrom: title === undefined ? undefined : "heading",
    decimalMark: undefined,
    numbering,
    sureness: "clear",
    why: [],
  };
  // The day doesn't matter here; zero and datum move a length by far less than the unit does.
  const frame = defaultFrame(wing, "2000-01-01");
  // What is still open doesn't matter for the unit either: sides are alike within far less.
  const sided = sections.map((section) => ({
    ...section,
    columns: section.columns.map((column) => ({ ...column, side: column.side ?? ("left" as const) })),
  }));
  const assumed: RecognisedTable = { ...bare, sections: sided, numbering: numbering ?? "outwards" };
  const { cells } = tableCells(grid, assumed, wing, lookup);
  const habits = numberHabits(cells, lookup, frame);
  const byPlan = habits.unitless > 0 ? habits.inferred : undefined;
  const units = new Set(cells.map((cell) => cell.unit));
  const allSame = units.size === 1 ? [...units][0] : undefined;
  const unit = title ?? byPlan?.unit ?? allSame;
  const unitFrom =
    title !== undefined
      ? "heading"
      : byPlan !== undefined
        ? "plan"
        : allSame === undefined
          ? undefined
          : "cells";
  const recognition: RecognisedTable = { ...bare, unit, unitFrom, decimalMark: habits.mark };
  const doubts: Sureness[] = sections.flatMap((section) => section.columns.map((column) => column.sureness));
  if (layout === "matrix" && numbering === undefined) doubts.push("ask");
  if (unitFrom === "plan" || recognition.holds === "specified") doubts.push("likely");
  const sureness = ORDER[Math.max(0, ...doubts.map((each) => ORDER.indexOf(each)))] ?? "ask";
  const why = [
    say(LAYOUT_WORDS[layout]),
    ...(grid.turned ? [say("tables.turned")] : []),
    ...(sections.length > 1 ? [say("tables.blocks", { count: sections.length })] : []),
    ...unitWords(recognition, byPlan?.fitting, habits.unitless),
    ...(habits.mark === undefined
      ? []
      : [say("tables.mark", { mark: habits.mark === "," ? "comma" : "point" })]),
  ];
  return { ...recognition, sureness, why };
}

const LAYOUT_WORDS: Readonly<Record<RecognisedTable["layout"], Key>> = {
  names: "tables.layout.names",
  readings: "tables.layout.readings",
  matrix: "tables.layout.matrix",
};

function unitWords(
  { unit, unitFrom }: RecognisedTable,
  fitting: number | undefined,
  unitless: number,
): readonly string[] {
  if (unit === undefined) return [];
  if (unitFrom === "plan") return [say("tables.unit.plan", { unit, fitting: fitting ?? 0, count: unitless })];
  return [say("tables.unit.said", { unit, from: unitFrom ?? "cells" })];
}

/** Titles and footnotes: the filled cells of each row outside the sections and their lowest headings. */
function textsAround(grid: Grid, sections: readonly TableSection[]): readonly (readonly string[])[] {
  const rows: (readonly string[])[] = [];
  for (let row = 0; row < grid.height; row++) {
    const filled = Array.from({ length: grid.width }, (_, column) => grid.text(row, column)).filter(Boolean);
    const isHeader = sections.some((section) => section.headerRow === row);
    const within = sections.some((section) => row >= section.firstRow && row <= section.lastRow);
    const isText = filled.length === 1 && /\p{L}{2}/u.test(filled[0] ?? "");
    if (!isHeader && (!within || isText) && filled.every((text) => !text.startsWith("#"))) rows.push(filled);
  }
  return rows;
}

/** The unit of the whole table: from a title or footnote alone in its row, or behind the word unit; headings are their columns'. */
function unitAround(rows: readonly (readonly string[])[]): Unit | undefined {
  const said = new Set(
    rows.flatMap(([first = "", second]) => {
      const text =
        second === undefined ? first : /^\s*(?:unit|einheit|unit[ée])s?\s*:?\s*$/iu.test(first) ? second : "";
      return unitInText(text) ?? readUnit(text) ?? [];
    }),
  );
  return said.size === 1 ? [...said][0] : undefined;
}

function holdsOf(
  grid: Grid,
  sections: readonly TableSection[],
  around: readonly string[],
): RecognisedTable["holds"] {
  const columns = sections.flatMap((section) => section.columns);
  if (columns.some((column) => column.role === "readings" && column.why === saysSpecified()))
    return "specified";
  const beside = columns.filter((column) => column.role === "ignored").map((column) => column.title);
  const titles = around.filter((text) => !beside.some((title) => title.includes(text)));
  const { source } = grid.table;
  const said = new Set(
    [...(source.kind === "sheet" ? [source.name] : []), ...titles].flatMap((text) => holdsInText(text) ?? []),
  );
  return said.size === 1 ? [...said][0] : undefined;
}
