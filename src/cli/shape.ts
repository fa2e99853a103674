/** `linewright shape`: the wing's shape and line tensions for lengths as specified, measured or changed. */

import { analyse } from "../diagnosis/analyse.ts";
import { buildWingModel } from "../geometry/build.ts";
import type { Equilibrium, WingModel } from "../geometry/model.ts";
import { profileChange } from "../geometry/profile.ts";
import { solveWing } from "../geometry/solve.ts";
import type { Problem, Wing } from "../plan/index.ts";
import type { Check } from "../readings/index.ts";
import { decimalMark, say } from "../words/index.ts";
import { readChanges, requireLengths } from "./change.ts";
import { type Command, oneStdin } from "./command.ts";
import { oneOf } from "./globals.ts";
import { READING_OPTIONS, readCheck, readingHelp, readPlan, writeText } from "./inputs.ts";
import { EXIT_OK, EXIT_PROBLEMS, UsageError } from "./io.ts";
import { jsonText, problemsJson, problemsText } from "./messages.ts";
import { shapeJson, shapeText } from "./shape-report.ts";
import { refuse } from "./wing-report.ts";

const STATES = ["specified", "measured", "changed"] as const;
type State = (typeof STATES)[number];

export const shape: Command = {
  options: {
    readings: { type: "string" },
    ...READING_OPTIONS,
    change: { type: "string", multiple: true },
    state: { type: "string" },
    weight: { type: "string" },
    json: { type: "boolean" },
    table: { type: "boolean" },
    out: { type: "string" },
  },
  operands: ["cli.operand.plan"],
  help: () => say("cli.help.shape", { readings: readingHelp() }),
  async run(given, io) {
    const [planPath = ""] = given.operands;
    const readingsPath = given.text("readings");
    oneStdin(planPath, readingsPath);
    const asTable = given.flag("table");
    if (asTable && given.flag("json"))
      throw new UsageError(say("cli.option.exclude", { one: "--json", other: "--table" }));
    const state = stateAsked(
      given.text("state"),
      readingsPath !== undefined,
      given.texts("change").length > 0,
    );

    const plan = await readPlan(planPath, io);
    if (!plan.ok) return refuse("plan", plan.problems, !asTable, io);
    const wing = plan.value;
    const changes = readChanges(given.texts("change"), wing);
    requireLengths(changes, wing);
    const weightKg = given.number("weight", "kg") ?? (wing.allUpWeightKg.min + wing.allUpWeightKg.max) / 2;
    if (!(weightKg > 0)) throw new UsageError(say("cli.option.above", { option: "--weight", unit: "kg" }));
    let problems: readonly Problem[] = plan.problems;
    let check: Check | undefined;
    if (readingsPath !== undefined) {
      const parsed = await readCheck(readingsPath, wing, given, io);
      if (!parsed.ok) return refuse("readings", parsed.problems, !asTable, io);
      check = parsed.value;
      problems = [...problems, ...parsed.problems];
    }

    const solved = solveState(wing, state, check, changes, weightKg);
    const { model, equilibrium } = solved;
    const report = {
      wing,
      state,
      weightKg,
      ...solved,
      ribs: profileChange(model, model.specified, equilibrium),
    };
    const text = asTable
      ? shapeText(report)
      : jsonText({ ...shapeJson(report), problems: problemsJson(problems) });
    if (asTable && problems.length > 0) io.err(problemsText(problems));
    const out = given.text("out");
    if (out === undefined) io.out(text);
    else writeText(out, text, io);
    if (equilibrium.converged) return EXIT_OK;
    const force = String(equilibrium.residualN).replace(".", decimalMark());
    io.err(`linewright: ${say("cli.shape.none", { force })}\n`);
    return EXIT_PROBLEMS;
  },
};

/** @throws UsageError where the state is unknown or needs what wasn't given. */
function stateAsked(text: string | undefined, hasReadings: boolean, hasChanges: boolean): State {
  const usual = hasChanges ? "changed" : hasReadings ? "measured" : "specified";
  const state = oneOf(text ?? usual, STATES, "--state");
  if (state === "measured" && !hasReadings) throw new UsageError(say("cli.shape.readings"));
  if (state === "changed" && !hasChanges) throw new UsageError(say("cli.shape.change"));
  if (state !== "changed" && hasChanges) throw new UsageError(say("cli.shape.no-effect", { state }));
  return state;
}

interface SolvedState {
  readonly model: WingModel;
  readonly equilibrium: Equilibrium;
  readonly lengthChanges: ReadonlyMap<string, number>;
}

/** The state asked for: lengths as measured come from the readings' attribution to single lines, changes go on top. */
function solveState(
  wing: Wing,
  state: State,
  check: Check | undefined,
  changes: ReadonlyMap<string, number>,
  weightKg: number,
): SolvedState {
  const analysis =
    check === undefined || state === "specified" ? undefined : analyse(wing, check, { weightKg });
  const model = analysis?.model ?? buildWingModel(wing, { weightKg });
  const lengthChanges = new Map<string, number>();
  for (const line of analysis?.lines ?? [])
    if (line.attributedM !== 0) lengthChanges.set(line.lineKey, line.attributedM);
  if (state === "measured" && analysis?.measured !== undefined) {
    return { model, equilibrium: analysis.measured, lengthChanges };
  }
  for (const [key, change] of changes) lengthChanges.set(key, (lengthChanges.get(key) ?? 0) + change);
  requireLengths(lengthChanges, wing);
  if (lengthChanges.size === 0) return { model, equilibrium: model.specified, lengthChanges };
  return { model, equilibrium: solveWing(model, lengthChanges, analysis?.measured), lengthChanges };
}
