/** `linewright recheck`: a check after the work against the one before it, change by change. */

import type { Parsed, Problem, Wing } from "../plan/index.ts";
import { type Check, deviations, readingUncertainty } from "../readings/index.ts";
import { say } from "../words/index.ts";
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
  operands: ["cli.operand.plan", "cli.operand.before", "cli.operand.after"],
  help: () => say("cli.help.recheck"),
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
    if (changesPath === undefined && done.length === 0) throw new UsageError(say("cli.recheck.what"));

    const comparison = compareChecks(wing, stateOf(wing, before.value), stateOf(wing, after.value), done);
    if (comparison.paths.every(({ didM }) => didM === undefined))
      return refuse("readings after", [...after.problems, notTwice()], json, io);
    const answer = { wing, before: before.value, after: after.value, done, comparison };
    const problems = [
      ...[plan, before, after, book, planned].flatMap((input) => input.problems),
      ...(after.value.date < before.value.date ? [exchanged()] : []),
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

function notTwice(): Problem {
  return {
    severity: "error",
    where: say("plan.shape.file"),
    subject: undefined,
    message: say("cli.recheck.not-twice"),
    remedy: say("cli.recheck.not-twice.fix"),
  };
}

function exchanged(): Problem {
  return {
    severity: "warning",
    where: "date",
    subject: undefined,
    message: say("cli.recheck.exchanged"),
    remedy: say("cli.recheck.exchanged.fix"),
  };
}
