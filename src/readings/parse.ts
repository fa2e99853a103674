/** Reads a check file: the frame must be right, a bad reading is reported and the others stay. */

import type * as z from "zod";
import { type Parsed, type Problem, parsedText, problemsFromIssues, type Wing } from "../plan/index.ts";
import { say } from "../words/index.ts";
import type { CheckFrame } from "./frame.ts";
import type { Check, Reading, StatedUncertainty } from "./model.ts";
import { lookUpNames, type NameLookup } from "./names.ts";
import { failure, warning } from "./problems.ts";
import {
  CHECK_FORMAT,
  CHECK_VERSIONS,
  type CheckFile,
  checkFileSchema,
  checkFrameSchema,
  lineReadingSchema,
  tabReadingSchema,
} from "./schema.ts";
import { absurdity, mergeRepeats, resolveTarget } from "./targets.ts";

/**
 * A check from its file's text, as {@link parseCheck}. A syntax error is told by line and column; other
 * problems carry the line behind their path: `readings[3].mm (line 14)`.
 */
export function parseCheckText(text: string, wing: Wing): Parsed<Check> {
  return parsedText(text, (value) => parseCheck(value, wing));
}

/**
 * A check from a value of the check file's shape, against the wing it was read on. Lengths become metres.
 *
 * A wrong frame (format, version, day, tension, datum, instrument) is an error. A wrong entry of `readings`
 * (unknown or ambiguous name, wrong side, no number, or a length more than a quarter away from the plan's) is a
 * warning with its index, and the good ones stay. Several entries for one tab or line become repeats of one
 * reading. Names are matched leniently where only one fits.
 */
export function parseCheck(input: unknown, wing: Wing): Parsed<Check> {
  const head = headProblem(input);
  if (head !== undefined) return { ok: false, problems: [head] };
  const shaped = checkFrameSchema.safeParse(input);
  if (!shaped.success)
    return {
      ok: false,
      problems: problemsFromIssues(shaped.error.issues, input, checkFrameSchema),
    };
  const file = shaped.data;

  const frame: CheckFrame = {
    wingName: file.wing,
    date: file.date,
    tensionN: file.tensionN,
    from: file.from,
    instrumentZeroM: (file.instrument?.zeroMm ?? 0) / 1000,
    instrument: file.instrument?.name,
    resolutionM:
      file.instrument?.resolutionMm === undefined ? undefined : file.instrument.resolutionMm / 1000,
    ...statedUncertainty(file.instrument),
    note: file.note,
  };
  const lookup = lookUpNames(wing);
  const results = file.readings.map((entry, index) => parseReading(entry, index, lookup, frame, input));
  return {
    ok: true,
    value: {
      ...frame,
      readings: mergeRepeats(results.flatMap((result) => (result.ok ? [result.value] : []))),
    },
    problems: [...otherWing(file.wing, wing, "wing"), ...results.flatMap((result) => result.problems)],
  };
}

/** What the file's instrument says of uncertainty, in SI units; nothing where it says nothing. */
function statedUncertainty(
  instrument: CheckFile["instrument"],
): Pick<CheckFrame, "uncertainty"> | Record<string, never> {
  const { zeroUncertaintyMm, scaleUncertaintyPpm, tensionUncertaintyN, readingUncertaintyMm } =
    instrument ?? {};
  const uncertainty: StatedUncertainty = {
    ...(zeroUncertaintyMm === undefined ? {} : { zeroM: zeroUncertaintyMm / 1000 }),
    ...(scaleUncertaintyPpm === undefined ? {} : { scale: scaleUncertaintyPpm / 1e6 }),
    ...(tensionUncertaintyN === undefined ? {} : { tensionN: tensionUncertaintyN }),
    ...(readingUncertaintyMm === undefined ? {} : { readingM: readingUncertaintyMm / 1000 }),
  };
  return Object.keys(uncertainty).length === 0 ? {} : { uncertainty };
}

