/** Reads what should be a wing's record entry by entry. */
import type * as z from "zod";
import { formatPath, type Problem } from "../plan/index.ts";
import { warning } from "../readings/problems.ts";
import { say } from "../words/index.ts";
import { UNKNOWN_TIME, type WingRecord } from "./model.ts";
import { wingRecordSchema } from "./schema.ts";

/** The value that a schema makes of something, or undefined with a problem that says at what it failed. */
export type Shape = <S extends z.ZodType>(
  path: readonly PropertyKey[],
  value: unknown,
  schema: S,
) => z.output<S> | undefined;

/** Gathers problems under a place. */
export function shapeInto(problems: Problem[], placeOf: (path: string) => string): Shape {
  return (path, value, schema) => {
    const read = schema.safeParse(value);
    if (read.success) return read.data;
    const where = formatPath([...path, ...(read.error.issues[0]?.path ?? [])]);
    problems.push(warning(placeOf(where), undefined, say("record.entry"), say("record.entry.fix")));
    return undefined;
  };
}

/** A wing without its entries that aren't of the right shape; none where it has no id. */
export function wholeWing(
  value: unknown,
  where: string,
): { readonly wing: WingRecord | undefined; readonly problems: readonly Problem[] } {
  const problems: Problem[] = [];
  const shape = shapeInto(problems, (path) => `${where}.${path}`);
  const { shape: schemas } = wingRecordSchema;
  const fields = (typeof value === "object" && value !== null ? value : {}) as Record<string, unknown>;
  const id = shape(["id"], fields.id, schemas.id);
  if (id === undefined) return { wing: undefined, problems };
  const listOf = <S extends z.ZodType>(list: string, schema: S): z.output<S>[] => {
    const entries = fields[list];
    return (Array.isArray(entries) ? entries : []).flatMap(
      (entry: unknown, at) => shape([list, at], entry, schema) ?? [],
    );
  };
  const planInUse = shape(["planInUse"], fields.planInUse, schemas.planInUse);
  const nextCheck = shape(["nextCheck"], fields.nextCheck, schemas.nextCheck);
  return {
    wing: {
      id,
      name: shape(["name"], fields.name, schemas.name) ?? { value: id, changedAt: UNKNOWN_TIME },
      ...(planInUse === undefined ? {} : { planInUse }),
      ...(nextCheck === undefined ? {} : { nextCheck }),
      plans: listOf("plans", schemas.plans.element),
      checks: listOf("checks", schemas.checks.element),
      books: listOf("books", schemas.books.element),
      notes: listOf("notes", schemas.notes.element),
      hours: listOf("hours", schemas.hours.element),
      photos: listOf("photos", schemas.photos.element),
    },
    problems,
  };
}
