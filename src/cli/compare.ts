/** `linewright compare`: readings against the plan, in figures and in words. */

import { analyse } from "../diagnosis/analyse.ts";
import type { Analysis } from "../diagnosis/model.ts";
import { SIDES } from "../plan/index.ts";
import type { Check, PathDeviation } from "../readings/index.ts";
import { say } from "../words/index.ts";
import { type Command, oneStdin } from "./command.ts";
import { READING_OPTIONS, readCheck, readingHelp, readPlan } from "./inputs.ts";
import { EXIT_OK, EXIT_PROBLEMS } from "./io.ts";
import { jsonText, problemsJson, problemsText, wingCaution } from "./messages.ts";
import { lengthFigure, paragraph, signed, signedLength, table } from "./table.ts";
import {
  comparedJson,
  findingJson,
  findingText,
  frameText,
  inDegrees,
  leftLessRight,
  limitsText,
  type Pair,
  pairs,
  refuse,
  rowTable,
} from "./wing-report.ts";

export const compare: Command = {
  options: { json: { type: "boolean" }, ...READING_OPTIONS },
  operands: ["cli.operand.plan", "cli.operand.readings"],
  help: () => say("cli.help.compare", { readings: readingHelp() }),
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
    io.err(`linewright: ${say("cli.compare.none")}\n`);
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
        [
          say("cli.head.line"),
          say("cli.head.specified"),
          say("cli.head.measured"),
          say("cli.head.deviation"),
        ],
        deviations.lines.map((line) => [
          line.lineKey,
          lengthFigure(line.specifiedM),
          lengthFigure(line.measuredM),
          signedLength(line.deviationM),
        ]),
      ),
    );
  }
  sections.push(
    rowTable(analysis.rows),
    incidenceText(analysis),
    analysis.findings.map(findingText).join("\n"),
    limitsText(wing),
    paragraph(wingCaution()),
  );
  return sections.filter((section) => section !== "").join("\n");
}

function tabTable(tabs: readonly Pair[]): string {
  const [specified, measured, deviation] = [
    (path: PathDeviation | undefined) => lengthFigure(path?.specifiedM),
    (path: PathDeviation | undefined) => lengthFigure(path?.measuredM),
    (path: PathDeviation | undefined) => signedLength(path?.deviationM),
  ];
  return table(
    [
      say("cli.head.tab"),
      ...SIDES.flatMap((side) => [
        say("cli.head.side.plan", { side }),
        say("cli.head.measured"),
        say("cli.head.deviation"),
      ]),
      say("cli.head.left-right"),
    ],
    tabs.map((pair) => [
      pair.id,
      ...[pair.left, pair.right].flatMap((path) => [specified(path), measured(path), deviation(path)]),
      signedLength(leftLessRight(pair)),
    ]),
  );
}

function incidenceText({ meanIncidenceRad, leftIncidenceRad, rightIncidenceRad }: Analysis): string {
  if (meanIncidenceRad === undefined) return "";
  const turn = (angle: number | undefined): string => signed(inDegrees(angle), 2);
  const said = {
    mean: turn(meanIncidenceRad),
    left: turn(leftIncidenceRad),
    right: turn(rightIncidenceRad),
  };
  return `${say("cli.compare.incidence", said)}\n`;
}
