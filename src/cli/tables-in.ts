/** Readings from tables: workbooks by their sheets, texts by their separators. */

import type { Parsed, Wing } from "../plan/index.ts";
import {
  type Check,
  type CheckFrame,
  type ChosenSheet,
  chooseSheet,
  fileCells,
  parseReadingsCsv,
  readTable,
  recogniseTable,
  withSide,
} from "../readings/index.ts";
import { say } from "../words/index.ts";
import { oneOf } from "./globals.ts";
import { UsageError } from "./io.ts";
import type { Arguments, OptionSpecs } from "./options.ts";

export const TABLE_OPTIONS: OptionSpecs = { sheet: { type: "string" }, side: { type: "string" } };

/** Whether a file's text is that of a workbook: an archive's first characters, which UTF-8 leaves as they are. */
export function isWorkbook(text: string): boolean {
  return text.startsWith("PK\u0003\u0004");
}

/** @throws UsageError where it is none of the three. */
export function statedSide(given: Arguments): "left" | "right" | "both" | undefined {
  const side = given.text("side");
  return side === undefined ? undefined : oneOf(side, ["left", "right", "both"], "--side");
}

/** The sheet that --sheet names or that looks like readings. The reader is loaded when it is needed. */
export async function chosenSheet(
  bytes: Uint8Array,
  wing: Wing,
  given: Arguments,
): Promise<Parsed<ChosenSheet>> {
  const { readXlsx } = await import("../readings/tables/xlsx.ts");
  const sheets = await readXlsx(bytes);
  return sheets.ok ? chooseSheet(sheets.value, wing, given.text("sheet")) : sheets;
}

export async function readWorkbook(
  bytes: Uint8Array,
  wing: Wing,
  frame: CheckFrame,
  given: Arguments,
): Promise<Parsed<Check>> {
  const side = statedSide(given);
  const chosen = await chosenSheet(bytes, wing, given);
  if (!chosen.ok) return chosen;
  const { table, recognition } = chosen.value;
  const parsed = readTable(
    table,
    wing,
    frame,
    side === undefined ? recognition : withSide(recognition, side),
  );
  if (!parsed.ok) return parsed;
  // Which sheet was taken is told by the choice alone; the table's own questions come from the reading.
  const choice = chosen.problems.filter((problem) => problem.where === say("plan.shape.file"));
  return { ...parsed, problems: [...choice, ...parsed.problems] };
}

export function readTextTable(text: string, wing: Wing, frame: CheckFrame, given: Arguments): Parsed<Check> {
  if (given.text("sheet") !== undefined) throw new UsageError(say("cli.sheet.workbook"));
  const side = statedSide(given);
  if (side === undefined) return parseReadingsCsv(text, wing, frame);
  const table = fileCells(text);
  const recognised = recogniseTable(table, wing);
  return recognised.ok ? readTable(table, wing, frame, withSide(recognised.value, side)) : recognised;
}
