/**
 * From the rows of a table to its filled cells, each with its target and its number; and what is wrong with the
 * others.
 */
import type { Problem, Side } from "../plan/index.ts";
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
const QUOTE_COMMAS = "Put numbers with a decimal comma into quotes, or save the table with semicolons.";

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
    return warning(where, name && textOf(row, name), message, `${remedy} The row is left out.`);
  };
  if (surplus) {
    const message = `Found ${record.cells.length} cells; expected ${table.header.cells.length}, one for each heading.`;
    const remedy = table.delimiter === "," ? QUOTE_COMMAS : "Take out the surplus cells.";
    return { cells: [], problems: [reject(undefined, message, remedy)] };
  }
  const cut = filled(row, "note").find((column) => looksCutOff(row, column, values));
  if (cut !== undefined) {
    const message = `Found "${textOf(row, cut)}" right after a reading; it looks like that one's decimals, cut off by a comma.`;
    return { cells: [], problems: [reject(cut, message, QUOTE_COMMAS)] };
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
    const message = "Found readings without a name; expected a tab or a line of the plan.";
    return reject(undefined, message, "Name what was read.");
  }
  const name = textOf(row, nameColumn);
  if (second !== undefined) {
    const message = `Found "${name}" and, under "${second.title}", "${textOf(row, second)}"; expected one name in a row.`;
    return reject(nameColumn, message, "Leave the name of what was read, and take out the other.");
  }
  const [sideColumn] = filled(row, "side");
  const side = sideColumn && readSide(textOf(row, sideColumn));
  if (row.table.shape === "long" && side === undefined) {
    const found = sideColumn ? `"${textOf(row, sideColumn)}"` : "no side";
    return reject(sideColumn, `Found ${found}; expected left or right.`, "Say which side was read.");
  }
  const [unitColumn] = filled(row, "unit");
  const unit = unitColumn && readUnit(textOf(row, unitColumn));
  if (unitColumn !== undefined && unit === undefined) {
    const message = `Found "${textOf(row, unitColumn)}"; expected mm, cm or m.`;
    return reject(unitColumn, message, "Give the unit, or leave it to the heading.");
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
      const remedy = `${resolved.remedy} Its readings are left out.`;
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
      const message = `Found "${text}"; expected a length, such as 7421, 742.1 cm or 7,421 m.`;
      const remedy = "Correct the number. This reading is left out.";
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