/** A warning where a check names another wing than the plan. */
export function otherWing(name: string | undefined, wing: Wing, where: string): readonly Problem[] {
  const plain = (text: string): string => text.normalize("NFKC").toLowerCase().replace(/\s+/gu, " ").trim();
  if (name === undefined || plain(name) === plain(wing.name)) return [];
  const message = say("readings.other-wing", { name, plan: wing.name });
  const remedy = say("readings.other-wing.fix");
  return [warning(where, undefined, message, remedy)];
}

/** A file of another kind or version: said alone, since every other complaint would follow from it. */
function headProblem(input: unknown): Problem | undefined {
  if (typeof input !== "object" || input === null) return undefined;
  const { format, version } = input as { format?: unknown; version?: unknown };
  if (format !== undefined && format !== CHECK_FORMAT) {
    const message = say("readings.format", { found: JSON.stringify(format), expected: CHECK_FORMAT });
    return failure("format", message, say("readings.format.fix"));
  }
  if (typeof version === "number" && !CHECK_VERSIONS.includes(version)) {
    const message = say("readings.version", { found: version, known: CHECK_VERSIONS.join(", ") });
    const remedy = say("readings.version.fix");
    return failure("version", message, remedy);
  }
  return undefined;
}

const leftOut = (): string => say("readings.left-out");

function parseReading(
  entry: unknown,
  index: number,
  lookup: NameLookup,
  frame: CheckFrame,
  input: unknown,
): Parsed<Reading> {
  const where = `readings[${index}]`;
  const bad = (
    at: string,
    subject: string | undefined,
    message: string,
    remedy: string,
  ): Parsed<Reading> => ({
    ok: false,
    problems: [warning(at, subject, message, `${remedy} ${leftOut()}`)],
  });
  if (typeof entry !== "object" || entry === null || Array.isArray(entry)) {
    const message = say("readings.entry", { found: JSON.stringify(entry) });
    return bad(
      where,
      undefined,
      message,
      say("readings.entry.fix", { form: '{"tab": "A1", "side": "left", "mm": 7421}' }),
    );
  }
  const hasTab = "tab" in entry;
  if (hasTab === "line" in entry) {
    const message = hasTab ? say("readings.both-kinds") : say("readings.no-kind");
    return bad(where, undefined, message, say("readings.kind.fix"));
  }
  const shaped = hasTab ? tabReadingSchema.safeParse(entry) : lineReadingSchema.safeParse(entry);
  if (!shaped.success) {
    const issues = shaped.error.issues.flatMap(meantBranch).map((issue) => ({
      ...issue,
      path: ["readings", index, ...issue.path],
    }));
    const problems = problemsFromIssues(issues, input, checkFileSchema);
    return {
      ok: false,
      problems: problems.map((each) => ({
        ...each,
        severity: "warning",
        remedy: `${each.remedy} ${leftOut()}`,
      })),
    };
  }
  const { side, mm, note } = shaped.data;
  const [kind, spelling] =
    "tab" in shaped.data ? (["tab", shaped.data.tab] as const) : (["line", shaped.data.line] as const);
  const resolved = resolveTarget(lookup, kind, spelling, side);
  if (!resolved.ok) return bad(`${where}.${kind}`, spelling, resolved.message, resolved.remedy);

  const { target } = resolved;
  const valuesM = [mm].flat().map((value) => value / 1000);
  for (const [repeat, valueM] of valuesM.entries()) {
    const absurd = absurdity(lookup, target, valueM, frame);
    if (absurd === undefined) continue;
    return bad(
      `${where}.mm${Array.isArray(mm) ? `[${repeat}]` : ""}`,
      target.id,
      absurd.message,
      absurd.remedy,
    );
  }
  return { ok: true, value: { target, valuesM, note }, problems: [] };
}

/**
 * Of an issue with a value that may be one thing or a list, the issues of the one that its type shows to be
 * meant.
 */
function meantBranch(issue: z.core.$ZodIssue): readonly z.core.$ZodIssue[] {
  if (issue.code !== "invalid_union") return [issue];
  const isOfType = (branch: readonly z.core.$ZodIssue[]): boolean =>
    !branch.some((inner) => inner.code === "invalid_type" && inner.path.length === 0);
  const meant = issue.errors.find(isOfType) ?? issue.errors[0] ?? [];
  return meant.map((inner) => ({ ...inner, path: [...issue.path, ...inner.path] }));
}
