/** `linewright loops`: which loops to change at the maillons, and what that leaves. */
import { attribute } from "../diagnosis/attribution.ts";
import type { Problem } from "../plan/index.ts";
import { deviations, readingUncertainty } from "../readings/index.ts";
import { lineLoops, loopReport, planLoops } from "../workshop/index.ts";
import { type Command, oneStdin } from "./command.ts";
import { READING_HELP, READING_OPTIONS, readBook, readCheck, readPlan } from "./inputs.ts";
import { EXIT_OK } from "./io.ts";
import { CHOICE_HELP, CHOICE_OPTIONS, readLoopChoices } from "./loop-choices.ts";
import { loopsJson } from "./loops-json.ts";
import { loopsText } from "./loops-text.ts";
import { jsonText, problemsJson, problemsText } from "./messages.ts";
import { refuse } from "./wing-report.ts";

export const loops: Command = {
  options: { json: { type: "boolean" }, book: { type: "string" }, ...CHOICE_OPTIONS, ...READING_OPTIONS },
  operands: ["<plan.json>", "<readings.json or .csv>"],
  help: `linewright loops <plan.json> <readings.json|readings.csv> [options]

Says which loops to change at the maillons so that as little as possible is left off: the loops as they are, the best
changes, what fewer would reach, what each path is left with, and what loops can't mend. A loop takes up length, so
taking it out lengthens. Take-ups are the plan's, the bench's where they were measured, else estimates. Readings must
be those with the present loops. "-" reads one of the files from standard input.
Exit code 0 when planned, whatever is left: it is no advice to fly and no clearance. 1 when a file has errors or
nothing was read. Loops only within what the maker allows.

  --book FILE           what the bench keeps of the loops (JSON): present loops, measured take-ups, choices
  --json                everything as JSON, lengths in millimetres; \`linewright recheck --changes\` reads it

${CHOICE_HELP}
${READING_HELP}
Example:
  linewright loops wing.json check.json --book loops.json --rows B,C,D --most-changes 12
`,
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
      return refuse("readings", [...check.problems, NOTHING_READ], json, io);
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

const NOTHING_READ: Problem = {
  severity: "error",
  where: "the whole file",
  subject: undefined,
  message: "There is no reading of a path above a line with a loop; at least one was expected.",
  remedy: "Give readings of the plan's own tabs.",
};
