/** From text or a structured draft to the draft; made to be called at every keystroke. */
import { say } from "../../words/index.ts";
import { parseJsonText } from "../json-text.ts";
import type { Problem } from "../model.ts";
import { problemsFromIssues } from "../problems.ts";
import { expand } from "./expand.ts";
import { type LengthTable, withLengths } from "./length-table.ts";
import type { Draft, Where } from "./model.ts";
import { type DraftSource, draftSourceSchema, EMPTY_SOURCE } from "./source.ts";
import { type Place, placeText, readStatements } from "./statements.ts";

/** Parts of a structured draft that can't be used are left out, and what is left is drawn. */
function usable(input: object): DraftSource {
  const kept: Record<string, unknown> = { ...EMPTY_SOURCE };
  const shape = draftSourceSchema.shape;
  for (const [key, value] of Object.entries(input)) {
    const schema = shape[key as keyof typeof shape];
    if (schema === undefined) continue;
    if (schema.safeParse(value).success) kept[key] = value;
    else if (Array.isArray(value)) kept[key] = value.filter((one) => schema.safeParse([one]).success);
  }
  return kept as unknown as DraftSource;
}

function structured(input: unknown): Draft {
  const where: Where = (path, offset = 0) =>
    offset > 0 || /\.(cascade|list)$/u.test(path)
      ? say("draft.character", { path, character: offset + 1 })
      : path;
  const parsed = draftSourceSchema.safeParse(input);
  if (parsed.success) return expand(parsed.data, where);
  const problems = problemsFromIssues(parsed.error.issues, input, draftSourceSchema);
  const rest =
    typeof input === "object" && input !== null && !Array.isArray(input) ? usable(input) : EMPTY_SOURCE;
  return expand(rest, where, problems);
}

/**
 * A draft from its text (see `statements.ts` and `notation.ts`), from the JSON of a structured one, or from such a value.
 *
 * Tolerant: whatever can be understood is drawn, and every mistake is a problem with its place, `line 4, character 9` of a
 * text or `rows[0].cascade, character 9` of a value. Never throws.
 */
export function parseDraft(given: string | DraftSource): Draft {
  if (typeof given !== "string") return structured(given);
  if (given.trimStart().startsWith("{")) {
    const json = parseJsonText(given);
    return json.ok ? structured(json.value.value) : expand(EMPTY_SOURCE, (path) => path, json.problems);
  }
  const { source, places, problems } = readStatements(given);
  return expand(source, textPlaces(places), problems as readonly Problem[]);
}

/**
 * The draft with a table's lengths in the place of its own. A length without its tab or line is told with "the table of
 * lengths" as its place; the table's own problems are added.
 */
export function draftWithLengths(draft: Draft, table: LengthTable): Draft {
  const where: Where = (path, offset) =>
    /^(totals|lengths)\[/u.test(path) ? say("draft.length-table") : draft.where(path, offset);
  return expand(withLengths(draft.source, table), where, [...draft.unread, ...table.problems]);
}

/** The place of a path, or of the nearest field around it that the text has; else what to look for. */
function textPlaces(places: ReadonlyMap<string, Place>): Where {
  return (path, offset = 0) => {
    for (let at = path; at !== ""; at = at.replace(/(\.[^.[\]]+|\[-?\d+\]|^[^.[\]]+)$/u, "")) {
      const place = places.get(at);
      if (place !== undefined) return placeText(place, offset);
    }
    return say("draft.whole", { part: path.replace(/\[.*$/u, "") });
  };
}
