/**
 * From the rows of a table to its filled cells, each with its target and its number; and what is wrong with the
 * others.
 */

import type { Problem, Side } from "../plan/index.ts";
import { say } from "../words/index.ts";
import { unguardFormula } from "./formula-guard.ts";
import type { Column, Role } from "./headings.ts";
import type { LengthCell } from "./lengths.ts";
import type { NameLookup } from "./names.ts";
import { exactNumber, readCellNumber, readUnit, type Unit } from "./numbers.ts";
import { fileLine, warning } from "./problems.ts";
import type { CsvRecord } from "./records.ts";
import type { Table } from "./table.ts";
import { type NameKind, resolveTarget } from "./targets.ts";

export interface ReadCells {
  readonly cells: readonly LengthCell[];
  readonly problems: readonly Problem[];
}

/** Reads every row; a row or a cell that can't be read becomes a problem with its place. */
export function readCells(table: Table, lookup: NameLookup): ReadCells {
  const rows = table.rows.map((record) => readRow({ table, record }, lookup));
  return { cells: rows.flatMap((row) => row.cells), problems: rows.flatMap((row) => row.problems) };
}

interface Row {
  readonly table: Table;
  readonly record: CsvRecord;
}

/** What a row says of all its readings. */
interface RowMeaning {
  readonly nameColumn: Column;
  readonly name: string;
  readonly kind: NameKind;
  /** Only in a table with a row per reading. */
  readonly side: Side | undefined;
  readonly unit: Unit | undefined;
  readonly note: string | undefined;
}

const NOTHING: ReadCells = { cells: [], problems: [] };
const quoteCommas = (): string => say("readings.quote-commas");

/** A cell that says that nothing was read: empty, or a dash. */
export const isBlank = (text: string): boolean => /^\s*\p{Pd}?\s*$/u.test(text);

function placeOf(table: Table, line: number, column: Column | undefined): string {
  return table.placeOf?.(line, column) ?? fileLine(line, column?.title);
}

function filled({ table, record }: Row, ...roles: readonly Role[]): readonly Column[] {
  return table.columns.filter(
    (column) => roles.includes(column.role) && !isBlank(record.cells[column.index] ?? ""),
  );
}

function textOf({ record }: Row, column: Column): string {
  return unguardFormula((record.cells[column.index] ?? "").trim());
}

/** One or two digits right after a reading, in a file delimited by commas, may be that reading's decimals. */
function looksCutOff(row: Row, column: Column, values: readonly Column[]): boolean {
  return (
    row.table.delimiter === "," &&
    /^\d{1,2}$/u.test(textOf(row, column)) &&
    values.some((value) => value.index === column.index - 1)
  );
}

function readRow(row: Row, lookup: NameLookup): ReadCells {
  const { table, record } = row;
  const values = table.shape === "wide" ? filled(row, "left", "right") : filled(row, "value");
  const surplus = record.cells.slice(table.header.cells.length).some((text) => !isBlank(text));
  if (values.length === 0 && !surplus) return NOTHING;

  const reject = (column: Column | undefined, message: string, remedy: string): Problem => {
    const [name] = filled(row, "tab", "line", "name");
    const where = placeOf(table, record.line, column);
    return warning(where, name && textOf(row, name), message, `${remedy} ${say("readings.row-left-out")}`);
  };
  if (surplus) {
    const message = say("readings.surplus", {
      found: record.cells.length,
      expected: table.header.cells.length,
    });
    const remedy = table.delimiter === "," ? quoteCommas() : say("readings.surplus.fix");
    return { cells: [], problems: [reject(undefined, message, remedy)] };
  }
  const cut = filled(row, "note").find((column) => looksCutOff(row, column, values));
  if (cut !== undefined) {
    const message = say("readings.cut-note", { found: textOf(row, cut) });
    return { cells: [], problems: [reject(cut, message, quoteCommas())] };
  }
  const meaning = readMeaning(row, reject);
  return "severity" in meaning
    ? { cells: [], problems: [meaning] }
    : readValues(row, values, meaning, lookup);
}

function readMeaning(
  row: Row,
  reject: (column: Column | undefined, message: string, remedy: string) => Problem,
): RowMeaning | Problem {
  const [nameColumn, second] = filled(row, "tab", "line", "name");
  if (nameColumn === undefined) {
    const message = say("readings.nameless");
    return reject(undefined, message, say("readings.nameless.fix"));
  }
  const name = textOf(row, nameColumn);
  if (second !== undefined) {
    const message = say("readings.two-names", {
      found: name,
      title: second.title,
      other: textOf(row, second),
    });
    return reject(nameColumn, message, say("readings.two-names.fix"));
  }
  const [sideColumn] = filled(row, "side");
  const side = sideColumn && readSide(textOf(row, sideColumn));
  if (row.table.shape === "long" && side === undefined) {
    const found = sideColumn === undefined ? "" : textOf(row, sideColumn);
    const message = say("readings.side", { found, there: sideColumn === undefined ? "no" : "yes" });
    return reject(sideColumn, message, say("readings.side.fix"));
  }
  const [unitColumn] = filled(row, "unit");
  const unit = unitColumn && readUnit(textOf(row, unitColumn));
  if (unitColumn !== undefined && unit === undefined) {
    const message = say("readings.unit", { found: textOf(row, unitColumn) });
    return reject(unitColumn, message, say("readings.unit.fix"));
  }
  const notes = filled(row, "note").map((column) => textOf(row, column));
  return {
    nameColumn,
    name,
    kind: nameColumn.role as NameKind,
    side,
    unit,
    note: notes.join("; ") || undefined,
  };
}

const SIDE_WORDS: Readonly<Record<Side, readonly string[]>> = {
  left: ["left", "l", "links", "gauche", "g"],
  right: ["right", "r", "rechts", "droite", "d"],
};

export function readSide(text: string): Side | undefined {
  const word = text.normalize("NFKC").toLowerCase();
  return SIDE_WORDS.left.includes(word) ? "left" : SIDE_WORDS.right.includes(word) ? "right" : undefined;
}

function readValues(row: Row, values: readonly Column[], meaning: RowMeaning, lookup: NameLookup): ReadCells {
  const { line } = row.record;
  const { nameColumn, name } = meaning;
  const cells: LengthCell[] = [];
  const problems: Problem[] = [];
  let nameReported = false;
  for (const column of values) {
    const side = column.role === "left" || column.role === "right" ? column.role : meaning.side;
    if (side === undefined) continue;
    const resolved = resolveTarget(lookup, meaning.kind, name, side);
    if (!resolved.ok) {
      // A name that is wrong on both sides is one mistake.
      const remedy = `${resolved.remedy} ${say("readings.all-left-out")}`;
      if (!nameReported)
        problems.push(warning(placeOf(row.table, line, nameColumn), name, resolved.message, remedy));
      nameReported = true;
      continue;
    }
    const { target } = resolved;
    const text = textOf(row, column);
    const where = placeOf(row.table, line, column);
    const exact = row.record.numbers?.[column.index];
    const number = exact === undefined ? readCellNumber(text) : exactNumber(exact);
    if (number === undefined) {
      const message = say("readings.length", { found: text });
      const remedy = say("readings.length.fix");
      problems.push(warning(where, target.id, message, remedy));
      continue;
    }
    cells.push({
      where,
      line,
      columnIndex: column.index,
      text,
      target,
      number,
      unit: number.unit ?? meaning.unit ?? column.unit,
      note: meaning.note,
      mayBeDecimals: looksCutOff(row, column, values),
    });
  }
  return { cells, problems };
}
