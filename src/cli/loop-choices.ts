/** What the command line says of a loop plan: each choice that it gives goes before the book's. */
import { trimmedMm } from "../diagnosis/wording.ts";
import type { Row, Wing } from "../plan/index.ts";
import { say } from "../words/index.ts";
import {
  defaultChoices,
  fileNameOf,
  isGiven,
  kindFromName,
  type LineLoops,
  type LoopBook,
  type LoopChoices,
  loopKind,
} from "../workshop/index.ts";
import { namedLines } from "./change.ts";
import { oneOf } from "./globals.ts";
import { UsageError } from "./io.ts";
import type { Arguments, OptionSpecs } from "./options.ts";

export const CHOICE_OPTIONS: OptionSpecs = {
  rows: { type: "string" },
  keep: { type: "string", multiple: true },
  kinds: { type: "string" },
  "most-take-up": { type: "string" },
  reserve: { type: "string" },
  symmetry: { type: "string" },
  "rows-together": { type: "string" },
  aim: { type: "string" },
  shared: { type: "string" },
  worth: { type: "string" },
  "most-changes": { type: "string" },
};

/** The part of a help text on the choices. */
export function choiceHelp(): string {
  return say("cli.help.choices");
}

/**
 * The choices for a loop plan: the book's, or the usual ones, with what the command line says instead.
 *
 * @throws UsageError for a row, line, loop or word that isn't one, or a figure out of its range.
 */
export function readLoopChoices(
  given: Arguments,
  wing: Wing,
  book: LoopBook,
  loops: readonly LineLoops[],
): LoopChoices {
  const base = book.choices ?? defaultChoices(wing, loops);
  const mostTakeUpM = notNegativeM(given, "most-take-up");
  const mostChanges = given.number("most-changes", "changes");
  if (mostChanges !== undefined && !(Number.isInteger(mostChanges) && mostChanges >= 0))
    throw new UsageError(say("cli.option.whole.up", { option: "--most-changes", least: "0" }));
  return {
    ...base,
    mayChange: mayChange(given, wing, loops, base.mayChange),
    kinds: kinds(given.text("kinds"), loops) ?? base.kinds,
    mostTakeUpM: mostTakeUpM ?? base.mostTakeUpM,
    reserveM: notNegativeM(given, "reserve") ?? base.reserveM,
    symmetry: word(given, "symmetry", ["same", "prefer", "free"]) ?? base.symmetry,
    rowsTogether: yesOr(word(given, "rows-together", ["yes", "no"]), "yes") ?? base.rowsTogether,
    aim: word(given, "aim", ["mean", "tolerance"]) ?? base.aim,
    uniformFree: yesOr(word(given, "shared", ["stay", "count"]), "stay") ?? base.uniformFree,
    worthM: notNegativeM(given, "worth") ?? base.worthM,
    mostChanges: mostChanges ?? base.mostChanges,
  };
}

function mayChange(
  given: Arguments,
  wing: Wing,
  loops: readonly LineLoops[],
  base: ReadonlySet<string>,
): ReadonlySet<string> {
  const having = [...new Set(loops.filter(({ row }) => row !== "brake").map(({ row }) => row))];
  const named = given
    .text("rows")
    ?.split(",")
    .map((text) => text.trim());
  const rows = named?.map((text): Row => {
    const row = having.find((each) => each.toLowerCase() === text.toLowerCase());
    if (row === undefined)
      throw new UsageError(say("cli.loops.rows", { row: text, rows: having.join(", ") }));
    return row;
  });
  const chosen =
    rows === undefined ? base : loops.filter(({ row }) => rows.includes(row)).map(({ lineKey }) => lineKey);
  const kept = new Set(given.texts("keep").flatMap((name) => namedLines(name, wing, "--keep")));
  return new Set([...chosen].filter((key) => !kept.has(key)));
}

function kinds(text: string | undefined, loops: readonly LineLoops[]): ReadonlySet<string> | undefined {
  if (text === undefined) return undefined;
  const known = new Set(loops.flatMap(({ states }) => states.map(({ kind }) => kind.id)));
  return new Set(
    text.split(",").map((name) => {
      const kind = kindFromName(name);
      if (kind !== undefined && known.has(kind.id)) return kind.id;
      const names = [...known].map((id) => kindName(id));
      throw new UsageError(say("cli.loops.kinds", { loop: name.trim(), names: names.join(", ") }));
    }),
  );
}

/** How a kind is named on the command line: our short word, or the plan's own name. */
function kindName(id: string): string {
  const kind = loopKind(id);
  return kind === undefined || !isGiven(kind) ? id : fileNameOf(id);
}

function word<T extends string>(given: Arguments, name: string, words: readonly T[]): T | undefined {
  const text = given.text(name);
  return text === undefined ? undefined : oneOf(text, words, `--${name}`);
}

function yesOr<T extends string>(said: T | undefined, yes: T): boolean | undefined {
  return said === undefined ? undefined : said === yes;
}

function notNegativeM(given: Arguments, name: string): number | undefined {
  const valueMm = given.number(name, "mm");
  if (valueMm !== undefined && valueMm < 0)
    throw new UsageError(say("cli.option.least", { option: `--${name}`, unit: "mm" }));
  return valueMm === undefined ? undefined : valueMm / 1000;
}

/** The choices in words, so that a plan on paper says what it was made for. */
export function choicesText(choices: LoopChoices, loops: readonly LineLoops[]): string {
  const { mostTakeUpM, mostChanges } = choices;
  const rows = [...new Set(loops.filter(({ row }) => row !== "brake").map(({ row }) => row))];
  const ofRow = rows.flatMap((row) => {
    const lines = loops.filter((line) => line.row === row);
    const free = lines.filter(({ lineKey }) => choices.mayChange.has(lineKey));
    if (free.length === 0) return [];
    return free.length === lines.length
      ? [say("cli.row", { row })]
      : [`${say("cli.row", { row })} (${free.map(({ lineKey }) => lineKey).join(", ")})`];
  });
  return [
    ofRow.length === 0 ? say("cli.choices.none") : say("cli.choices.rows", { rows: ofRow.join(", ") }),
    say("cli.choices.kinds", { kinds: [...choices.kinds].map(kindName).join(", ") }),
    mostTakeUpM === undefined
      ? say("cli.choices.no-limit")
      : say("cli.choices.limit", { most: trimmedMm(mostTakeUpM) }),
    ...(choices.reserveM > 0 ? [say("cli.choices.reserve", { reserve: trimmedMm(choices.reserveM) })] : []),
    say("cli.choices.symmetry", { symmetry: choices.symmetry }),
    ...(choices.rowsTogether ? [say("cli.choices.together")] : []),
    say("cli.choices.aim", { aim: choices.aim }),
    say("cli.choices.shared", { shared: choices.uniformFree ? "stay" : "count" }),
    say("cli.choices.worth", { worth: trimmedMm(choices.worthM) }),
    ...(mostChanges === undefined ? [] : [say("cli.choices.most", { count: mostChanges })]),
  ].join("; ");
}
