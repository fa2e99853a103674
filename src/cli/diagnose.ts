/** `linewright diagnose`: what the readings say of the wing, how sure that is, and what to read next. */

import type { Problem } from "../plan/index.ts";
import { say } from "../words/index.ts";
import { type Command, oneStdin } from "./command.ts";
import { diagnosisJson } from "./diagnose-json.ts";
import { diagnosisText } from "./diagnose-text.ts";
import { diagnosisOf, JUDGING_OPTIONS, judgingHelp, readChoices } from "./diagnosis.ts";
import { READING_OPTIONS, readCheck, readingHelp, readPlan } from "./inputs.ts";
import { EXIT_OK, EXIT_PROBLEMS } from "./io.ts";
import { jsonText, problemsJson, problemsText } from "./messages.ts";
import { refuse } from "./wing-report.ts";

export const diagnose: Command = {
  options: { json: { type: "boolean" }, ...READING_OPTIONS, ...JUDGING_OPTIONS },
  operands: ["cli.operand.plan", "cli.operand.readings"],
  help: () => say("cli.help.diagnose", { judging: judgingHelp(), readings: readingHelp() }),
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
    if (diagnosis === undefined) return refuse("readings", [...check.problems, nothingRead()], json, io);
    const problems = [...plan.problems, ...check.problems];
    if (json) io.out(jsonText({ ...diagnosisJson(diagnosis), problems: problemsJson(problems) }));
    else {
      if (problems.length > 0) io.err(problemsText(problems));
      io.out(diagnosisText(diagnosis));
    }
    if (diagnosis.analysis.measured?.converged === true) return EXIT_OK;
    io.err(`linewright: ${say("cli.diagnose.none")}\n`);
    return EXIT_PROBLEMS;
  },
};

function nothingRead(): Problem {
  return {
    severity: "error",
    where: say("plan.shape.file"),
    subject: undefined,
    message: say("cli.diagnose.nothing"),
    remedy: say("cli.diagnose.nothing.fix"),
  };
}
