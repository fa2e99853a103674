/** What an earlier version of the program kept, brought to the present one: a table of steps, each one version up. */
import type { Problem } from "../plan/index.ts";
import { failure, warning } from "../readings/problems.ts";
import { say } from "../words/index.ts";
import { addBook, addCheck, addPlan, newWing, type Stamp } from "./edit.ts";
import { NO_RECORDS, RECORD_VERSION, type WingRecords } from "./model.ts";
import { firstVersionSchemas, wingRecordsSchema } from "./schema.ts";
import { wholeWing } from "./whole-wing.ts";

export interface Migrated {
  /** What could be read: everything, where there are no problems. */
  readonly records: WingRecords;
  readonly problems: readonly Problem[];
}

interface Step {
  readonly value: unknown;
  readonly problems: readonly Problem[];
}

/** Version → the step from it to the next. */
const STEPS: Readonly<Record<number, (stored: unknown, stamp: Stamp) => Step>> = {
  1: fromOneWing,
};

/** Versions that can be brought to the present one, the present one last. */
export const KNOWN_VERSIONS: readonly number[] = [...Object.keys(STEPS).map(Number), RECORD_VERSION];

/**
 * Brings what was kept to the present version, whatever version it is of.
 *
 * @param stored as it was kept, or its JSON read
 * @param fromVersion 1: the single own wing in the browser's small store; 2: this one
 * @param stamp the present instant, and where new ids come from
 * @returns what is whole, with a problem for each part that isn't; a version that isn't known gives nothing
 */
export function migrate(stored: unknown, fromVersion: number, stamp: Stamp): Migrated {
  if (!KNOWN_VERSIONS.includes(fromVersion)) {
    const message = say("record.version", { found: fromVersion, known: KNOWN_VERSIONS.join(", ") });
    return { records: NO_RECORDS, problems: [failure("version", message, say("record.version.fix"))] };
  }
  const problems: Problem[] = [];
  let value = stored;
  for (let version = fromVersion; version < RECORD_VERSION; version++) {
    const step = STEPS[version]?.(value, stamp);
    if (step === undefined) throw new Error(`There is no step from version ${version}.`);
    value = step.value;
    problems.push(...step.problems);
  }
  const whole = wholeOf(value);
  return { records: whole.records, problems: [...problems, ...whole.problems] };
}

/** Of every wing what is of the right shape; an entry that isn't costs no other. */
function wholeOf(value: unknown): Migrated {
  const all = wingRecordsSchema.safeParse(value);
  if (all.success) return { records: all.data, problems: [] };
  const wings = (value as { wings?: unknown } | null)?.wings;
  if (!Array.isArray(wings)) return { records: NO_RECORDS, problems: [unreadable()] };
  const read = wings.map((wing: unknown, at) => wholeWing(wing, `wings[${at}]`));
  return {
    records: { version: RECORD_VERSION, wings: read.flatMap(({ wing }) => wing ?? []) },
    problems: read.flatMap(({ problems }) => problems),
  };
}

function unreadable(): Problem {
  return failure("wings", say("record.unreadable"), say("record.unreadable.fix"));
}

/** Version 1: a plan, readings, readings after the work, and the loop book, each with the name of its file. */
function fromOneWing(stored: unknown, stamp: Stamp): Step {
  const own = typeof stored === "object" && stored !== null ? (stored as Record<string, unknown>) : {};
  const plan = firstVersionSchemas.plan.safeParse(own.plan);
  if (!plan.success || plan.data.text === "") return { value: NO_RECORDS, problems: [unreadable()] };
  const problems: Problem[] = [];
  const part = <T>(at: "readings" | "after" | "book", read: { success: boolean; data?: T | undefined }) => {
    if (own[at] === undefined || own[at] === null) return undefined;
    if (read.success && read.data !== undefined && (read.data as { text?: string }).text !== "")
      return read.data;
    problems.push(warning(at, undefined, say("record.part", { part: at }), say("record.unreadable.fix")));
    return undefined;
  };
  const readings = part("readings", firstVersionSchemas.readings.safeParse(own.readings));
  const after = part("after", firstVersionSchemas.after.safeParse(own.after));
  const book = part("book", firstVersionSchemas.book.safeParse(own.book));

  const named = <T extends { readonly name: string }>(file: T, otherwise: string): T => ({
    ...file,
    name: file.name.trim() === "" ? otherwise : file.name.slice(0, 300),
  });
  const planFile = named(plan.data, "plan.json");
  const wingName = (nameIn(planFile.text) ?? planFile.name).slice(0, 300);
  let wing = addPlan(newWing(wingName, stamp), planFile, stamp);
  for (const check of [readings, after])
    if (check !== undefined) wing = addCheck(wing, named(check, "check.json"), stamp);
  if (book !== undefined) wing = addBook(wing, named(book, "loops.json"), stamp);
  return { value: { version: RECORD_VERSION, wings: [wing] } satisfies WingRecords, problems };
}

/** The wing's name as its plan has it. */
function nameIn(planText: string): string | undefined {
  try {
    const name = (JSON.parse(planText) as { wing?: { name?: unknown } } | null)?.wing?.name;
    return typeof name === "string" && name.trim() !== "" ? name : undefined;
  } catch {
    return undefined;
  }
}
