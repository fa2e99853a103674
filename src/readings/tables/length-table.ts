/** Specified lengths from a table, not tied to any wing: for building a plan. */

import type { Parsed, Problem, Row, Side } from "../../plan/index.ts";
import { say } from "../../words/index.ts";
import {
  type CellNumber,
  exactNumber,
  inMetres,
  readCellNumber,
  TABLE_UNITS,
  type Unit,
} from "../numbers.ts";
import { failure, warning } from "../problems.ts";
import { isBlank } from "../rows.ts";
import { type Cell, type CellTable, type Grid, gridOf, recordsOf, tableName } from "./cells.ts";
import { type Heading, type Level, pairedSides, readHeading, unitInText } from "./heading.ts";
import { matrixSections, tabNumber } from "./matrix.ts";
import { numberFor } from "./table-cells.ts";

/** One length: of the path to a tab, or, with a level, of a line by itself. */
export interface SpecifiedLength {
  readonly row: Row;
  /** As the table counts. */
  readonly number: number;
  /** Undefined where the table gives both sides alike. */
  readonly side: Side | undefined;
  readonly level: Level | undefined;
  readonly mm: number;
  /** Where it stands. */
  readonly where: string;
}

export interface LengthTable {
  readonly lengths: readonly SpecifiedLength[];
  /** Of the lengths that name none themselves. */
  readonly unit: Unit | undefined;
  /** Sentences on how it was read. */
  readonly why: readonly string[];
}

interface RawLength extends Omit<SpecifiedLength, "mm"> {
  readonly text: string;
  readonly number: number;
  readonly value: CellNumber;
  readonly unit: Unit | undefined;
}

/** No line of a wing is shorter or longer [m]: what is outside is a slip of the unit. */
const SHORTEST_M = 0.02;
const LONGEST_M = 25;

/**
 * Lengths of paths or of lines from a table in the shapes of a maker's manual (numbers down, rows across, also
 * turned) or as a list of names (A1, B 2, brake 3) with a length beside each. The unit is the cell's, the
 * heading's or the title's; without any, metres where all lengths are below 15 and one has decimals,
 * millimetres where the longest is above 1500; else it must be given.
 *
 * @returns problems by cell; no value where this is no such table, or its unit can't be told.
 */
export function readLengthTable(
  table: CellTable,
  options: { readonly unit?: Unit } = {},
): Parsed<LengthTable> {
  const problems: Problem[] = [];
  const raw =
    [false, true]
      .map((turned) => fromMatrix(gridOf(table, turned), problems))
      .find((each) => each.length > 0) ?? fromList(gridOf(table, false), problems);
  if (raw.length === 0) {
    const message = say("tables.lengths.none");
    return {
      ok: false,
      problems: [failure(tableName(table), message, say("tables.lengths.none.fix")), ...problems],
    };
  }
  const unitless = raw.filter((each) => each.unit === undefined);
  const title = titleUnit(table);
  const magnitude = bySize(unitless);
  const unit = options.unit ?? title ?? magnitude;
  if (unitless.length > 0 && unit === undefined) {
    const message = say("tables.lengths.unitless", { count: unitless.length });
    return {
      ok: false,
      problems: [failure(tableName(table), message, say("tables.lengths.unitless.fix")), ...problems],
    };
  }
  const lengths = raw.flatMap((each) => lengthOf(each, unit, problems));
  const unique = withoutTwins(lengths, problems);
  const why = [
    say("tables.lengths.count", { count: unique.length }),
    ...(unit === undefined || unitless.length === 0
      ? []
      : [
          say("tables.lengths.unit", {
            count: unitless.length,
            unit,
            from: options.unit !== undefined ? "stated" : title !== undefined ? "title" : "size",
          }),
        ]),
  ];
  if (unitless.length > 0 && options.unit === undefined && title === undefined) {
    const message = say("tables.lengths.by-size", { count: unitless.length, unit: unit ?? "" });
    problems.unshift(warning(tableName(table), undefined, message, say("tables.lengths.by-size.fix")));
  }
  if (unique.length === 0)
    return {
      ok: false,
      problems: [
        failure(tableName(table), say("tables.lengths.unusable"), say("tables.lengths.unusable.fix")),
        ...problems,
      ],
    };
  return { ok: true, value: { lengths: unique, unit, why }, problems };
}

function titleUnit(table: CellTable): Unit | undefined {
  const texts = table.rows.flatMap((row) => row.filter((cell) => typeof cell === "string"));
  const said = new Set(
    texts
      .filter((text) => readCellNumber(text) === undefined && !isHeading(text))
      .flatMap((text) => unitInText(text) ?? []),
  );
  return said.size === 1 ? [...said][0] : undefined;
}

/** A heading's unit is its column's alone. */
function isHeading(text: string): boolean {
  const heading = readHeading(text);
  return heading?.row !== undefined || heading?.side !== undefined || heading?.level !== undefined;
}

function bySize(lengths: readonly RawLength[]): Unit | undefined {
  const values = lengths.flatMap(({ value }) => value.senses.map((sense) => sense.value));
  const largest = values.reduce((most, value) => Math.max(most, value), 0);
  const plainest = lengths.map(({ value }) => value.senses[0]?.value ?? 0);
  if (plainest.every((value) => value < 15) && plainest.some((value) => !Number.isInteger(value))) return "m";
  return largest > 1500 ? "mm" : undefined;
}

function numberIn(cell: Cell, text: string): CellNumber | undefined {
  return typeof cell === "number" ? exactNumber(cell) : readCellNumber(text.replace(/\s*[*†‡]+\s*$/u, ""));
}

