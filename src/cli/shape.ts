/** `linewright shape`: the wing's shape and line tensions for lengths as specified, measured or changed. */
import { analyse } from "../diagnosis/analyse.ts";
import { buildWingModel } from "../geometry/build.ts";
import type { Equilibrium, WingModel } from "../geometry/model.ts";
import { profileChange } from "../geometry/profile.ts";
import { solveWing } from "../geometry/solve.ts";
import type { Problem, Wing } from "../plan/index.ts";
import type { Check } from "../readings/index.ts";
import { readChanges, requireLengths } from "./change.ts";
import { type Command, oneStdin } from "./command.ts";
import { READING_HELP, READING_OPTIONS, readCheck, readPlan, writeText } from "./inputs.ts";
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
  operands: ["<plan.json>"],
  help: `linewright shape <plan.json> [options]

Lets the model of lines and canopy come to rest and prints where every node lies, what every line carries and
how each rib's incidence, camber and height changed against the specified wing. Prints JSON.
Exit code 0 when it came to rest, 1 when a file has errors or no equilibrium was found.

  --readings FILE      a check, for the measured state
  --change LINE=MM     lengthens a line (minus shortens), as often as needed; changes of one line add up:
                       left:A1=-10 one line; A1=-10 on both sides; row:C=-12 all lower lines of row C
                       (left:row:C=-12 on one side)
  --state STATE        specified, measured, or changed (measured, or specified without readings, and then the
                       changes); default: changed with --change, else measured with --readings, else specified
  --weight KG          all-up weight; default the middle of the plan's range
  --json               JSON is the default
  --table              ribs and tensions as text instead
  --out FILE           write there instead of to standard output

${READING_HELP}
Example:
  linewright shape wing.json --readings check.json --change row:C=-10 --out shape.json

The JSON: state, weightKg, converged, iterations, residualN, energyJ; changesMm by line (against specified, the lengths
this state was solved with); nodes with name, kind and positionM (x aft, y to the pilot's right, z up, from
midway between the carabiners; a tab and a junction may share a name); lines with tensionN, lengthMm and slack; ribs from the left tip to the right with
incidenceDeg (nose-up positive), camberPercent of the chord, heaveMm (outwards positive), arcDeg, residualMm
against specified; everyRib: the same at every cell wall, between true where it carries no tab; fit: the canopy's parameters and where each is from, and by how much the fitted canopy
missed each path before the rest was absorbed; balance: loads and reactions summed (the canopy's small bending
stiffness may leave a moment of hundredths of a newton metre).
`,
  async run(given, io) {
    const [planPath = ""] = given.operands;
    const readingsPath = given.text("readings");
    oneStdin(planPath, readingsPath);
    const asTable = given.flag("table");
    if (asTable && given.flag("json")) throw new UsageError("--json and --table exclude each other");
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
    if (!(weightKg > 0)) throw new UsageError("--weight must be above 0 kg");
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
    io.err(`linewright: no equilibrium found; the largest force left over is ${equilibrium.residualN} N\n`);
    return EXIT_PROBLEMS;
  },
};

/** @throws UsageError where the state is unknown or needs what wasn't given. */
function stateAsked(text: string | undefined, hasReadings: boolean, hasChanges: boolean): State {
  const usual = hasChanges ? "changed" : hasReadings ? "measured" : "specified";
  const state = STATES.find((each) => each === (text ?? usual));
  if (state === undefined) throw new UsageError(`--state: "${text}" is none of ${STATES.join(", ")}`);
  if (state === "measured" && !hasReadings) throw new UsageError("--state measured needs --readings");
  if (state === "changed" && !hasChanges) throw new UsageError("--state changed needs at least one --change");
  if (state !== "changed" && hasChanges) throw new UsageError(`--change has no effect on --state ${state}`);
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
