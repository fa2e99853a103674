/** Reads a loop book's file: the frame must be right; an entry that can't be placed is reported and kept, others count. */
import { type Parsed, type Problem, parsedText, problemsFromIssues, type Wing } from "../plan/index.ts";
import { lookUpNames } from "../readings/names.ts";
import { failure, warning } from "../readings/problems.ts";
import { say } from "../words/index.ts";
import type { LoopBook } from "./book.ts";
import { benchOf, choicesOf, maillonOf, presentOf, replacementOf, withoutTakeUp } from "./book-entries.ts";
import { entries, type Reading } from "./book-reading.ts";
import {
  BOOK_FORMAT,
  BOOK_VERSIONS,
  benchTakeUpSchema,
  loopBookFrameSchema,
  maillonSchema,
  presentSchema,
  replacementSchema,
} from "./book-schema.ts";

/**
 * A loop book from its file's text. A syntax error is told by line and column; other problems carry the line behind
 * their path: `present[3].line (line 14)`. See {@link bookFromFile}.
 */
export function parseBook(text: string, wing: Wing): Parsed<LoopBook> {
  return parsedText(text, (value) => bookFromFile(value, wing));
}

/**
 * A loop book from a value of its file's shape, for the wing that it is kept with. Lengths become metres, names of
 * lines keys, names of loops kinds (see `kindFromName`).
 *
 * A wrong frame (format, version, a key that isn't known) is an error. An entry that is wrong in itself, or that names a
 * line or maillon the wing doesn't have, is a warning with its place: it is kept among `unplaced` and written back, and
 * counts for nothing. Names of lines are matched leniently where only one fits.
 */
export function bookFromFile(input: unknown, wing: Wing): Parsed<LoopBook> {
  const head = headProblem(input);
  if (head !== undefined) return { ok: false, problems: [head] };
  const shaped = loopBookFrameSchema.safeParse(input);
  if (!shaped.success)
    return { ok: false, problems: problemsFromIssues(shaped.error.issues, input, loopBookFrameSchema) };
  const file = shaped.data;
  const reading: Reading = { input, wing, lookup: lookUpNames(wing), problems: otherWing(file.wing, wing) };

  const present = entries(reading, "present", file.present, presentSchema, presentOf(reading));
  const bench = entries(reading, "benchTakeUps", file.benchTakeUps, benchTakeUpSchema, benchOf(reading));
  const choices = choicesOf(reading, file.choices);
  const maillons = entries(reading, "maillons", file.maillons, maillonSchema, maillonOf(reading));
  const replacements = entries(
    reading,
    "replacements",
    file.replacements,
    replacementSchema,
    replacementOf(reading),
  );
  const book: LoopBook = {
    wingName: file.wing,
    present: new Map(present.placed.map(({ key, kind }) => [key, kind.id])),
    presentTakeUpM: new Map(
      present.placed.flatMap(({ key, takeUpM }) => (takeUpM === undefined ? [] : [[key, takeUpM]])),
    ),
    bench: bench.placed,
    choices: choices.value,
    maillons: maillons.placed,
    replacements: replacements.placed,
    unplaced: {
      present: present.unplaced,
      benchTakeUps: bench.unplaced,
      choices: choices.unplaced,
      choiceLines: choices.unplacedLines,
      maillons: maillons.unplaced,
      replacements: replacements.unplaced,
    },
  };
  return {
    ok: true,
    value: book,
    problems: [...reading.problems, ...withoutTakeUp(present.placed, bench.placed)],
  };
}

/** A file of another kind or version: said alone, since every other complaint would follow from it. */
function headProblem(input: unknown): Problem | undefined {
  if (typeof input !== "object" || input === null) return undefined;
  const { format, version } = input as { format?: unknown; version?: unknown };
  if (format !== undefined && format !== BOOK_FORMAT) {
    const message = say("workshop.book.format", { found: JSON.stringify(format), expected: BOOK_FORMAT });
    return failure("format", message, say("workshop.book.format.fix"));
  }
  if (typeof version === "number" && !BOOK_VERSIONS.includes(version)) {
    const message = say("workshop.book.version", { found: version, known: BOOK_VERSIONS.join(", ") });
    return failure("version", message, say("workshop.book.version.fix"));
  }
  return undefined;
}

function otherWing(name: string | undefined, wing: Wing): Problem[] {
  const plain = (text: string): string => text.normalize("NFKC").toLowerCase().replace(/\s+/gu, " ").trim();
  if (name === undefined || plain(name) === plain(wing.name)) return [];
  const message = say("workshop.book.wing", { book: name, plan: wing.name });
  return [warning("wing", undefined, message, say("workshop.book.wing.fix"))];
}
