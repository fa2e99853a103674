/** Helps for reading the loop book's file: what a part of it is, and which line of the wing a name means. */
import type * as z from "zod";
import { keyOf, type Line, type Problem, problemsFromIssues, type Side, type Wing } from "../plan/index.ts";
import { matchName, type NameLookup } from "../readings/names.ts";
import { warning } from "../readings/problems.ts";
import { say } from "../words/index.ts";
import { loopBookSchema } from "./book-schema.ts";
import { kindFromName } from "./kinds.ts";
import type { LoopKind } from "./model.ts";

/** What is needed while a file is read; problems are gathered in it. */
export interface Reading {
  readonly input: unknown;
  readonly wing: Wing;
  readonly lookup: NameLookup;
  readonly problems: Problem[];
}

/** Adds a warning about an entry that is kept but doesn't count; returns undefined, for the caller to hand on. */
export function complain(
  reading: Reading,
  where: string,
  subject: string | undefined,
  message: string,
  remedy: string,
): undefined {
  reading.problems.push(warning(where, subject, message, `${remedy} ${say("workshop.book.kept")}`));
  return undefined;
}

/** The value of one part of the file, or undefined with warnings where its shape is wrong. */
export function shapedAs<S extends z.ZodType>(
  reading: Reading,
  path: readonly PropertyKey[],
  entry: unknown,
  schema: S,
): z.output<S> | undefined {
  const shaped = schema.safeParse(entry);
  if (shaped.success) return shaped.data;
  const issues = shaped.error.issues.map((issue) => ({ ...issue, path: [...path, ...issue.path] }));
  for (const problem of problemsFromIssues(issues, reading.input, loopBookSchema))
    complain(reading, problem.where, problem.subject, problem.message, problem.remedy);
  return undefined;
}

/** Every entry of a list, placed where it can be. */
export function entries<S extends z.ZodType, T>(
  reading: Reading,
  list: string,
  given: readonly unknown[] | undefined,
  schema: S,
  place: (entry: z.output<S>, where: string) => T | undefined,
): { readonly placed: readonly T[]; readonly unplaced: readonly unknown[] } {
  const placed: T[] = [];
  const unplaced: unknown[] = [];
  for (const [index, entry] of (given ?? []).entries()) {
    const shaped = shapedAs(reading, [list, index], entry, schema);
    const value = shaped === undefined ? undefined : place(shaped, `${list}[${index}]`);
    if (value === undefined) unplaced.push(entry);
    else placed.push(value);
  }
  return { placed, unplaced };
}

/** The line that a name means on a side; undefined with a warning where there is none or more than one. */
export function lineOf(
  reading: Reading,
  name: string,
  side: Side,
  where: string,
  onMaillon = false,
): Line | undefined {
  const { lookup, wing } = reading;
  const match = matchName(lookup, "line", side, name);
  if (match.found === "one") {
    const line = lookup.lines.get(keyOf(side, match.id)) as Line;
    if (!onMaillon || line.hangsOn.kind === "maillon") return line;
    return complain(
      reading,
      where,
      line.id,
      say("workshop.book.line.loose", { line: line.id }),
      say("workshop.book.line.loose.fix"),
    );
  }
  if (match.found === "several")
    return complain(
      reading,
      where,
      name,
      say("workshop.book.line.several", { name, lines: match.ids.join(", ") }),
      say("workshop.book.line.several.fix"),
    );
  const expected = wing.lines
    .filter((line) => line.side === side && (!onMaillon || line.hangsOn.kind === "maillon"))
    .map((line) => line.id);
  return complain(
    reading,
    where,
    name,
    say("workshop.book.line.unknown", { name, side, lines: shortList(expected) }),
    say("workshop.book.line.unknown.fix"),
  );
}

/** Names for a message, cut short in the middle. */
export function shortList(names: readonly string[]): string {
  if (names.length === 0) return say("workshop.book.none");
  return names.length <= 8 ? names.join(", ") : `${names.slice(0, 7).join(", ")} … ${names.at(-1)}`;
}

/** Kind for a name whose schema has made sure that it isn't blank. */
export const kindOf = (name: string): LoopKind => kindFromName(name) as LoopKind;

/** Metres for a field that may be left out. */
export const metres = (mm: number | undefined): number | undefined =>
  mm === undefined ? undefined : mm / 1000;
