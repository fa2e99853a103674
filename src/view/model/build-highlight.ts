/** Between a draft's text and its diagrams: the lines that a place in the text makes, and where a line was typed. */
import { type Draft, type DraftLine, parseCascade } from "../../plan/draft/index.ts";
import { parseNumberList } from "../../plan/draft/number-list.ts";
import { LINE_KINDS, rowNamed } from "../../plan/draft/source.ts";
import { unquoted } from "../../plan/draft/words.ts";
import type { Row } from "../../plan/model.ts";
import { rowOfHead, type Statement, statementsIn } from "./build-statements.ts";

const NONE: ReadonlySet<string> = new Set();

/** Indices of a lowest line and all that hangs on it: lines stand each after the one below. */
function treeOf(draft: Draft, root: number): readonly number[] {
  const found = new Set([root]);
  draft.lines.forEach((line, index) => {
    if (line.below !== undefined && found.has(line.below)) found.add(index);
  });
  return [...found];
}

/** The statement's place among those that give a row: its entry in the draft. */
function entryOf(statements: readonly Statement[], statement: Statement): number {
  return statements.filter(({ head }) => rowOfHead(head) !== undefined).indexOf(statement);
}

/** The lowest lines of an entry, by the place in its text that draws each. */
function rootsOf(draft: Draft, entry: number): readonly { readonly index: number; readonly at: number }[] {
  const source = draft.source.rows[entry];
  const roots = draft.lines.flatMap((line, index) =>
    line.below === undefined && line.entry === entry ? [index] : [],
  );
  const { lines } = source === undefined ? { lines: [] } : parseCascade(source.cascade, source.row);
  return roots.map((index, place) => ({ index, at: lines[place]?.at ?? 0 }));
}

/** The number of a list that a place is at, counted from 1: the one under the caret or the last before it. */
function numberAt(statements: readonly Statement[], statement: Statement, character: number): number {
  const before = statements.filter(({ head, line }) => head === statement.head && line < statement.line);
  const count = (body: string): number => parseNumberList(body).numbers.length;
  const earlier = before.reduce((sum, { body }) => sum + count(body), 0);
  const offset = Math.max(0, character - 1 - statement.bodyAt);
  const { numbers } = parseNumberList(statement.body);
  return earlier + Math.max(1, numbers.filter(({ at }) => at <= offset).length);
}

/** A tab's line and those that it hangs on. */
function pathOf(draft: Draft, line: number | undefined): readonly number[] {
  const found: number[] = [];
  for (let at = line; at !== undefined; at = draft.lines[at]?.below) found.push(at);
  return found;
}

/**
 * The lines that a place in the text is about, by their ids: a lower line with all that it carries for a place in a row, the
 * path of one tab for a total, a row's lines for its loops and diameters. None for statements about the whole wing.
 * @param line counted from 1, as is `character`
 */
export function linesAt(draft: Draft, text: string, line: number, character: number): ReadonlySet<string> {
  const statements = statementsIn(text);
  const statement = statements.find((each) => each.line === line);
  if (statement === undefined) return NONE;
  const ids = (indices: readonly number[]): ReadonlySet<string> =>
    new Set(indices.flatMap((index) => draft.lines[index]?.id ?? []));
  const { head, bodyAt } = statement;
  if (rowOfHead(head) !== undefined) {
    const roots = rootsOf(draft, entryOf(statements, statement));
    const offset = character - 1 - bodyAt;
    const at = offset < 0 ? undefined : roots.filter((root) => root.at <= offset).at(-1)?.at;
    const meant = at === undefined ? roots : roots.filter((root) => root.at === at);
    return ids(meant.flatMap(({ index }) => treeOf(draft, index)));
  }
  const [first = "", ...words] = head.split(" ");
  const row = rowNamed(words[0] ?? "");
  const inRow = (is: (each: DraftLine) => boolean): readonly number[] =>
    draft.lines.flatMap((each, index) => (is(each) ? [index] : []));
  if (first === "totals" && row !== undefined) {
    const number = numberAt(statements, statement, character);
    return ids(pathOf(draft, draft.tabs.find((tab) => tab.row === row && tab.number === number)?.line));
  }
  const kind = LINE_KINDS.find((each) => each === first);
  if (kind !== undefined && row !== undefined) {
    const number = numberAt(statements, statement, character);
    return ids(inRow((each) => each.row === row && each.kind === kind && each.number === number));
  }
  if (first === "ribs" || first === "chord")
    return ids(inRow((each) => each.tab !== undefined && words.some((word) => rowNamed(word) === each.row)));
  if (["loop", "diameters", "use", "colour", "line", "tab"].includes(first)) {
    const wanted = words.map((word) => unquoted(word).toLowerCase());
    return ids(
      inRow(
        (each) =>
          (first !== "loop" || each.below === undefined) &&
          wanted.some((word) => rowNamed(word) === each.row || word === each.name.toLowerCase()),
      ),
    );
  }
  return NONE;
}

export interface LinePlace {
  readonly line: number;
  readonly character: number;
  /** How many characters draw it. */
  readonly length: number;
}

/** Where the lower line that carries a line was typed; the pattern's statement where no row was. */
export function placeOfLine(draft: Draft, text: string, id: string): LinePlace | undefined {
  const index = draft.lines.findIndex((line) => line.id === id);
  const line = draft.lines[index];
  if (line === undefined) return undefined;
  const statements = statementsIn(text);
  const statement = statements.filter(({ head }) => rowOfHead(head) !== undefined)[line.entry];
  if (statement === undefined) {
    const pattern = statements.find(({ head }) => head === "pattern");
    return pattern === undefined
      ? undefined
      : { line: pattern.line, character: pattern.bodyAt + 1, length: pattern.body.length };
  }
  const root = pathOf(draft, index).at(-1);
  const roots = rootsOf(draft, line.entry);
  const at = roots.find((each) => each.index === root)?.at ?? 0;
  const next = roots.find((each) => each.at > at)?.at ?? statement.body.length;
  const piece = statement.body.slice(at, next).trimEnd();
  return { line: statement.line, character: statement.bodyAt + at + 1, length: piece.length };
}

/** The row in whose diagram a draft's line is drawn: that of its lowest line. */
export function diagramOf(draft: Draft, id: string): Row | undefined {
  const line = draft.lines.find((each) => each.id === id);
  return line === undefined ? undefined : draft.source.rows[line.entry]?.row;
}
