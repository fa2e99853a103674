/**
 * The cascade of a row in a few keystrokes, from the middle of the wing outwards.
 *
 *     1        a line that ends at a tab
 *     3        a line that forks into three lines, each to a tab
 *     3+2      a line that carries a line forking into three and one forking into two: five tabs
 *     2+1      … one forking into two, and one that goes straight to a tab
 *     (2+2)    one line that carries what stands in the brackets; brackets within brackets make more tiers
 *     4*(2+2)  the same four times, joined by +
 *     (1)      a line that goes on as one line to a tab, without a fork
 *     2+D2     a line of the row that carries two of its own tabs and, on a line of row D, two tabs of row D
 *
 * Lower lines stand apart by blanks (or commas); each number, sum or bracket is one of them: `2+2 3+2 2`. With `3x` before it
 * a lower line stands three times: `3x2+2`. Rows are A, B, C, D, T (tip), BR (brake). At most four lines follow each other.
 */
import { say } from "../../words/index.ts";
import type { Row } from "../model.ts";
import { ROW_PREFIXES, rowNamed } from "./source.ts";

/** One line of a cascade; it ends at a tab where it carries none. */
export interface Branch {
  readonly row: Row;
  readonly carries: readonly Branch[];
  /** Where it stands in the text, counted from 0. */
  readonly at: number;
}

/** Something that can't be read, by its place in the text. */
export interface Fault {
  /** Counted from 0. */
  readonly at: number;
  readonly message: string;
  readonly remedy: string;
}

export const MOST_TIERS = 4;
/** More than this is a slip of the finger. */
const MOST_TABS = 200;

const SEPARATOR = /[\s,;|]/u;

/**
 * The lower lines that a text means, and what in it couldn't be read. What is unfinished is taken as far as it goes: an open
 * bracket as closed at the end, a sum without its last term as without the sign. Never throws.
 */
