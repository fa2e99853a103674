/**
 * A table that was brought, as it waits to be taken: what was said of it by hand goes over what the core recognised. Plain
 * data, so that it waits in the store while another pane is looked at.
 */
import type { Datum, Problem, Row, Side, Wing } from "../../plan/model.ts";
import type { DecimalMark, Unit } from "../../readings/numbers.ts";
import { readCellNumber } from "../../readings/numbers.ts";
import { type CellTable, columnLetter } from "../../readings/tables/cells.ts";
import { withSide } from "../../readings/tables/read-table.ts";
import { recogniseTable } from "../../readings/tables/recognise.ts";
import type {
  ColumnRole,
  RecognisedColumn,
  RecognisedTable,
  TableSection,
} from "../../readings/tables/recognition.ts";
import { chooseSheet } from "../../readings/tables/sheets.ts";

/** Whether readings are those that the work begins from, or were taken after it. */
export type ReadingsAs = "before" | "after";

/** What a column is taken for. */
export interface ColumnMeaning {
  readonly role: ColumnRole;
  /** Of readings in a matrix: the wing's row. */
  readonly row: Row | undefined;
  readonly side: Side | "both" | undefined;
}

/** What was said by hand; what is undefined is as recognised. */
export interface TableChanges {
  /** By {@link columnKey}. */
  readonly columns: ReadonlyMap<string, ColumnMeaning>;
  /** Of all lengths whose side nothing tells. */
  readonly side: Side | "both" | undefined;
  readonly unit: Unit | undefined;
  readonly mark: DecimalMark | undefined;
  readonly numbering: "outwards" | "names" | undefined;
  /** That lengths which the table calls specified were measured. */
  readonly measured: boolean;
  /** Of a table in which nothing was recognised. */
  readonly layout: "names" | "matrix" | undefined;
  /** Names put right, by {@link cellKey}. */
  readonly names: ReadonlyMap<string, string>;
}

/** What was said of the day and the set-up; NaN or "" where it was emptied, undefined where it was left as it stood. */
export interface FrameAnswers {
  readonly date?: string | undefined;
  readonly tensionN?: number | undefined;
  readonly from?: Datum | undefined;
  readonly zeroM?: number | undefined;
  readonly instrument?: string | undefined;
}

export interface TableDraft {
  /** Of the file, or what stands for it. */
  readonly name: string;
  readonly as: ReadingsAs;
  /** A workbook's sheets, or the one table of a text. */
  readonly tables: readonly CellTable[];
  /** Index of the sheet chosen by hand. */
  readonly sheet: number | undefined;
  readonly changes: TableChanges;
  readonly answers: FrameAnswers;
}

const NO_CHANGES: TableChanges = {
  columns: new Map(),
  side: undefined,
  unit: undefined,
  mark: undefined,
  numbering: undefined,
  measured: false,
  layout: undefined,
  names: new Map(),
};

export function draftOf(name: string, tables: readonly CellTable[], as: ReadingsAs): TableDraft {
  return { name, as, tables, sheet: undefined, changes: NO_CHANGES, answers: {} };
}

export const columnKey = (section: number, index: number): string => `${section}:${index}`;
/** Row and column from 0, as the grid stands. */
export const cellKey = (row: number, column: number): string => `${row},${column}`;

export function withChanges(draft: TableDraft, change: Partial<TableChanges>): TableDraft {
  return { ...draft, changes: { ...draft.changes, ...change } };
}

/** Says what a column is. */
export function withColumn(
  draft: TableDraft,
  section: number,
  index: number,
  meaning: ColumnMeaning,
): TableDraft {
  const columns = new Map(draft.changes.columns).set(columnKey(section, index), meaning);
  return withChanges(draft, { columns });
}

/** Puts a name right in the table that waits; the file stays as it is. */
export function withName(draft: TableDraft, row: number, column: number, name: string): TableDraft {
  return withChanges(draft, { names: new Map(draft.changes.names).set(cellKey(row, column), name) });
}

/** Another sheet: what was said of the columns of the one before doesn't hold for it. */
export function withSheet(draft: TableDraft, sheet: number | undefined): TableDraft {
  return { ...draft, sheet, changes: NO_CHANGES };
}

export function withAnswers(draft: TableDraft, answers: FrameAnswers): TableDraft {
  return { ...draft, answers: { ...draft.answers, ...answers } };
}

