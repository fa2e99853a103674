/** Tables as one XLSX workbook, a sheet each, through `write-excel-file`. No cell is ever a formula. */
import writeXlsxFile, { type Cell, type Row, type Sheet } from "write-excel-file/universal";
import type { ExportAbout } from "./export-about.ts";
import { type ExportCell, type ExportTable, headingOf, isDay } from "./export-table.ts";

/** The longest text that a cell may hold; a workbook with a longer one is taken for damaged (Excel's specification, from memory). */
const LONGEST_TEXT = 32_767;
/** Widths in characters. */
const WIDTH = { least: 6, most: 48 };
/** Of the sheet before the tables, which is for reading. */
const ABOUT_WIDTHS = [26, 90, 10];

/** Where the bytes come from: the writer gives them as a page's or Node's file object, which the core has no types for. */
interface HoldsBytes {
  readonly arrayBuffer: () => Promise<ArrayBuffer>;
}

/**
 * A workbook: a first sheet with what the figures are of and the cautions, then a sheet for each table.
 *
 * Numbers are numbers, days are days; texts are marked as text, so that a name which begins with "=" is shown and never
 * computed, not even once somebody edits its cell.
 *
 * @throws Error where there is neither a table nor anything about them
 */
export async function xlsxOf(tables: readonly ExportTable[], about?: ExportAbout): Promise<Uint8Array> {
  const sheets = [...(about === undefined ? [] : [aboutSheet(about)]), ...tables.map(tableSheet)];
  if (sheets.length === 0) throw new Error("Got no table to make a workbook of.");
  const file: HoldsBytes = await writeXlsxFile(sheets).toBlob();
  return new Uint8Array(await file.arrayBuffer());
}

function tableSheet(table: ExportTable): Sheet<never> {
  const headings = table.head.map(headingOf);
  return {
    sheet: table.name,
    stickyRowsCount: 1,
    columns: headings.map((heading, column) => ({
      width: widthOf([heading, ...table.rows.map((row) => lettersOf(row[column]))]),
    })),
    data: [
      headings.map((heading): Cell => ({ ...textCell(heading), fontWeight: "bold" })),
      ...table.rows.map((row) => row.map((cell, column) => cellOf(cell, table.head[column]?.decimals))),
    ],
  };
}

function aboutSheet({ entries, notes, cautions }: ExportAbout): Sheet<never> {
  const paragraph = (text: string): Row => [null, { ...textCell(text), wrap: true, alignVertical: "top" }];
  return {
    sheet: "about",
    columns: ABOUT_WIDTHS.map((width) => ({ width })),
    data: [
      ...entries.map(
        ({ name, value, unit }): Row => [
          { ...textCell(name), fontWeight: "bold", alignVertical: "top" },
          { ...cellOf(value), align: "left", wrap: true },
          unit === undefined ? null : textCell(unit),
        ],
      ),
      ...notes.map(paragraph),
      ...cautions.map((text): Row => {
        const [, cell] = paragraph(text);
        return [null, { ...(cell as object), fontWeight: "bold" }];
      }),
    ],
  };
}

type Written = Exclude<Cell, string | number | boolean | Date | null | undefined>;

function textCell(text: string): Written & object {
  return { value: text.slice(0, LONGEST_TEXT), type: String, format: "@" };
}

/** @param decimals shown of a number; as many as it has where left out */
function cellOf(cell: ExportCell, decimals?: number): Written & object {
  if (cell === undefined || cell === "") return {};
  if (typeof cell === "string") return textCell(cell);
  if (isDay(cell)) return dayCell(cell.day);
  const format = decimals === undefined ? {} : { format: decimals === 0 ? "0" : `0.${"0".repeat(decimals)}` };
  return { value: cell, type: Number, ...format };
}

/** A day as a day; as text where it isn't one. */
function dayCell(day: string): Written & object {
  const date = new Date(`${day.slice(0, 10)}T00:00:00Z`);
  return Number.isNaN(date.getTime()) ? textCell(day) : { value: date, type: Date, format: "yyyy-mm-dd" };
}

function lettersOf(cell: ExportCell): string {
  return cell === undefined ? "" : isDay(cell) ? cell.day : String(cell);
}

function widthOf(texts: readonly string[]): number {
  return Math.min(WIDTH.most, Math.max(WIDTH.least, ...texts.map((text) => text.length + 2)));
}
