/** Reading a plan file: shape, then meaning, then the wing. */
import { say } from "../words/index.ts";
import { wingFromPlan } from "./build.ts";
import { parseJsonText } from "./json-text.ts";
import type { Parsed, Problem, Wing } from "./model.ts";
import { problemsFromIssues } from "./problems.ts";
import { PLAN_FORMAT, PLAN_VERSIONS, planFileSchema, type SparsePlanFile } from "./schema.ts";
import { validatePlan } from "./validate.ts";

/** A file of another kind or version: said alone, since every other complaint would follow from it. */
function headProblem(input: object): Problem | undefined {
  const { format, version } = input as { format?: unknown; version?: unknown };
  if (format !== undefined && format !== PLAN_FORMAT) {
    return {
      severity: "error",
      where: "format",
      subject: undefined,
      message: say("plan.format", { found: JSON.stringify(format), expected: PLAN_FORMAT }),
      remedy: say("plan.format.fix"),
    };
  }
  if (typeof version === "number" && !PLAN_VERSIONS.includes(version)) {
    return {
      severity: "error",
      where: "version",
      subject: undefined,
      message: say("plan.version", { found: version, known: PLAN_VERSIONS.join(", ") }),
      remedy: say("plan.version.fix"),
    };
  }
  return undefined;
}

/** A copy of a value without one key of the object at a path; what lies off the path is shared, not copied. */
function withoutKey(value: unknown, path: readonly PropertyKey[], key: string): unknown {
  const [step, ...rest] = path;
  if (typeof value !== "object" || value === null) return value;
  if (step === undefined) return Object.fromEntries(Object.entries(value).filter(([name]) => name !== key));
  if (Array.isArray(value))
    return value.map((one, index) => (index === step ? withoutKey(one, rest, key) : one));
  return Object.fromEntries(
    Object.entries(value).map(([name, one]) => [name, name === step ? withoutKey(one, rest, key) : one]),
  );
}

/**
 * The wing of a plan file given as a plain value (parsed JSON): lengths in SI units, a half given once mirrored
 * to both sides, what hangs where inferred, lengths that only the totals tell inferred and flagged, defaults filled in (limits with the source "common practice"; a
 * stiffness that was assumed is flagged), one path for every tab.
 *
 * All problems of the shape are returned together; where the shape holds but for unknown keys, all problems of
 * meaning too. Warnings come with the wing.
 */
export function parsePlan(input: unknown): Parsed<Wing> {
  if (typeof input === "object" && input !== null && !Array.isArray(input)) {
    const head = headProblem(input);
    if (head !== undefined) return { ok: false, problems: [head] };
  }
  const shaped = planFileSchema.safeParse(input);
  if (shaped.success) return wingOrProblems(shaped.data);

  const { issues } = shaped.error;
  const problems = problemsFromIssues(issues, input, planFileSchema);
  const strange = issues.filter((issue) => issue.code === "unrecognized_keys");
  if (strange.length < issues.length) return { ok: false, problems };
  const known = strange.reduce<unknown>(
    (value, { path, keys }) => keys.reduce<unknown>((left, key) => withoutKey(left, path, key), value),
    input,
  );
  const rest = planFileSchema.safeParse(known);
  return { ok: false, problems: rest.success ? [...problems, ...validatePlan(rest.data)] : problems };
}

function wingOrProblems(file: SparsePlanFile): Parsed<Wing> {
  const problems = validatePlan(file);
  if (problems.some((problem) => problem.severity === "error")) return { ok: false, problems };
  return { ok: true, value: wingFromPlan(file), problems };
}

/**
 * As `parsePlan`, from the file's text. A syntax error is told by line and column; other problems carry the line
 * behind their path: `sides.left.lines[3].hangsOn (line 57)`.
 */
export function parsePlanText(text: string): Parsed<Wing> {
  return parsedText(text, parsePlan);
}

/**
 * Reads a file's JSON text with a reader of its value. A syntax error is told by line and column; the reader's problems get
 * the line behind their path: `sides.left.lines[3].hangsOn (line 14)`.
 */
export function parsedText<T>(text: string, read: (value: unknown) => Parsed<T>): Parsed<T> {
  const json = parseJsonText(text);
  if (!json.ok) return json;
  const parsed = read(json.value.value);
  const problems = parsed.problems.map((problem) => withLine(problem, json.value.lineOf));
  return parsed.ok ? { ok: true, value: parsed.value, problems } : { ok: false, problems };
}

/** Adds the line of the nearest value that exists: a missing key is looked for where it should stand. */
export function withLine(problem: Problem, lineOf: (path: string) => number | undefined): Problem {
  let path = problem.where;
  for (;;) {
    const line = lineOf(path);
    if (line !== undefined) return { ...problem, where: say("plan.where", { where: problem.where, line }) };
    const parent = path.replace(/(\.[^.[\]]+|\[\d+\])$/, "");
    if (parent === path) return problem;
    path = parent;
  }
}
