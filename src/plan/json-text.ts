/**
 * JSON text with positions. `JSON.parse` of the several browsers words its errors differently, mostly without a
 * line, and silently keeps the last of two equal keys; someone who wrote a plan by hand needs to be told where.
 */
import { say } from "../words/index.ts";
import type { Parsed, Problem } from "./model.ts";
import { formatPath } from "./problems.ts";

/** A parsed JSON value, and on which line of the text the value at a path begins. */
export interface JsonText {
  readonly value: unknown;
  /** 1-based line of the value at a formatted path (`sides.left.lines[3]`); undefined if there is none. */
  readonly lineOf: (path: string) => number | undefined;
}

interface Fault {
  readonly at: number;
  readonly message: string;
}

/** None of our files nests deeper than ten; a limit keeps hostile text from exhausting the stack. */
const DEEPEST = 100;

class SyntaxFault extends Error {
  readonly at: number;
  constructor(at: number, message: string) {
    super(message);
    this.at = at;
  }
}

/** Line and column of an offset, both from 1. */
export function lineAndColumn(
  text: string,
  offset: number,
): { readonly line: number; readonly column: number } {
  const before = text.slice(0, offset).split(/\r\n|\r|\n/);
  return { line: before.length, column: (before[before.length - 1]?.length ?? 0) + 1 };
}

interface Scan {
  readonly offsets: ReadonlyMap<string, number>;
  readonly doubled: readonly { readonly path: string; readonly at: number }[];
  readonly fault: Fault | undefined;
}

/** Walks the text by the grammar of RFC 8259 and notes where each value begins, doubled keys and the first fault. */
function scan(text: string): Scan {
  const offsets = new Map<string, number>();
  const doubled: { path: string; at: number }[] = [];
  let at = 0;

  const fail = (message: string, where = at): never => {
    throw new SyntaxFault(where, message);
  };
  const found = (): string => {
    if (at >= text.length) return say("plan.json.end");
    const char = String.fromCodePoint(text.codePointAt(at) ?? 0);
    return char === "\n" || char === "\r" ? say("plan.json.end-of-line") : `"${char}"`;
  };
  const blank = (): void => {
    while (at < text.length && " \t\n\r".includes(text.charAt(at))) at++;
    if (text.startsWith("//", at) || text.startsWith("/*", at)) fail(say("plan.json.comment"));
  };
  const string = (): string => {
    const start = at++;
    for (;;) {
      const char = text.charAt(at);
      if (char === '"') break;
      if (char === "" || char === "\n" || char === "\r") fail(say("plan.json.open-text"), start);
      if (char < " ") fail(say("plan.json.control"));
      if (char !== "\\") at++;
      else if (/^\\(["\\/bfnrt]|u[0-9a-fA-F]{4})/.test(text.slice(at, at + 6)))
        at += text.charAt(at + 1) === "u" ? 6 : 2;
      else fail(say("plan.json.backslash"));
    }
    at++;
    return JSON.parse(text.slice(start, at)) as string;
  };
  const scalar = (): void => {
    const token = /^[^\s,:[\]{}"]+/.exec(text.slice(at, at + 80))?.[0];
    if (token === undefined) return void fail(say("plan.json.no-value", { found: found() }));
    if (/^-?(0|[1-9]\d*)(\.\d+)?([eE][+-]?\d+)?$/.test(token) || /^(true|false|null)$/.test(token))
      at += token.length;
    else if (/^[-+]?\d*,?\.?\d/.test(token)) fail(say("plan.json.number", { token }));
    else fail(say("plan.json.bare-text", { token }));
  };
  const members = (close: string, one: (index: number) => void): void => {
    at++;
    blank();
    if (text.charAt(at) === close) return void at++;
    for (let index = 0; ; index++) {
      one(index);
      blank();
      const char = text.charAt(at);
      if (char !== "," && char !== close) fail(say("plan.json.no-comma", { found: found(), close }));
      const comma = at++;
      if (char === close) return;
      blank();
      if (text.charAt(at) === close) fail(say("plan.json.comma", { close }), comma);
    }
  };
  const value = (path: readonly PropertyKey[]): void => {
    blank();
    if (path.length > DEEPEST) fail(say("plan.json.deep", { most: DEEPEST }));
    offsets.set(formatPath(path), at);
    const char = text.charAt(at);
    if (char === "{") {
      const keys = new Set<string>();
      members("}", () => {
        if (text.charAt(at) !== '"') fail(say("plan.json.no-key", { found: found() }));
        const start = at;
        const key = string();
        if (keys.has(key)) doubled.push({ path: formatPath([...path, key]), at: start });
        keys.add(key);
        blank();
        if (text.charAt(at) !== ":") fail(say("plan.json.no-colon", { found: found(), key }));
        at++;
        value([...path, key]);
      });
    } else if (char === "[") members("]", (index) => value([...path, index]));
    else if (char === '"') string();
    else scalar();
  };

  try {
    value([]);
    blank();
    if (at < text.length) fail(say("plan.json.after", { found: found() }));
    return { offsets, doubled, fault: undefined };
  } catch (error) {
    if (error instanceof SyntaxFault)
      return { offsets, doubled, fault: { at: error.at, message: error.message } };
    throw error;
  }
}

/**
 * Parses JSON text. A syntax error is one `Problem` with line and column; a key that stands twice in one object
 * is an error too, since one of the two values would be lost without a word.
 */
export function parseJsonText(text: string): Parsed<JsonText> {
  const clean = text.startsWith("\uFEFF") ? text.slice(1) : text;
  const place = (at: number): string => {
    const { line, column } = lineAndColumn(clean, at);
    return say("plan.json.place", { line, column });
  };
  if (clean.trim() === "") {
    const message = say("plan.json.empty");
    return failed([
      {
        severity: "error",
        where: say("plan.json.place", { line: 1, column: 1 }),
        subject: undefined,
        message,
        remedy: say("plan.json.empty.fix"),
      },
    ]);
  }
  const { offsets, doubled, fault } = scan(clean);
  if (fault !== undefined) {
    return failed([
      {
        severity: "error",
        where: place(fault.at),
        subject: undefined,
        message: say("plan.json.broken", { found: fault.message }),
        remedy: say("plan.json.broken.fix"),
      },
    ]);
  }
  if (doubled.length > 0) {
    return failed(
      doubled.map(({ path, at }) => ({
        severity: "error",
        where: say("plan.json.at", { path, place: place(at) }),
        subject: undefined,
        message: say("plan.json.twice", { path }),
        remedy: say("plan.json.twice.fix"),
      })),
    );
  }
  const lineOf = (path: string): number | undefined => {
    const offset = offsets.get(path);
    return offset === undefined ? undefined : lineAndColumn(clean, offset).line;
  };
  return { ok: true, value: { value: JSON.parse(clean), lineOf }, problems: [] };
}

function failed(problems: readonly Problem[]): { readonly ok: false; readonly problems: readonly Problem[] } {
  return { ok: false, problems };
}
