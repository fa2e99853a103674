/** `linewright diagnose`: what the readings say of the wing, how sure that is, and what to read next. */
import type { Problem } from "../plan/index.ts";
import { type Command, oneStdin } from "./command.ts";
import { diagnosisJson } from "./diagnose-json.ts";
import { diagnosisText } from "./diagnose-text.ts";
import { diagnosisOf, JUDGING_HELP, JUDGING_OPTIONS, readChoices } from "./diagnosis.ts";
import { READING_HELP, READING_OPTIONS, readCheck, readPlan } from "./inputs.ts";
import { EXIT_OK, EXIT_PROBLEMS } from "./io.ts";
import { jsonText, problemsJson, problemsText } from "./messages.ts";
import { refuse } from "./wing-report.ts";

export const diagnose: Command = {
  options: { json: { type: "boolean" }, ...READING_OPTIONS, ...JUDGING_OPTIONS },
  operands: ["<plan.json>", "<readings.json or .csv>"],
  help: `linewright diagnose <plan.json> <readings.json|readings.csv> [options]

Says what the readings mean and how sure that is: findings, which values keep their limits by a stated rule, rows
and sides against each other, mistakes of measuring that are suspected (offered, never applied), which lines have
changed, what to read next, and how well the incidence is known. Deviation = measured - specified: negative is
short. "-" reads one of the files from standard input.
Exit code 0 when done, whatever was found: it doesn't say that the wing is in tolerance, and what conforms to a
limit isn't cleared to fly. 1 when a file has errors, nothing was read, or the model found no equilibrium.

  --json                everything as JSON, lengths in millimetres, angles in degrees: every decision, every line's
                        change, every rib's bands, what each assumption does

${JUDGING_HELP}
${READING_HELP}
Example:
  linewright diagnose wing.json readings.csv --date 2026-03-14 --tension 50 --from riser --rule full
`,
  async run(given, io) {
    const [planPath = "", readingsPath = ""] = given.operands;
    oneStdin(planPath, readingsPath);
    const json = given.flag("json");
    const choices = readChoices(given);
    const plan = await readPlan(planPath, io);
    if (!plan.ok) return refuse("plan", plan.problems, json, io);
    const check = await readCheck(readingsPath, plan.value, given, io);
    if (!check.ok) return refuse("readings", check.problems, json, io);

    const diagnosis = diagnosisOf(plan.value, check.value, choices);
    if (diagnosis === undefined) return refuse("readings", [...check.problems, NOTHING_READ], json, io);
    const problems = [...plan.problems, ...check.problems];
    if (json) io.out(jsonText({ ...diagnosisJson(diagnosis), problems: problemsJson(problems) }));
    else {
      if (problems.length > 0) io.err(problemsText(problems));
      io.out(diagnosisText(diagnosis));
    }
    if (diagnosis.analysis.measured?.converged === true) return EXIT_OK;
    io.err(
      "linewright: the model found no equilibrium for these readings; don't rely on what rests on its shape\n",
    );
    return EXIT_PROBLEMS;
  },
};

const NOTHING_READ: Problem = {
  severity: "error",
  where: "the whole file",
  subject: undefined,
  message: "There is no reading in it that can be held against the plan; at least one was expected.",
  remedy: "Give readings of the plan's own tabs or lines.",
};
