/** What a text or a table that the user brought is: told from its content, not from its name. */
import type { CellTable } from "../../readings/tables/cells.ts";
import { fileCells } from "../../readings/tables/text-cells.ts";
import type { KeptFile } from "./keep.ts";

export type Intake = "plan" | "check" | "book" | "sheet" | "unknown JSON" | "broken JSON" | "empty";

/** A text, or with `tables` the sheets of a workbook or a paste; their `text` is empty. */
export interface BroughtFile extends KeptFile {
  readonly tables?: readonly CellTable[] | undefined;
}

/** A plan, a check, the bench's book of loops, a table of readings, or what is the matter with it. */
export function intakeOf(file: BroughtFile): Intake {
  return file.tables === undefined ? recognise(file.text) : "sheet";
}

/** The tables of what {@link intakeOf} calls a sheet. */
export function tablesOf(file: BroughtFile): readonly CellTable[] {
  return file.tables ?? [fileCells(file.text)];
}

/** The same of a text. */
export function recognise(text: string): Intake {
  const trimmed = text.replace(/^\uFEFF/, "").trim();
  if (trimmed === "") return "empty";
  if (!/^[[{]/.test(trimmed)) return "sheet";
  let value: unknown;
  try {
    value = JSON.parse(trimmed);
  } catch {
    return "broken JSON";
  }
  const fields = value as { format?: unknown; readings?: unknown; sides?: unknown; wing?: unknown };
  if (fields.format === "linewright-plan") return "plan";
  if (fields.format === "linewright-check") return "check";
  if (fields.format === "linewright-loops") return "book";
  if (fields.sides !== undefined) return "plan";
  return fields.readings === undefined ? "unknown JSON" : "check";
}