export function parseCascade(
  text: string,
  row: Row,
): { readonly lines: readonly Branch[]; readonly faults: readonly Fault[] } {
  const faults: Fault[] = [];
  let at = 0;
  let tabs = 0;

  const fault = (where: number, message: string, remedy: string): void => {
    faults.push({ at: where, message, remedy });
  };
  const blanks = (): void => {
    while (at < text.length && /\s/u.test(text[at] as string)) at++;
  };
  const whole = (): number | undefined => {
    const digits = /^\d+/u.exec(text.slice(at))?.[0];
    if (digits === undefined) return undefined;
    at += digits.length;
    return Number(digits);
  };
  /** A count that can be meant; 1 in the place of one that can't. */
  const count = (value: number, where: number, of: "tabs" | "times" | "lines"): number => {
    if (value >= 1 && tabs + value <= MOST_TABS) return value;
    fault(
      where,
      say("draft.count", { found: value, of, way: value < 1 ? "few" : "many", most: MOST_TABS }),
      say("draft.count.fix"),
    );
    return 1;
  };
  const leaf = (of: Row, where: number): Branch => {
    tabs++;
    return { row: of, carries: [], at: where };
  };

  /** Terms joined by +, up to a closing bracket or the end of the word. */
  const sum = (of: Row, inside: boolean): Branch[] => {
    const terms = [...term(of, inside)];
    for (;;) {
      const before = at;
      blanks();
      if (text[at] !== "+") {
        at = before;
        return terms;
      }
      const plus = at++;
      blanks();
      const more = term(of, inside);
      if (more.length === 0) fault(plus, say("draft.plus"), say("draft.plus.fix"));
      terms.push(...more);
    }
  };

  const copies = (branch: Branch, times: number): Branch[] => {
    const size = tabsOf(branch);
    const fits = Math.min(times, Math.max(1, Math.floor((MOST_TABS - tabs) / size) + 1));
    tabs += size * (fits - 1);
    return Array.from({ length: fits }, () => branch);
  };

  const term = (of: Row, inside: boolean): Branch[] => {
    const start = at;
    const value = whole();
    const sign = text[at];
    if (value !== undefined && (sign === "*" || sign === "·" || sign === "(")) {
      const times = count(value, start, "times");
      if (sign !== "(") at++;
      blanks();
      const one = term(of, inside);
      if (one.length === 0) fault(start, say("draft.times", { times: value }), say("draft.times.fix"));
      return one.flatMap((branch) => copies(branch, times));
    }
    if (value !== undefined) {
      const n = count(value, start, "tabs");
      if (n === 1) return [leaf(of, start)];
      return [{ row: of, at: start, carries: Array.from({ length: n }, () => leaf(of, start)) }];
    }
    if (sign === "(") {
      at++;
      const carries: Branch[] = [];
      blanks();
      while (at < text.length && text[at] !== ")") {
        const before = at;
        carries.push(...sum(of, true));
        while (at < text.length && SEPARATOR.test(text[at] as string)) at++;
        if (at === before) {
          fault(at, say("draft.term", { found: text[at] ?? "" }), say("draft.correct-or-remove"));
          at++;
        }
      }
      if (at >= text.length) fault(start, say("draft.open"), say("draft.open.fix"));
      else at++;
      if (carries.length > 0) return [{ row: of, at: start, carries }];
      fault(start, say("draft.hollow"), say("draft.hollow.fix"));
      return [];
    }
    const letters = /^(?:BR|[ABCDT])(?=[\d(])/iu.exec(text.slice(at))?.[0];
    if (letters === undefined) return [];
    at += letters.length;
    return term(rowNamed(letters) ?? of, inside).map((branch) => ({ ...branch, at: start }));
  };

  const lines: Branch[] = [];
  while (at < text.length) {
    if (SEPARATOR.test(text[at] as string)) {
      at++;
      continue;
    }
    const start = at;
    const repeat = /^(\d+)\s*[x×]\s*/iu.exec(text.slice(at));
    if (repeat !== null) at += repeat[0].length;
    const terms = sum(row, false);
    const first = terms[0];
    if (first === undefined) {
      const found = text[at];
      if (found === undefined)
        fault(start, say("draft.dangling", { found: text.slice(start) }), say("draft.dangling.fix"));
      else if (found === ")") fault(at, say("draft.close"), say("draft.close.fix"));
      else fault(at, say("draft.start", { found }), say("draft.correct-or-remove"));
      at = Math.max(at + 1, start + 1);
      continue;
    }
    const line: Branch = terms.length === 1 ? first : { row, at: start, carries: terms };
    const times = repeat === null ? 1 : count(Number(repeat[1]), start, "lines");
    lines.push(...copies(line, times));
  }
  for (const line of lines) {
    const deep = tooDeep(line, 1);
    if (deep !== undefined && !faults.some((each) => each.at === deep.at))
      fault(deep.at, say("draft.deep", { most: MOST_TIERS }), say("draft.deep.fix"));
  }
  return { lines, faults };
}

function tooDeep(branch: Branch, tier: number): Branch | undefined {
  if (tier > MOST_TIERS) return branch;
  for (const above of branch.carries) {
    const found = tooDeep(above, tier + 1);
    if (found !== undefined) return found;
  }
  return undefined;
}

/** Tabs that a line carries in the end. */
export function tabsOf(branch: Branch): number {
  return branch.carries.length === 0 ? 1 : branch.carries.reduce((sum, each) => sum + tabsOf(each), 0);
}

/** One line as a part of a sum. */
function termText(branch: Branch, row: Row): string {
  const prefix = branch.row === row ? "" : ROW_PREFIXES[branch.row];
  if (branch.carries.length === 0) return `${prefix}1`;
  const tabsOnly = branch.carries.every((each) => each.carries.length === 0 && each.row === branch.row);
  if (tabsOnly && branch.carries.length > 1) return `${prefix}${branch.carries.length}`;
  return `${prefix}(${sumText(branch.carries, branch.row)})`;
}

function sumText(branches: readonly Branch[], row: Row): string {
  return runs(branches.map((each) => termText(each, row)))
    .map(({ text, times }) =>
      times > 2 && text.length > 1 ? `${times}*${text}` : Array(times).fill(text).join("+"),
    )
    .join("+");
}

function runs(texts: readonly string[]): { readonly text: string; readonly times: number }[] {
  const found: { text: string; times: number }[] = [];
  for (const text of texts) {
    const last = found.at(-1);
    if (last?.text === text) last.times++;
    else found.push({ text, times: 1 });
  }
  return found;
}

/** The shortest text that `parseCascade` reads as these lower lines. */
export function writeCascade(lines: readonly Branch[], row: Row): string {
  const words = lines.map((line) => {
    const sum = line.row === row && line.carries.length > 1 ? sumText(line.carries, row) : "";
    const term = termText(line, row);
    // A sum of its own stands for the line without brackets; a plain number stands for itself.
    return term.startsWith("(") && sum !== "" ? sum : term;
  });
  return runs(words)
    .map(({ text, times }) => (times === 1 ? text : `${times}x${text}`))
    .join(" ");
}
