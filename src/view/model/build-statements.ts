/** A draft's text as statements, and single statements of it put in, changed or taken out while all else stays as typed. */

import { rowNamed } from "../../plan/draft/source.ts";
import { partsOf } from "../../plan/draft/words.ts";
import type { Row } from "../../plan/model.ts";

export interface Statement {
  /** Line of the text, counted from 1. */
  readonly line: number;
  /** What it is about, in lower case, blanks single: `totals a`, `a on a2`. */
  readonly head: string;
  readonly body: string;
  /** Characters before the body in its line. */
  readonly bodyAt: number;
}

/** The statements of a text in order; remarks and what has no colon yet are left out, but a bare row (`A 2+2`) is one. */
export function statementsIn(text: string): readonly Statement[] {
  return text.split("\n").flatMap((raw, index): Statement[] => {
    if (/^\s*(#|$)/u.test(raw)) return [];
    const [head, second] = partsOf(raw, ":");
    const bare = second === undefined ? /^\s*(BR|[ABCDT]|tip|brake)\s+(?=[\d(])/iu.exec(raw) : null;
    if (second === undefined && bare === null) return [];
    const word = bare?.[1] ?? head?.text ?? "";
    const from =
      bare === null ? raw.indexOf(":", (head?.at ?? 0) + (head?.text.length ?? 0)) + 1 : bare[0].length;
    const rest = raw.slice(from);
    return [
      {
        line: index + 1,
        head: word.toLowerCase().replace(/\s+/gu, " "),
        body: rest.trim(),
        bodyAt: from + rest.length - rest.trimStart().length,
      },
    ];
  });
}

/** Heads of statements that are written here, as the notation has them in every language. */
export type Head =
  | "name"
  | "size"
  | "kind"
  | "weight"
  | "from"
  | "tension"
  | "risers"
  | "pulley"
  | "free travel"
  | "diameters"
  | "lower A"
  | `ribs ${string}`
  | `chord ${string}`
  | `totals ${string}`
  | `material ${string}`
  | `${"lower" | "middle" | "third" | "upper"} ${string}`;

/** A statement as a line of the text; without a body it waits for one. */
export function statement(head: Head, body: string | number): string {
  return `${head}: ${body}`;
}

/** The row whose lower lines a statement gives: `a`, `t on b`; undefined for statements about something else. */
export function rowOfHead(head: string): Row | undefined {
  const match = /^(\S+)(?:\s+on\s+.+)?$/u.exec(head);
  return match === null ? undefined : rowNamed(match[1] as string);
}

/** The order in which a plan is read, by the first word. */
const ORDER: readonly string[] = [
  "name",
  "size",
  "kind",
  "weight",
  "note",
  "from",
  "tension",
  "trimmer",
  "reference",
  "risers",
  "maillons",
  "pulley",
  "free",
  "pattern",
  "@rows",
  "ribs",
  "chord",
  "totals",
  "lower",
  "middle",
  "third",
  "upper",
  "material",
  "diameters",
  "use",
  "loop",
  "colour",
  "canopy",
  "limits",
  "setting",
  "line",
  "tab",
];
const ROW_ORDER: readonly (Row | undefined)[] = ["A", "B", "C", "D", "tip", "brake"];

/** Where a statement belongs among the others; within the same kind by row. */
function rankOf(head: string): number {
  const own = rowOfHead(head);
  if (own !== undefined) return ORDER.indexOf("@rows") + rankOfRow(own);
  const [first = "", second = ""] = head.split(" ");
  const place = ORDER.indexOf(first);
  const of = rowNamed(second);
  return (place < 0 ? ORDER.length : place) + (of === undefined ? 0 : rankOfRow(of));
}

const rankOfRow = (row: Row): number => (ROW_ORDER.indexOf(row) + 1) / 10;

export interface Written {
  readonly text: string;
  /** Line where the statement stands now, counted from 1; undefined where it was taken out. */
  readonly line: number | undefined;
}

/**
 * The text with one statement written anew where it stood; others of the same kind are taken out, as they would go on with
 * its list. A new one goes where it belongs in the order of a plan.
 * @param is whether a statement is of that kind, by its head
 * @param statement as a whole, `weight: 80-105`; undefined takes it out
 */
export function withStatement(
  text: string,
  is: (head: string) => boolean,
  statement: string | undefined,
): Written {
  const lines = text.split("\n");
  const all = statementsIn(text);
  const found = all.filter(({ head }) => is(head));
  const [first] = found;
  if (first !== undefined) {
    const gone = new Set(found.slice(statement === undefined ? 0 : 1).map(({ line }) => line - 1));
    if (statement !== undefined) lines[first.line - 1] = statement;
    return {
      text: lines.filter((_, index) => !gone.has(index)).join("\n"),
      line: statement === undefined ? undefined : first.line,
    };
  }
  if (statement === undefined) return { text, line: undefined };
  const rank = rankOf(statementsIn(statement)[0]?.head ?? "");
  const before = all.filter(({ head }) => rankOf(head) <= rank).at(-1);
  const after = all.find(({ head }) => rankOf(head) > rank);
  const at = before?.line ?? (after === undefined ? endOf(lines) : after.line - 1);
  lines.splice(at, 0, statement);
  if (at === lines.length - 1) lines.push("");
  return { text: lines.join("\n"), line: at + 1 };
}

/** Number of lines without the blank ones at the end. */
function endOf(lines: readonly string[]): number {
  let end = lines.length;
  while (end > 0 && (lines[end - 1] as string).trim() === "") end--;
  return end;
}

/** `is` for {@link withStatement}: the head as it is, rows by any of their names. */
export function headed(head: string): (other: string) => boolean {
  const plain = (text: string): string =>
    text
      .toLowerCase()
      .split(" ")
      .map((word, index) => (index > 0 ? (rowNamed(word) ?? word) : word))
      .join(" ");
  const wanted = plain(head);
  return (other) => plain(other) === wanted;
}

/** Offset in the whole text of a line and character, both counted from 1. */
export function offsetOf(text: string, line: number, character = 1): number {
  const lines = text.split("\n");
  const before = lines.slice(0, line - 1).reduce((sum, each) => sum + each.length + 1, 0);
  return before + Math.min(character - 1, lines[line - 1]?.length ?? 0);
}

/** The line and character of an offset, counted from 1. */
export function placeAt(text: string, offset: number): { readonly line: number; readonly character: number } {
  const before = text.slice(0, offset);
  const line = before.split("\n").length;
  return { line, character: offset - before.lastIndexOf("\n") };
}
