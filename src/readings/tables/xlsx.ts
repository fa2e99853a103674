/**
 * Sheets of an XLSX file as cells, through `read-excel-file`. Formulas are never run: a cell gives the value
 * that was saved with it. Not part of the readings' index, so that only who opens such a file loads the reader.
 */

import readXlsxFile from "read-excel-file/universal";
import type { Parsed } from "../../plan/index.ts";
import { say } from "../../words/index.ts";
import { failure, wholeFile } from "../problems.ts";
import { type Cell, type CellTable, sheetCells } from "./cells.ts";

/** All sheets in their order, each from its cell A1. A file that can't be read is a problem, not an exception. */
export async function readXlsx(bytes: Uint8Array): Promise<Parsed<readonly CellTable[]>> {
  try {
    // A copy: the reader wants a buffer of its own, and `bytes` may be a part of a larger one.
    const sheets = await readXlsxFile(new Uint8Array(bytes).buffer, { trim: false });
    const tables = sheets.map(({ sheet, data }) =>
      sheetCells(
        sheet,
        data.map((row) => row.map((cell) => cell as unknown as Cell)),
      ),
    );
    return { ok: true, value: tables, problems: [] };
  } catch (error) {
    const reason =
      error instanceof Error && error.message !== "" ? error.message : say("tables.xlsx.no-reason");
    const message = say("tables.xlsx", { reason });
    const remedy = say("tables.xlsx.fix");
    return { ok: false, problems: [failure(wholeFile(), message, remedy)] };
  }
}
