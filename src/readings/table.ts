/** Finds the table in a CSV text: its delimiter, its headings, its rows. */
import { say } from "../words/index.ts";
import { type Column, type Role, readHeadings } from "./headings.ts";
import { type CsvRecord, type CsvRecords, DELIMITERS, type Delimiter, readRecords } from "./records.ts";

/**
 * The table found in a file. `wide`: a row per tab or line with a column per side; `long`: a row per reading.
 */
export interface Table {
  readonly delimiter: Delimiter;
  readonly shape: "wide" | "long";
  readonly header: CsvRecord;
  readonly columns: readonly Column[];
  /** Headings that mean nothing here. */
  readonly unused: readonly string[];
  /** Records after the header. */
  readonly rows: readonly CsvRecord[];
  /** Records before the header, which are skipped. */
  readonly before: readonly CsvRecord[];
  readonly comments: CsvRecords["comments"];
  readonly badQuotes: CsvRecords["badQuotes"];
  /** Names a place in it, where the lines aren't those of a text file. */
  readonly placeOf?: (line: number, column: Column | undefined) => string;
}

export type FoundTable =
  | { readonly ok: true; readonly table: Table }
  | {
      readonly ok: false;
      readonly line: number;
      readonly headings: readonly string[];
      /** How many of them are known. */
      readonly understood: number;
      readonly reason: string;
    };

/** A title, an address, an empty line may stand above the table; beyond this it's no table of ours. */
const MOST_RECORDS_BEFORE = 20;

/**
 * Finds the delimiter and the header: the record whose headings make sense to us tells both, whatever commas
 * stand in the cells.
 *
 * @param text from `plainText`; a first line `sep=;`, as spreadsheets write it, settles the delimiter.
 */
export function findTable(text: string): FoundTable {
  const stated = /^"?sep=([,;\t])"?(?=\n|$)/iu.exec(text)?.[1];
  const found = DELIMITERS.filter((delimiter) => stated === undefined || delimiter === stated).map(
    (delimiter) => findHeader(delimiter, readRecords(text, delimiter), stated === undefined ? 0 : 1),
  );
  const tables = found.flatMap((one) => (one.ok ? [one.table] : []));
  const [table] = tables.sort((one, other) => other.columns.length - one.columns.length);
  if (table !== undefined) return { ok: true, table };
  // Of the failures, talk about the one that understood and split most.
  const [nearest] = found
    .flatMap((one) => (one.ok ? [] : [one]))
    .sort((one, other) => other.understood - one.understood || other.headings.length - one.headings.length);
  return (
    nearest ?? { ok: false, line: 1, headings: [], understood: 0, reason: say("readings.table.no-rows") }
  );
}

/** The table whose header is the first of the records that makes one, or why none does. */
export function findHeader(delimiter: Delimiter, split: CsvRecords, skippedLines: number): FoundTable {
  const { comments, badQuotes } = split;
  const records = split.records.filter((record) => record.line > skippedLines);
  let nearest: Extract<FoundTable, { ok: false }> | undefined;
  for (const [index, header] of records.slice(0, MOST_RECORDS_BEFORE).entries()) {
    const columns = readHeadings(header.cells);
    const shape = shapeOf(columns);
    const titles = header.cells.map((title) => title.trim());
    if (typeof shape === "object") {
      if (nearest !== undefined && columns.length <= nearest.understood) continue;
      const headings = titles.filter((title) => title !== "");
      nearest = { ok: false, line: header.line, headings, understood: columns.length, reason: shape.reason };
      continue;
    }
    const known = new Set(columns.map((column) => column.index));
    const unused = titles.filter((title, place) => title !== "" && !known.has(place));
    const rows = records.slice(index + 1);
    const before = records.slice(0, index);
    return {
      ok: true,
      table: { delimiter, shape, header, columns, unused, rows, before, comments, badQuotes },
    };
  }
  if (nearest !== undefined) return nearest;
  const [bad] = badQuotes;
  const reason = bad ? say("readings.table.quotes") : say("readings.table.no-rows");
  return { ok: false, line: bad?.line ?? 1, headings: [], understood: 0, reason };
}

const isName = (role: Role): boolean => role === "tab" || role === "line" || role === "name";

/** The table's shape, or why these headings make no table. */
function shapeOf(columns: readonly Column[]): Table["shape"] | { readonly reason: string } {
  const has = (role: Role): boolean => columns.some((column) => column.role === role);
  if (!columns.some((column) => isName(column.role))) return { reason: say("readings.table.no-names") };
  if (has("left") || has("right")) {
    // With "side" beside "l" the "l" may well be short for length: never guess.
    return has("side")
      ? {
          reason: say("readings.table.two-sides"),
        }
      : "wide";
  }
  if (!has("value")) return { reason: say("readings.table.no-readings") };
  return has("side") ? "long" : { reason: say("readings.table.no-side") };
}