/** The table a draft is about, and how it is understood. */
export interface DraftTable {
  readonly table: CellTable;
  readonly index: number;
  readonly recognition: RecognisedTable;
  /** False where the core found no table of readings in it: all is to be said by hand. */
  readonly recognised: boolean;
}

export type FoundTable =
  | { readonly found: DraftTable }
  /** Why none was. */
  | { readonly found: undefined; readonly problems: readonly Problem[] };

/**
 * The sheet chosen by hand, else the one that looks like readings, as the core recognises it: by far the longest part of the
 * way to a preview.
 *
 * @returns no table where a workbook has several sheets and none can be told to be the one
 */
export function baseTable(
  tables: readonly CellTable[],
  sheet: number | undefined,
  names: TableChanges["names"],
  wing: Wing,
): FoundTable {
  const chosen = sheet ?? (tables.length === 1 ? 0 : undefined);
  if (chosen === undefined) {
    const looked = chooseSheet(tables, wing);
    return looked.ok
      ? baseTable(tables, tables.indexOf(looked.value.table), names, wing)
      : { found: undefined, problems: looked.problems };
  }
  const table = tables[chosen];
  if (table === undefined) return { found: undefined, problems: [] };
  const named = withNames(table, names);
  const parsed = recogniseTable(named, wing);
  const recognition = parsed.ok ? parsed.value : unrecognised(named);
  return { found: { table: named, index: chosen, recognition, recognised: parsed.ok } };
}

/** The same with what was said by hand. */
export function changedTable(base: FoundTable, changes: TableChanges): FoundTable {
  const { found } = base;
  if (found === undefined) return base;
  const recognition = changedRecognition(found.recognition, changes, found.recognised);
  return { found: { ...found, recognition } };
}

export function draftTable({ tables, sheet, changes }: TableDraft, wing: Wing): FoundTable {
  return changedTable(baseTable(tables, sheet, changes.names, wing), changes);
}

/** Names that were put right stand in their cells. Only tables that stand upright have any. */
function withNames(table: CellTable, names: TableChanges["names"]): CellTable {
  if (names.size === 0) return table;
  return {
    ...table,
    rows: table.rows.map((row, at) => row.map((cell, column) => names.get(cellKey(at, column)) ?? cell)),
  };
}

/** A table in which nothing was recognised: its rows begin where the first number stands, its columns mean nothing yet. */
function unrecognised(table: CellTable): RecognisedTable {
  const width = table.rows.reduce((most, row) => Math.max(most, row.length), 0);
  const hasLength = (row: CellTable["rows"][number]): boolean =>
    row.some((cell) => typeof cell === "number" || /^\s*\d/u.test(typeof cell === "string" ? cell : ""));
  const first = Math.max(
    0,
    table.rows.findIndex((row) => hasLength(row)),
  );
  const title = (column: number): string => {
    const above = first > 0 ? table.rows[first - 1]?.[column] : null;
    return typeof above === "string" ? above.trim() : "";
  };
  const columns = Array.from(
    { length: width },
    (_, column): RecognisedColumn => ({
      index: column,
      label: columnLetter(column),
      title: title(column),
      role: "ignored",
      side: undefined,
      row: undefined,
      level: undefined,
      repeat: undefined,
      unit: undefined,
      sureness: "ask",
      why: "",
    }),
  );
  return {
    layout: "names",
    orientation: "down",
    sections: [
      {
        headerRow: first > 0 ? first - 1 : undefined,
        firstRow: first,
        lastRow: Math.max(first, table.rows.length - 1),
        columns,
      },
    ],
    holds: undefined,
    unit: undefined,
    unitFrom: undefined,
    decimalMark: undefined,
    numbering: undefined,
    sureness: "ask",
    why: [],
  };
}

