/** What a column of a table can be taken for, as choices. */
import { ROWS, type Row, type Side, type Wing } from "../../plan/model.ts";
import type { ColumnRole, RecognisedColumn, RecognisedTable } from "../../readings/tables/recognition.ts";
import { type Key, say } from "../../words/index.ts";
import type { ColumnMeaning } from "./intake-draft.ts";

export interface ColumnChoice {
  readonly value: string;
  readonly label: string;
}

const LIST_ROLES = {
  tab: "intake.role.tab",
  line: "intake.role.line",
  name: "intake.role.name",
  row: "intake.role.row",
  number: "intake.role.number",
  readings: "intake.role.readings",
  side: "intake.role.side",
  unit: "intake.role.unit",
  repeat: "intake.role.repeat",
  note: "intake.role.note",
  ignored: "intake.role.ignored",
} as const satisfies Record<ColumnRole, Key>;

const MATRIX_ROLES = ["number", "note", "ignored"] as const satisfies readonly ColumnRole[];

/** What a column of such a table can be: in a matrix the rows that the wing has are among it. */
export function columnChoices(layout: RecognisedTable["layout"], wing: Wing): readonly ColumnChoice[] {
  if (layout !== "matrix")
    return (Object.keys(LIST_ROLES) as ColumnRole[]).map((role) => ({
      value: role,
      label: say(LIST_ROLES[role]),
    }));
  const rows = ROWS.filter((row) => wing.tabs.some((tab) => tab.row === row));
  return [
    { value: "number", label: say("intake.role.tabNumber") },
    ...rows.map((row) => ({ value: rowValue(row), label: say("intake.role.wingRow", { row }) })),
    ...MATRIX_ROLES.slice(1).map((role) => ({ value: role, label: say(LIST_ROLES[role]) })),
  ];
}

const rowValue = (row: Row): string => `row ${row}`;

/** The choice that a column is at. */
export function columnValue(column: RecognisedColumn, layout: RecognisedTable["layout"]): string {
  return layout === "matrix" && column.role === "readings" && column.row !== undefined
    ? rowValue(column.row)
    : column.role;
}

/** A column's meaning after a choice; its side stays as long as it holds lengths. */
export function chosenMeaning(value: string, before: RecognisedColumn): ColumnMeaning {
  const row = ROWS.find((each) => rowValue(each) === value);
  if (row !== undefined) return { role: "readings", row, side: before.side };
  const role = (Object.keys(LIST_ROLES) as ColumnRole[]).find((each) => each === value) ?? "ignored";
  return { role, row: undefined, side: role === "readings" ? before.side : undefined };
}

/** Whether it must be said of which side a column's lengths are. */
export function hasSide(column: RecognisedColumn, layout: RecognisedTable["layout"]): boolean {
  return column.role === "readings" && layout !== "readings";
}

const SIDE_LABELS = {
  left: "intake.side.left",
  right: "intake.side.right",
  both: "intake.side.both",
} as const satisfies Record<Side | "both", Key>;

export const SIDE_VALUES: readonly (Side | "both")[] = ["left", "right", "both"];

export function sideLabel(side: Side | "both"): string {
  return say(SIDE_LABELS[side]);
}

/** What the names of a list stand for; undefined where they stand in two columns, or nowhere. */
export function nameColumn(
  recognition: RecognisedTable,
): { readonly section: number; readonly column: RecognisedColumn } | undefined {
  if (recognition.layout === "matrix") return undefined;
  for (const [section, { columns }] of recognition.sections.entries()) {
    const names = columns.filter(({ role }) => role === "tab" || role === "line" || role === "name");
    const [column] = names;
    if (column !== undefined && names.length === 1) return { section, column };
  }
  return undefined;
}
