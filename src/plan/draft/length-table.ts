/** Lengths of a draft from a table, as a printed sheet is typed into a spreadsheet. */

import Papa from "papaparse";
import { say } from "../../words/index.ts";
import type { Problem } from "../model.ts";
import { listed, problem } from "../wording.ts";
import { type DraftSource, LINE_KINDS, type LineKind, rowNamed } from "./source.ts";

type Total = NonNullable<DraftSource["totals"]>[number];
type Length = NonNullable<DraftSource["lengths"]>[number];

export interface LengthTable {
  readonly totals: readonly Total[];
  readonly lengths: readonly Length[];
  /** With their places: `row 3, column 2`. */
  readonly problems: readonly Problem[];
}

type Column =
  | { readonly kind: "row" | "number" | "mm" | "what" | "other" }
  | { readonly kind: "values"; readonly row: Total["row"]; readonly of: LineKind | "total" };

const ROW_WORDS = /^row$/iu;
const NUMBER_WORDS = /^(number|no\.?|nr\.?|#|n)$/iu;
const VALUE_WORDS = /^(mm|length|total)(\s*[[(]?mm[\])]?)?$/iu;
const WHAT_WORDS = /^(line|tier|what|kind)$/iu;

function columnOf(heading: string): Column {
  const plain = heading.trim();
  if (ROW_WORDS.test(plain)) return { kind: "row" };
  if (NUMBER_WORDS.test(plain)) return { kind: "number" };
  if (VALUE_WORDS.test(plain)) return { kind: "mm" };
  if (WHAT_WORDS.test(plain)) return { kind: "what" };
  const [first = "", second = "", ...more] = plain
    .replace(/[[(]?mm[\])]?$/iu, "")
    .trim()
    .split(/\s+/u);
  const row = rowNamed(first);
  const of = second === "" ? "total" : whatNamed(second);
  return row === undefined || of === undefined || more.length > 0
    ? { kind: "other" }
    : { kind: "values", row, of };
}

/** Tier 1 is lower; what ends at a tab is upper; "total" is the path's total. */
function whatNamed(word: string): LineKind | "total" | undefined {
  const plain = word.toLowerCase();
  if (plain === "" || plain === "total" || plain === "totals" || plain === "path") return "total";
  const kind = LINE_KINDS.find((each) => each === plain);
  return kind ?? ({ 1: "lower", 2: "middle", 3: "third" } as Readonly<Record<string, LineKind>>)[plain];
}

/**
 * Reads a table with a line of headings, its columns parted by semicolons, commas or tabs. Either the usual table: `number`
 * and a column a row (`A`, `B`, `tip`, `brake`; `A lower`, `A middle`, `A upper` for single lines); or one length a line:
 * `row`, `number`, `mm`, and perhaps `line` (total, lower, middle, third, upper). Lengths in mm; an empty cell or `-` is
 * none. Never throws.
 */
export function readLengthTable(text: string): LengthTable {
  const totals: Total[] = [];
  const lengths: Length[] = [];
  const problems: Problem[] = [];
  const complain = (where: string, message: string, remedy: string): void => {
    problems.push(problem("error", where, undefined, message, remedy));
  };
  const { data } = Papa.parse<string[]>(text.replace(/^\uFEFF/u, ""), {
    delimitersToGuess: [";", "\t", ","],
  });
  const rows = data
    .map((cells, index) => ({ cells, number: index + 1 }))
    .filter(
      ({ cells }) => cells.some((cell) => cell.trim() !== "") && !cells[0]?.trimStart().startsWith("#"),
    );
  const [head, ...body] = rows;
  const columns = (head?.cells ?? []).map(columnOf);
  const find = (kind: Column["kind"]): number => columns.findIndex((column) => column.kind === kind);
  const [rowAt, numberAt, mmAt, whatAt] = [find("row"), find("number"), find("mm"), find("what")];
  const wide = find("values") >= 0;
  if (numberAt < 0 || (!wide && (rowAt < 0 || mmAt < 0))) {
    complain(
      say("draft.table.row", { row: head?.number ?? 1 }),
      say("draft.table.headings", {
        empty: head === undefined ? "yes" : "no",
        found: listed((head?.cells ?? []).map((cell) => `"${cell.trim()}"`)),
      }),
      say("draft.table.headings.fix"),
    );
    return { totals, lengths, problems };
  }
  columns.forEach((column, at) => {
    if (column.kind === "other")
      complain(
        say("draft.cell", { row: head?.number ?? 1, column: at + 1 }),
        say("draft.table.heading", { found: head?.cells[at]?.trim() ?? "" }),
        say("draft.table.heading.fix"),
      );
  });
  const put = (row: Total["row"], of: LineKind | "total", number: number, mm: number): void => {
    if (of === "total") totals.push({ row, number, mm });
    else lengths.push({ row, kind: of, number, mm });
  };
  for (const { cells, number: line } of body) {
    const cell = (at: number): string => (cells[at] ?? "").trim();
    const whole = Number(cell(numberAt));
    if (!Number.isInteger(whole) || whole < 1) {
      complain(
        say("draft.cell", { row: line, column: numberAt + 1 }),
        say("draft.table.number", { found: cell(numberAt) }),
        say("draft.correct"),
      );
      continue;
    }
    const value = (at: number): number | undefined => {
      const plain = cell(at)
        .replace(/\s*mm$/u, "")
        .replace(",", ".");
      if (plain === "" || plain === "-" || plain === "–") return undefined;
      if (/^\d+(\.\d+)?$/u.test(plain)) return Number(plain);
      complain(
        say("draft.cell", { row: line, column: at + 1 }),
        say("draft.table.length", { found: cell(at) }),
        say("draft.table.length.fix"),
      );
      return undefined;
    };
    if (wide) {
      columns.forEach((column, at) => {
        if (column.kind !== "values") return;
        const mm = value(at);
        if (mm !== undefined) put(column.row, column.of, whole, mm);
      });
      continue;
    }
    const row = rowNamed(cell(rowAt));
    const of = whatAt < 0 ? "total" : whatNamed(cell(whatAt));
    if (row === undefined)
      complain(
        say("draft.cell", { row: line, column: rowAt + 1 }),
        say("draft.table.row-name", { found: cell(rowAt) }),
        say("draft.correct"),
      );
    else if (of === undefined)
      complain(
        say("draft.cell", { row: line, column: whatAt + 1 }),
        say("draft.table.what", { found: cell(whatAt) }),
        say("draft.correct"),
      );
    else {
      const mm = value(mmAt);
      if (mm !== undefined) put(row, of, whole, mm);
    }
  }
  return { totals, lengths, problems };
}

/** A draft's source with the table's lengths in the place of those that it gives for the same tabs and lines. */
export function withLengths(source: DraftSource, table: LengthTable): DraftSource {
  const merged = <T>(old: readonly T[], now: readonly T[], key: (one: T) => string): T[] => {
    const replaced = new Set(now.map(key));
    return [...old.filter((one) => !replaced.has(key(one))), ...now];
  };
  return {
    ...source,
    totals: merged(source.totals ?? [], table.totals, (one) => `${one.row} ${one.number}`),
    lengths: merged(source.lengths ?? [], table.lengths, (one) => `${one.row} ${one.kind} ${one.number}`),
  };
}
