/**
 * A CSV text as records with their place in the file. The grammar (RFC 4180) is Papa Parse's; the line numbers
 * are kept here.
 */
import Papa from "papaparse";

export const DELIMITERS = [",", ";", "\t"] as const;
export type Delimiter = (typeof DELIMITERS)[number];

export interface CsvRecord {
  /**
   * Physical line of the file that the record starts on, counted from 1; a quoted cell may make it span
   * several.
   */
  readonly line: number;
  /** Cells as they stand, quotes taken off; spaces belong to them (RFC 4180, section 2, rule 4). */
  readonly cells: readonly string[];
  /** Cells that hold a number as such, not its text (from a spreadsheet); undefined at the others. */
  readonly numbers?: readonly (number | undefined)[];
}

/** A line that starts with `#`, without that sign. */
export interface CsvComment {
  readonly line: number;
  readonly text: string;
}

export interface CsvRecords {
  readonly records: readonly CsvRecord[];
  readonly comments: readonly CsvComment[];
  /** Lines with a quoted cell that isn't closed, or goes on after its closing quote. */
  readonly badQuotes: readonly {
    readonly line: number;
    readonly unclosed: boolean;
  }[];
}

/** Takes off the byte order mark and makes every line break (CRLF, LF, CR, also mixed) a line feed. */
export function plainText(text: string): string {
  return text.replace(/^\uFEFF/u, "").replace(/\r\n?/gu, "\n");
}

/**
 * Splits a text from {@link plainText} into records. Records without any content are left out. A spreadsheet
 * may have put a comment line into quotes or filled it up with delimiters: it is a comment all the same.
 */
export function readRecords(text: string, delimiter: Delimiter): CsvRecords {
  const records: CsvRecord[] = [];
  const comments: CsvComment[] = [];
  const badQuotes: CsvRecords["badQuotes"][number][] = [];
  let at = 0;
  let line = 1;

  /** Comment lines that stand before the next record are skipped by the grammar; here they are picked up. */
  const takeComments = (): void => {
    while (text[at] === "#") {
      const end = text.indexOf("\n", at);
      const stop = end < 0 ? text.length : end;
      comments.push({
        line,
        text: text
          .slice(at + 1, stop)
          .replace(/[,;\t]+$/u, "")
          .trim(),
      });
      at = Math.min(stop + 1, text.length);
      line += 1;
    }
  };

  Papa.parse<string[]>(text, {
    delimiter,
    newline: "\n",
    comments: "#",
    // The fast path is taken by the file's content; one path for all keeps the cursor's meaning the same.
    fastMode: false,
    step: ({ data: cells, errors, meta }) => {
      takeComments();
      const bad = errors.filter((error) => error.type === "Quotes");
      if (bad.length > 0)
        badQuotes.push({
          line,
          unclosed: bad.some((error) => error.code === "MissingQuotes"),
        });
      else if (cells[0]?.startsWith("#")) comments.push({ line, text: cells[0].slice(1).trim() });
      else if (cells.some((cell) => cell.trim() !== "")) records.push({ line, cells });
      line += countLineFeeds(text, at, meta.cursor);
      at = meta.cursor;
    },
  });
  takeComments();
  return { records, comments, badQuotes };
}

function countLineFeeds(text: string, from: number, to: number): number {
  let count = 0;
  for (let next = text.indexOf("\n", from); next >= 0 && next < to; next = text.indexOf("\n", next + 1))
    count += 1;
  return count;
}
