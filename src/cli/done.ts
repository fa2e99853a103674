/** What was done between two checks: from the command line, or from the loop plan that was followed. */

import * as z from "zod";
import {
  type Parsed,
  type Problem,
  parseJsonText,
  problemsFromIssues,
  type Wing,
  withLine,
} from "../plan/index.ts";
import { say } from "../words/index.ts";
import {
  fileNameOf,
  kindFromName,
  type LineLoops,
  loopChange,
  PLAN_UNCERTAINTY_M,
  type PromisedChange,
} from "../workshop/index.ts";
import { namedLines } from "./change.ts";
import { UsageError } from "./io.ts";
import { LOOP_PLAN_FORMAT } from "./loops-json.ts";
import { readNumber } from "./options.ts";

/** What is read of a loop plan's JSON; the rest of it may be there or not. */
const loopPlanSchema = z.object({
  format: z.literal(LOOP_PLAN_FORMAT),
  version: z.literal(1),
  wing: z.string(),
  best: z.object({
    changes: z.array(
      z.object({
        line: z.string(),
        changeMm: z.number().min(-500).max(500),
        standardUncertaintyMm: z.number().min(0).max(500),
      }),
    ),
  }),
});

/** The best changes of what `linewright loops --json` wrote. A line that the wing doesn't have is an error, another name of wing a warning. */
export function parsePlannedChanges(text: string, wing: Wing): Parsed<readonly PromisedChange[]> {
  const json = parseJsonText(text);
  if (!json.ok) return json;
  const { value, lineOf } = json.value;
  const refused = (problems: Parsed<never>["problems"]): Parsed<never> => ({
    ok: false,
    problems: problems.map((problem) => withLine(problem, lineOf)),
  });
  const shaped = loopPlanSchema.safeParse(value);
  if (!shaped.success) return refused(problemsFromIssues(shaped.error.issues, value, loopPlanSchema));
  const known = new Set(wing.lines.map((line) => line.key));
  const { changes } = shaped.data.best;
  const stray = changes.findIndex(({ line }) => !known.has(line));
  if (stray >= 0)
    return refused([
      {
        severity: "error",
        where: `best.changes[${stray}].line`,
        subject: changes[stray]?.line,
        message: say("cli.done.stray", { wing: wing.name, other: shaped.data.wing }),
        remedy: say("cli.done.stray.fix"),
      },
    ]);
  return {
    ok: true,
    value: changes.map(({ line, changeMm, standardUncertaintyMm }) => ({
      lineKey: line,
      changeM: changeMm / 1000,
      standardUncertaintyM: standardUncertaintyMm / 1000,
    })),
    problems: otherWing(shaped.data.wing, wing),
  };
}

/** Two wings may have lines of the same names. */
function otherWing(name: string, wing: Wing): Problem[] {
  if (name === wing.name) return [];
  return [
    {
      severity: "warning",
      where: "wing",
      subject: undefined,
      message: say("cli.done.other-wing", { other: name, wing: wing.name }),
      remedy: say("cli.done.other-wing.fix"),
    },
  ];
}

/**
 * Changes from texts like `left:CL1=+13` (millimetres, longer is positive), `CL1=plain` (the loop that it has now) or
 * `row:C=plain`. Millimetres are taken to be as sure as a plan's take-up; a loop's change is the book's. A later text goes
 * before an earlier one for the same line.
 *
 * @throws UsageError naming the text, where the line isn't in the plan or the loop isn't one that it can have.
 */
export function readDone(
  texts: readonly string[],
  wing: Wing,
  loops: readonly LineLoops[],
): PromisedChange[] {
  const done = new Map<string, PromisedChange>();
  for (const text of texts) {
    const split = text.lastIndexOf("=");
    if (split < 1) throw new UsageError(say("cli.done.form", { text }));
    const said = text.slice(split + 1).trim();
    for (const key of namedLines(text.slice(0, split).trim(), wing, "--done"))
      done.set(key, /^[+\-−.\d]/.test(said) ? byLength(key, said, text) : byLoop(key, said, text, loops));
  }
  return [...done.values()];
}

function byLength(lineKey: string, said: string, text: string): PromisedChange {
  const changeM = readNumber(said, `--done ${text}`, "mm") / 1000;
  return { lineKey, changeM, standardUncertaintyM: PLAN_UNCERTAINTY_M };
}

function byLoop(lineKey: string, said: string, text: string, loops: readonly LineLoops[]): PromisedChange {
  const line = loops.find((each) => each.lineKey === lineKey);
  if (line === undefined) throw new UsageError(say("cli.done.no-loop", { text, line: lineKey }));
  const id = kindFromName(said)?.id;
  const to = line.states.findIndex(({ kind }) => kind.id === id);
  if (to < 0) {
    const names = line.states.map(({ kind }) => fileNameOf(kind.id)).join(", ");
    throw new UsageError(say("cli.done.unknown", { text, loop: said, line: lineKey, names }));
  }
  const { changeM, standardUncertaintyM } = loopChange(line, to);
  return { lineKey, changeM, standardUncertaintyM };
}