/** A recognition with what was said by hand. */
export function changedRecognition(
  base: RecognisedTable,
  changes: TableChanges,
  recognised = true,
): RecognisedTable {
  const asked = recognised ? base.layout : (changes.layout ?? base.layout);
  const changed = base.sections.map((section, at) => changedSection(section, at, changes));
  const bySide = changed.some(({ columns }) => columns.some(({ role }) => role === "side"));
  const layout = asked === "matrix" ? "matrix" : bySide ? "readings" : "names";
  const sections = changed.map(
    (section): TableSection => ({
      ...section,
      columns: section.columns.map((column) =>
        column.role === "readings" ? settled(column, layout, changes.unit) : column,
      ),
    }),
  );
  const { unit, mark, numbering, measured, side } = changes;
  const recognition: RecognisedTable = {
    ...base,
    layout,
    sections,
    ...(unit === undefined ? {} : { unit, unitFrom: "stated" }),
    ...(mark === undefined ? {} : { decimalMark: mark }),
    ...(numbering === undefined
      ? layout === "matrix" && !recognised
        ? { numbering: base.numbering ?? "outwards" }
        : {}
      : { numbering }),
    ...(measured ? { holds: "readings" } : {}),
  };
  return side === undefined ? recognition : withSide(recognition, side);
}

function settled(
  column: RecognisedColumn,
  layout: RecognisedTable["layout"],
  unit: Unit | undefined,
): RecognisedColumn {
  const side = layout === "readings" ? undefined : column.side;
  return { ...column, side, ...(unit === undefined ? {} : { unit }) };
}

function changedSection(section: TableSection, at: number, changes: TableChanges): TableSection {
  const columns = section.columns.map((column): RecognisedColumn => {
    const said = changes.columns.get(columnKey(at, column.index));
    if (said === undefined) return column;
    const { role, row, side } = said;
    const isSame = role === column.role && row === column.row;
    return {
      ...column,
      role,
      row,
      side,
      level: isSame ? column.level : undefined,
      repeat: undefined,
      sureness: "clear",
    };
  });
  // Several columns of the same are repeats of one reading.
  const numbered = columns.map((column) => {
    if (column.role !== "readings" || column.side === undefined) return column;
    const same = columns.filter(
      (other) =>
        other.role === "readings" &&
        other.side === column.side &&
        other.row === column.row &&
        other.level === column.level,
    );
    return same.length < 2 ? column : { ...column, repeat: column.repeat ?? same.indexOf(column) + 1 };
  });
  return { ...section, columns: numbered };
}

/** What has to be said before a table can be read. */
export type OpenQuestion =
  | { readonly kind: "sides"; readonly columns: readonly OpenColumn[]; readonly oneAnswer: boolean }
  | { readonly kind: "numbering" }
  | { readonly kind: "holds" }
  | { readonly kind: "readings" }
  | { readonly kind: "names" };

export interface OpenColumn {
  readonly section: number;
  readonly column: RecognisedColumn;
}

/** The core's questions as something that can be answered. `oneAnswer`: one side settles them all. */
export function openIn(recognition: RecognisedTable, numberingDiffers: boolean): readonly OpenQuestion[] {
  const questions: OpenQuestion[] = [];
  const columns = recognition.sections.flatMap((section) => section.columns);
  if (recognition.holds === "specified") questions.push({ kind: "holds" });
  if (!columns.some(({ role }) => role === "readings")) questions.push({ kind: "readings" });
  const names: readonly ColumnRole[] = ["tab", "line", "name", "number"];
  if (!columns.some(({ role }) => names.includes(role))) questions.push({ kind: "names" });
  if (recognition.layout === "matrix" && recognition.numbering === undefined && numberingDiffers)
    questions.push({ kind: "numbering" });
  const open = sidesOpen(recognition);
  if (open.length > 0)
    questions.push({
      kind: "sides",
      columns: open,
      oneAnswer: sidesOpen(withSide(recognition, "both")).length === 0,
    });
  return questions;
}

function sidesOpen(recognition: RecognisedTable): readonly OpenColumn[] {
  if (recognition.layout === "readings") return [];
  return recognition.sections.flatMap((section, at) =>
    section.columns
      .filter(({ role, side }) => role === "readings" && side === undefined)
      .map((column) => ({ section: at, column })),
  );
}

/** Where a table has a number in most of its rows, for a text that may be anything: at least two such columns or rows. */
export function looksLikeTable(table: CellTable): boolean {
  const numbers = (row: CellTable["rows"][number]): number =>
    row.filter((cell) => typeof cell === "number" || (typeof cell === "string" && readCellNumber(cell)))
      .length;
  const filled = table.rows.filter((row) => row.filter((cell) => cell !== null && cell !== "").length > 1);
  return filled.length > 1 || filled.some((row) => numbers(row) > 1);
}
