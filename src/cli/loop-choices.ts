/** What the command line says of a loop plan: each choice that it gives goes before the book's. */
import type { Row, Wing } from "../plan/index.ts";
import {
  defaultChoices,
  isGiven,
  kindFromName,
  type LineLoops,
  type LoopBook,
  type LoopChoices,
  loopKind,
} from "../workshop/index.ts";
import { namedLines } from "./change.ts";
import { UsageError } from "./io.ts";
import type { Arguments, OptionSpecs } from "./options.ts";
import { figure } from "./table.ts";

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

export const CHOICE_HELP = `Choices, each before the book's where that has one:
  --rows A,B,tip        rows whose lower lines may change (else all but the brakes)
  --keep LINE           a line that stays as it is: left:BL2, or BL2 for both sides; may be given again
  --kinds LIST          loops that may be tied, by commas: plain, turn, girth, two-turns, or a name that the plan or
                        the book has (else these four and what the plan specifies)
  --most-take-up MM     most that a loop may take up, by the maker's manual
  --reserve MM          least take-up that a changed line keeps, to be taken out later (else 0)
  --symmetry RULE       same: a line and its twin end alike (the default); prefer: better alike; free: each on its own
  --rows-together yes|no   all lines of a row go by the same number of steps (else no)
  --aim AIM             mean: the mean square of what is left (the default); tolerance: first as little as possible
                        beyond the limits
  --shared stay|count   stay: what all main rows share may stay (the default); count: it is off like anything else
  --worth MM            how far off one path must be to be worth one change (else 5)
  --most-changes N      at most so many changes
`;

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
    throw new UsageError("--most-changes must be a whole number from 0 upwards");
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
      throw new UsageError(`--rows: "${text}" has no lines with loops; ${having.join(", ")} have`);
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
      throw new UsageError(
        `--kinds: "${name.trim()}" is no loop whose take-up is known; there are ${names.join(", ")}`,
      );
    }),
  );
}

/** How a kind is named on the command line: our short word, or the plan's own name. */
function kindName(id: string): string {
  const kind = loopKind(id);
  return kind === undefined || !isGiven(kind) ? id : kind.name;
}

function word<T extends string>(given: Arguments, name: string, words: readonly T[]): T | undefined {
  const text = given.text(name);
  if (text === undefined) return undefined;
  const found = words.find((each) => each === text);
  if (found === undefined) throw new UsageError(`--${name}: "${text}" is none of ${words.join(", ")}`);
  return found;
}

function yesOr<T extends string>(said: T | undefined, yes: T): boolean | undefined {
  return said === undefined ? undefined : said === yes;
}

function notNegativeM(given: Arguments, name: string): number | undefined {
  const valueMm = given.number(name, "mm");
  if (valueMm !== undefined && valueMm < 0) throw new UsageError(`--${name} must be 0 mm or more`);
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
      ? [row]
      : [`${row} (${free.map(({ lineKey }) => lineKey).join(", ")})`];
  });
  const symmetry = {
    same: "left and right end alike",
    prefer: "left and right end alike where that costs little",
    free: "left and right each on their own",
  }[choices.symmetry];
  const mm = (lengthM: number): string => figure(1000 * lengthM, 1).replace(/\.0$/, "");
  return [
    ofRow.length === 0 ? "Nothing may change" : `May change: ${ofRow.join(", ")}`,
    `loops: ${[...choices.kinds].map(kindName).join(", ")}`,
    ...(mostTakeUpM === undefined
      ? ["no limit of take-up given"]
      : [`take-up at most ${mm(mostTakeUpM)} mm`]),
    ...(choices.reserveM > 0 ? [`a changed line keeps ${mm(choices.reserveM)} mm`] : []),
    symmetry,
    ...(choices.rowsTogether ? ["rows go together"] : []),
    choices.aim === "mean"
      ? "aim: the mean square of what is left"
      : "aim: first the limits, then the mean square",
    choices.uniformFree ? "what all main rows share may stay" : "what all main rows share counts",
    `a change is worth ${mm(choices.worthM)} mm`,
    ...(mostChanges === undefined ? [] : [`at most ${mostChanges} changes`]),
  ].join("; ");
}
