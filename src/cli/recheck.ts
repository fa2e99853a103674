/** `linewright recheck`: a check after the work against the one before it, change by change. */
import type { Parsed, Problem, Wing } from "../plan/index.ts";
import { type Check, deviations, readingUncertainty } from "../readings/index.ts";
import { type CheckedState, compareChecks, lineLoops, type PromisedChange } from "../workshop/index.ts";
import { type Command, oneStdin } from "./command.ts";
import { parsePlannedChanges, readDone } from "./done.ts";
import { readBook, readCheck, readPlan, readText } from "./inputs.ts";
import { EXIT_OK, type Io, UsageError } from "./io.ts";
import { jsonText, problemsJson, problemsText } from "./messages.ts";
import { recheckJson, recheckText } from "./recheck-report.ts";
import { TABLE_OPTIONS } from "./tables-in.ts";
import { refuse } from "./wing-report.ts";

export const recheck: Command = {
  options: {
    json: { type: "boolean" },
    book: { type: "string" },
    done: { type: "string", multiple: true },
    changes: { type: "string" },
    ...TABLE_OPTIONS,
  },
  operands: ["<plan.json>", "<before: readings.json or .csv>", "<after: readings.json or .csv>"],
  help: `linewright recheck <plan.json> <before.json|.csv> <after.json|.csv> [options]

Holds a check after the work against the check before it: what each change was to do and did, the rows before, as
planned and after, and paths that moved though nothing was done to them. A shift that all those share (another zero,
another measuring point) is told and taken out. A change is as promised where it is off by no more than twice its
standard uncertainty; of twenty in order, one is likely told as otherwise. "-" reads one of the files from standard
input. Tables may be CSV or XLSX (--sheet NAME for both). Each file says how its readings were taken: a check file does, a table may in lines such as
"# date: 2026-03-21"; what it doesn't state is taken from the plan's reference.
Exit code 0 when compared, whatever was found: it is no clearance to fly. 1 when a file has errors, or no path was
read on both days.

  --changes FILE        what was to be done, as \`linewright loops --json\` wrote it
  --done LINE=MM        what was to be done to a line, longer is positive: left:CL1=+13; CL1=+13 is both sides, row:C=+13
                        all lower lines of the row. May be given again; goes before --changes for the same line
  --done LINE=LOOP      the loop that it was to have then: left:CL1=plain, "CL1=one extra turn"
  --book FILE           what the bench keeps of the loops before the work (JSON), for --done LINE=LOOP
  --json                the same as JSON, lengths in millimetres

Example:
  linewright recheck wing.json before.json after.json --changes loop-plan.json
`,
  async run(given, io) {
    const [planPath = "", beforePath = "", afterPath = ""] = given.operands;
    const [bookPath, changesPath] = [given.text("book"), given.text("changes")];
    oneStdin(planPath, beforePath, afterPath, bookPath, changesPath);
    const json = given.flag("json");
    const plan = await readPlan(planPath, io);
    if (!plan.ok) return refuse("plan", plan.problems, json, io);
    const wing = plan.value;
    const before = await readCheck(beforePath, wing, given, io);
    if (!before.ok) return refuse("readings before", before.problems, json, io);
    const after = await readCheck(afterPath, wing, given, io);
    if (!after.ok) return refuse("readings after", after.problems, json, io);
    const book = await readBook(bookPath, wing, io);
    if (!book.ok) return refuse("book", book.problems, json, io);
    const planned = await readPlanned(changesPath, wing, io);
    if (!planned.ok) return refuse("changes", planned.problems, json, io);
    const named = readDone(given.texts("done"), wing, lineLoops(wing, book.value));
    const done = together(planned.value, named);
    if (changesPath === undefined && done.length === 0)
      throw new UsageError("say what was done: --changes FILE, or at least one --done LINE=MM");

    const comparison = compareChecks(wing, stateOf(wing, before.value), stateOf(wing, after.value), done);
    if (comparison.paths.every(({ didM }) => didM === undefined))
      return refuse("readings after", [...after.problems, NOT_TWICE], json, io);
    const answer = { wing, before: before.value, after: after.value, done, comparison };
    const problems = [
      ...[plan, before, after, book, planned].flatMap((input) => input.problems),
      ...(after.value.date < before.value.date ? [EXCHANGED] : []),
    ];
    if (json) io.out(jsonText({ ...recheckJson(answer), problems: problemsJson(problems) }));
    else {
      if (problems.length > 0) io.err(problemsText(problems));
      io.out(recheckText(answer));
    }
    return EXIT_OK;
  },
};

async function readPlanned(
  path: string | undefined,
  wing: Wing,
  io: Io,
): Promise<Parsed<readonly PromisedChange[]>> {
  if (path === undefined) return { ok: true, value: [], problems: [] };
  return parsePlannedChanges(await readText(path, io), wing);
}

/** What the command line names goes before what was planned for the same line. */
function together(planned: readonly PromisedChange[], named: readonly PromisedChange[]): PromisedChange[] {
  const own = new Map(named.map((change) => [change.lineKey, change]));
  const all = new Map(planned.map((change) => [change.lineKey, own.get(change.lineKey) ?? change]));
  for (const change of named) all.set(change.lineKey, change);
  return [...all.values()];
}

function stateOf(wing: Wing, check: Check): CheckedState {
  const found = deviations(wing, check);
  return { deviations: found, uncertainties: readingUncertainty(wing, check, found) };
}

const NOT_TWICE: Problem = {
  severity: "error",
  where: "the whole file",
  subject: undefined,
  message: "No path was read both before and after; at least one was expected.",
  remedy: "Read the same tabs again, or check that both files are of this wing.",
};

const EXCHANGED: Problem = {
  severity: "warning",
  where: "date",
  subject: undefined,
  message: "The check after the work has an earlier date than the one before it.",
  remedy: "Exchange the two files, or correct the date.",
};
