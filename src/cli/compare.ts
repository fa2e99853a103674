/** `linewright compare`: readings against the plan, in figures and in words. */
import { analyse } from "../diagnosis/analyse.ts";
import type { Analysis } from "../diagnosis/model.ts";
import type { Check, PathDeviation } from "../readings/index.ts";
import { type Command, oneStdin } from "./command.ts";
import { READING_HELP, READING_OPTIONS, readCheck, readPlan } from "./inputs.ts";
import { EXIT_OK, EXIT_PROBLEMS } from "./io.ts";
import { jsonText, problemsJson, problemsText, WING_CAUTION } from "./messages.ts";
import { figure, paragraph, signed, table } from "./table.ts";
import {
  comparedJson,
  findingJson,
  findingText,
  frameText,
  inDegrees,
  inMm,
  leftLessRight,
  limitsText,
  type Pair,
  pairs,
  refuse,
  rowTable,
} from "./wing-report.ts";

export const compare: Command = {
  options: { json: { type: "boolean" }, ...READING_OPTIONS },
  operands: ["<plan.json>", "<readings.json or .csv>"],
  help: `linewright compare <plan.json> <readings.json|readings.csv> [options]

Sets each tab's measured path against the specified one, left against right, sums up the rows and says what
follows. Deviation = measured - specified: negative is short. "-" reads one of the files from standard input.
Exit code 0 when compared, whatever was found: it doesn't say that the wing is in tolerance.
1 when a file has errors, or the model found no equilibrium.

  --json                the same as JSON, lengths in millimetres, angles in degrees

${READING_HELP}
Example:
  linewright compare wing.json readings.csv --date 2026-03-14 --tension 50 --from riser
`,
  async run(given, io) {
    const [planPath = "", readingsPath = ""] = given.operands;
    oneStdin(planPath, readingsPath);
    const json = given.flag("json");
    const plan = await readPlan(planPath, io);
    if (!plan.ok) return refuse("plan", plan.problems, json, io);
    const check = await readCheck(readingsPath, plan.value, given, io);
    if (!check.ok) return refuse("readings", check.problems, json, io);

    const problems = [...plan.problems, ...check.problems];
    const analysis = analyse(plan.value, check.value);
    if (json)
      io.out(jsonText({ ...comparisonJson(analysis, check.value), problems: problemsJson(problems) }));
    else {
      if (problems.length > 0) io.err(problemsText(problems));
      io.out(comparisonText(analysis, check.value));
    }
    if (analysis.measured?.converged !== false) return EXIT_OK;
    io.err(
      "linewright: the model found no equilibrium for these readings; what rests on its shape is missing\n",
    );
    return EXIT_PROBLEMS;
  },
};

function comparisonJson(analysis: Analysis, check: Check): object {
  return {
    format: "linewright-comparison",
    version: 1,
    ok: true,
    ...comparedJson(analysis, check),
    findings: analysis.findings.map(findingJson),
  };
}

function comparisonText(analysis: Analysis, check: Check): string {
  const { wing, deviations } = analysis;
  const sections = [frameText(wing, check), tabTable(pairs(wing, deviations.paths))];
  if (deviations.lines.length > 0) {
    sections.push(
      table(
        ["line", "specified", "measured", "deviation"],
        deviations.lines.map((line) => [
          line.lineKey,
          figure(1000 * line.specifiedM),
          figure(1000 * line.measuredM),
          signed(1000 * line.deviationM),
        ]),
      ),
    );
  }
  sections.push(
    rowTable(analysis.rows),
    incidenceText(analysis),
    analysis.findings.map(findingText).join("\n"),
    limitsText(wing),
    paragraph(WING_CAUTION),
  );
  return sections.filter((section) => section !== "").join("\n");
}

function tabTable(tabs: readonly Pair[]): string {
  const [specified, measured, deviation] = [
    (path: PathDeviation | undefined) => figure(inMm(path?.specifiedM)),
    (path: PathDeviation | undefined) => figure(inMm(path?.measuredM)),
    (path: PathDeviation | undefined) => signed(inMm(path?.deviationM)),
  ];
  return table(
    ["tab", "left: plan", "measured", "deviation", "right: plan", "measured", "deviation", "left-right"],
    tabs.map((pair) => [
      pair.id,
      ...[pair.left, pair.right].flatMap((path) => [specified(path), measured(path), deviation(path)]),
      signed(inMm(leftLessRight(pair))),
    ]),
  );
}

function incidenceText({ meanIncidenceRad, leftIncidenceRad, rightIncidenceRad }: Analysis): string {
  if (meanIncidenceRad === undefined) return "";
  const turn = (angle: number | undefined): string => signed(inDegrees(angle), 2);
  return (
    `Incidence by the model, against the specified wing, nose-up positive: ${turn(meanIncidenceRad)} deg ` +
    `(left ${turn(leftIncidenceRad)}, right ${turn(rightIncidenceRad)}); above: what each row does alone.\n`
  );
}
