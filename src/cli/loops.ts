/** `linewright loops`: which loops to change at the maillons, and what that leaves. */

import { attribute } from "../diagnosis/attribution.ts";
import type { Problem } from "../plan/index.ts";
import { deviations, readingUncertainty } from "../readings/index.ts";
import { say } from "../words/index.ts";
import { lineLoops, loopReport, planLoops } from "../workshop/index.ts";
import { type Command, oneStdin } from "./command.ts";
import { READING_OPTIONS, readBook, readCheck, readingHelp, readPlan } from "./inputs.ts";
import { EXIT_OK } from "./io.ts";
import { CHOICE_OPTIONS, choiceHelp, readLoopChoices } from "./loop-choices.ts";
import { loopsJson } from "./loops-json.ts";
import { loopsText } from "./loops-text.ts";
import { jsonText, problemsJson, problemsText } from "./messages.ts";
import { refuse } from "./wing-report.ts";

export const loops: Command = {
  options: { json: { type: "boolean" }, book: { type: "string" }, ...CHOICE_OPTIONS, ...READING_OPTIONS },
  operands: ["cli.operand.plan", "cli.operand.readings"],
  help: () => say("cli.help.loops", { choices: choiceHelp(), readings: readingHelp() }),
  async run(given, io) {
    const [planPath = "", readingsPath = ""] = given.operands;
    const bookPath = given.text("book");
    oneStdin(planPath, readingsPath, bookPath);
    const json = given.flag("json");
    const plan = await readPlan(planPath, io);
    if (!plan.ok) return refuse("plan", plan.problems, json, io);
    const check = await readCheck(readingsPath, plan.value, given, io);
    if (!check.ok) return refuse("readings", check.problems, json, io);
    const book = await readBook(bookPath, plan.value, io);
    if (!book.ok) return refuse("book", book.problems, json, io);

    const wing = plan.value;
    const found = deviations(wing, check.value);
    const lines = lineLoops(wing, book.value);
    const above = new Set(lines.flatMap(({ row, tabs }) => (row === "brake" ? [] : tabs)));
    if (!found.paths.some(({ deviationM }, tab) => deviationM !== undefined && above.has(tab)))
      return refuse("readings", [...check.problems, nothingRead()], json, io);
    const choices = readLoopChoices(given, wing, book.value, lines);
    const uncertainties = readingUncertainty(wing, check.value, found);
    const plans = planLoops(wing, found, lines, choices);
    const answer = {
      wing,
      check: check.value,
      deviations: found,
      loops: lines,
      choices,
      plans,
      report: loopReport({
        wing,
        deviations: found,
        uncertainties,
        loops: lines,
        choices,
        plan: plans.best,
        attribution: attribute(wing, found, uncertainties),
      }),
    };
    const problems = [...plan.problems, ...check.problems, ...book.problems];
    if (json) io.out(jsonText({ ...loopsJson(answer), problems: problemsJson(problems) }));
    else {
      if (problems.length > 0) io.err(problemsText(problems));
      io.out(loopsText(answer));
    }
    return EXIT_OK;
  },
};

function nothingRead(): Problem {
  return {
    severity: "error",
    where: say("plan.shape.file"),
    subject: undefined,
    message: say("cli.loops.nothing"),
    remedy: say("cli.loops.nothing.fix"),
  };
}
