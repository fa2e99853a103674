/** A table as CSV, for spreadsheets and programs: the same in every language but for its cautions. */
import Papa from "papaparse";
import { guardFormula } from "../readings/index.ts";
import type { ExportAbout, ExportEntry } from "./export-about.ts";
import { type ExportCell, type ExportTable, headingOf, isDay } from "./export-table.ts";

export interface CsvOptions {
  /** In comment lines before the table. */
  readonly about?: ExportAbout;
  /** Begin with a byte order mark, by which some spreadsheets know UTF-8. */
  readonly bom?: boolean;
}

const BYTE_ORDER_MARK = "\ufeff";

/**
 * A table as CSV (RFC 4180, commas, line breaks CRLF, decimal point): what it is about in comment lines, then the headings,
 * then its rows; nothing for an empty cell. Text that a spreadsheet would run as a formula is given an apostrophe in front.
 * A table of readings is read again as it was.
 */
export function csvOf(table: ExportTable, { about, bom = false }: CsvOptions = {}): string {
  const comments = [
    ...(about?.entries.map(entryText) ?? []),
    ...(about?.notes ?? []),
    ...(about?.cautions ?? []),
  ].map((text) => [`# ${text}`]);
  const rows = table.rows.map((row) => row.map(written));
  // A reader takes trailing delimiters off a bare comment, since spreadsheets fill it up with them.
  const quotes = (value: unknown): boolean => typeof value === "string" && /^#.*[,;\t]$/su.test(value);
  const text = Papa.unparse([...comments, table.head.map(headingOf), ...rows], { newline: "\r\n", quotes });
  return `${bom ? BYTE_ORDER_MARK : ""}${text}\r\n`;
}

function entryText({ name, value, unit }: ExportEntry): string {
  // The comment's sign stands before it: nothing can run.
  const text = typeof value === "string" ? value : written(value);
  return `${name}: ${text}${unit === undefined ? "" : ` ${unit}`}`;
}

function written(cell: ExportCell): string {
  if (cell === undefined) return "";
  if (typeof cell === "string") return guardFormula(cell);
  if (isDay(cell)) return cell.day.slice(0, 10);
  // Three decimals might be read as grouped thousands: a fourth says that they aren't.
  return String(cell).replace(/^(-?\d{1,3}\.\d{3})$/u, "$10");
}