function fromMatrix(grid: Grid, problems: Problem[]): readonly RawLength[] {
  const lengths: RawLength[] = [];
  for (const section of matrixSections(grid)) {
    const numbers = section.columns
      .filter((column) => column.role === "number")
      .map((column) => column.index);
    for (let at = section.firstRow; at <= section.lastRow; at++)
      for (const column of section.columns) {
        if (column.role !== "readings" || column.row === undefined) continue;
        const text = grid.text(at, column.index);
        const number = numberFor(grid, at, column.index, numbers);
        if (isBlank(text) || number === undefined) continue;
        const where = grid.place(at, column.index);
        const value = numberIn(grid.at(at, column.index), text);
        if (value === undefined) {
          const message = say("tables.lengths.cell", { found: text });
          problems.push(warning(where, `${column.row} ${number}`, message, say("tables.lengths.cell.fix")));
          continue;
        }
        const side = column.side === "both" ? undefined : column.side;
        lengths.push({
          row: column.row,
          number,
          side,
          level: column.level,
          where,
          text,
          value,
          unit: value.unit ?? column.unit,
        });
      }
  }
  return lengths;
}

/** Names such as A1, "B 2", "brake 3", "St2": a row's word and a number. */
function rowAndNumber(text: string): { readonly row: Row; readonly number: number } | undefined {
  const [, word = "", digits] = /^\s*(\p{L}[\p{L}. -]*?)[\s._-]*(\d{1,2})\s*$/u.exec(text) ?? [];
  const row = readHeading(word)?.row;
  const number = tabNumber(digits ?? null);
  return row === undefined || number === undefined ? undefined : { row, number };
}

function fromList(grid: Grid, problems: Problem[]): readonly RawLength[] {
  const records = recordsOf(grid);
  const counts = Array.from(
    { length: grid.width },
    (_, column) => records.filter((record) => rowAndNumber(record.cells[column] ?? "") !== undefined).length,
  );
  const names = counts.indexOf(Math.max(...counts));
  if ((counts[names] ?? 0) < 2) return [];
  const first = records.findIndex((record) => rowAndNumber(record.cells[names] ?? "") !== undefined);
  const split = pairedSides(records.slice(0, first).flatMap((record) => record.cells));
  const header = records[first - 1]?.cells ?? [];
  const headings = Array.from({ length: grid.width }, (_, column): Heading | undefined =>
    readHeading(header[column] ?? "", split),
  );
  const lengths: RawLength[] = [];
  for (const record of records.slice(first)) {
    const name = rowAndNumber(record.cells[names] ?? "");
    for (let column = 0; column < grid.width; column++) {
      const text = (record.cells[column] ?? "").trim();
      const heading = headings[column];
      const compared = heading?.holds === "difference" || heading?.isNote || heading?.isNumber;
      const unknown = (header[column] ?? "").trim() !== "" && heading === undefined;
      if (column === names || isBlank(text) || compared || unknown) continue;
      const where = grid.place(record.line - 1, column);
      const value = numberIn(grid.at(record.line - 1, column), text);
      if (name === undefined || value === undefined) {
        if (name === undefined && value === undefined) continue;
        const found = name === undefined ? (record.cells[names] ?? "").trim() : text;
        problems.push(
          warning(
            where,
            undefined,
            say(name === undefined ? "tables.lengths.name" : "tables.lengths.cell", { found }),
            say("tables.lengths.entry.fix"),
          ),
        );
        continue;
      }
      const side = heading?.side === "both" ? undefined : heading?.side;
      lengths.push({
        ...name,
        side,
        level: heading?.level,
        where,
        text,
        value,
        unit: value.unit ?? heading?.unit,
      });
    }
  }
  return lengths;
}

/** The one sense of a number that a line can have; a problem where none or several do. */
function lengthOf(raw: RawLength, given: Unit | undefined, problems: Problem[]): readonly SpecifiedLength[] {
  const { text, value, unit, ...rest } = raw;
  const taken = unit ?? given;
  if (taken === undefined) return [];
  const fits = value.senses
    .map((sense) => inMetres(sense.value, taken))
    .filter((m) => m >= SHORTEST_M && m <= LONGEST_M);
  const [lengthM] = fits;
  if (lengthM !== undefined && fits.length === 1)
    return [{ ...rest, mm: Number((lengthM * 1000).toFixed(4)) }];
  const other = TABLE_UNITS.find((each) =>
    value.senses.some(
      (sense) => inMetres(sense.value, each) >= SHORTEST_M && inMetres(sense.value, each) <= LONGEST_M,
    ),
  );
  const remedy =
    fits.length > 1
      ? say("tables.lengths.thousands")
      : other === undefined
        ? say("tables.correct")
        : say("tables.lengths.other-unit", { unit: other });
  const message = say("tables.lengths.absurd", { found: text, unit: taken });
  problems.push(
    warning(rest.where, `${rest.row} ${rest.number}`, message, `${remedy} ${say("tables.left-out")}`),
  );
  return [];
}

/** A second length of the same is kept out where it is another, and said in any case. */
function withoutTwins(lengths: readonly SpecifiedLength[], problems: Problem[]): readonly SpecifiedLength[] {
  const seen = new Map<string, SpecifiedLength>();
  const kept: SpecifiedLength[] = [];
  for (const length of lengths) {
    const key = `${length.row} ${length.number} ${length.side} ${length.level}`;
    const before = seen.get(key);
    if (before === undefined) {
      seen.set(key, length);
      kept.push(length);
      continue;
    }
    const message = say("tables.lengths.second", {
      row: length.row,
      number: length.number,
      mm: length.mm,
      first: before.mm,
      where: before.where,
    });
    problems.push(
      warning(length.where, `${length.row} ${length.number}`, message, say("tables.lengths.second.fix")),
    );
  }
  return kept;
}
