/** `linewright columns`: how a table would be understood, without using it. */

import type { Parsed, Problem, Wing } from "../plan/index.ts";
import {
  type CellTable,
  type ChosenSheet,
  chooseSheet,
  defaultFrame,
  fileCells,
  type LengthTable,
  type RecognisedColumn,
  readLengthTable,
  readTable,
  withSide,
} from "../readings/index.ts";
import { lengthUnitName, say } from "../words/index.ts";
import { type Command, oneStdin } from "./command.ts";
import { oneOf } from "./globals.ts";
import { readFileBytes, readPlan, readText } from "./inputs.ts";
import { EXIT_OK, EXIT_PROBLEMS, type Io, UsageError } from "./io.ts";
import { jsonText, problemsJson, problemsText, wingCaution } from "./messages.ts";
import { lengthFigure, paragraph, table as textTable } from "./table.ts";
import { isWorkbook, statedSide, TABLE_OPTIONS } from "./tables-in.ts";
import { refuse } from "./wing-report.ts";

export const columns: Command = {
  options: {
    json: { type: "boolean" },
    plan: { type: "string" },
    unit: { type: "string" },
    ...TABLE_OPTIONS,
  },
  operands: ["cli.operand.table"],
  help: () => say("cli.help.columns"),
  async run(given, io) {
    const [path = ""] = given.operands;
    const planPath = given.text("plan");
    oneStdin(path, planPath);
    const json = given.flag("json");
    const side = statedSide(given);
    const unit = unitAsked(given.text("unit"), planPath !== undefined);
    const sheet = given.text("sheet");
    const plan = planPath === undefined ? undefined : await readPlan(planPath, io);
    if (plan?.ok === false) return refuse("plan", plan.problems, json, io);

    const text = await readText(path, io);
    const tables = await tablesOf(text, path, sheet, io);
    if (!tables.ok) return refuse("table", tables.problems, json, io);
    if (plan === undefined) {
      const found = lengthsOf(tables.value, sheet, unit);
      if (!found.ok) return refuse("table", found.problems, json, io);
      printLengths(found.value, found.problems, tables.value, json, io);
      return EXIT_OK;
    }
    const chosen = chooseSheet(tables.value, plan.value, sheet);
    if (!chosen.ok) return refuse("table", chosen.problems, json, io);
    const { table } = chosen.value;
    const recognition =
      side === undefined ? chosen.value.recognition : withSide(chosen.value.recognition, side);
    const choice = chosen.problems.filter(
      (problem) => problem.where === say("plan.shape.file") && tables.value.length > 1,
    );
    return printRecognition(plan.value, { table, recognition }, choice, tables.value, json, io);
  },
};

const UNITS = ["mm", "cm", "m", "in"] as const;
type Unit = (typeof UNITS)[number];

function unitAsked(text: string | undefined, hasPlan: boolean): Unit | undefined {
  if (text === undefined) return undefined;
  if (hasPlan) throw new UsageError(say("cli.columns.unit"));
  return oneOf(text, UNITS, "--unit");
}

async function tablesOf(
  text: string,
  path: string,
  sheet: string | undefined,
  io: Io,
): Promise<Parsed<readonly CellTable[]>> {
  if (isWorkbook(text)) {
    if (path === "-") throw new UsageError(say("cli.file.workbook"));
    const { readXlsx } = await import("../readings/tables/xlsx.ts");
    return readXlsx(readFileBytes(path, io));
  }
  if (sheet !== undefined) throw new UsageError(say("cli.sheet.workbook"));
  return { ok: true, value: [fileCells(text)], problems: [] };
}

const sheetName = ({ source }: CellTable): string | undefined =>
  source.kind === "sheet" ? source.name : undefined;

function lengthsOf(
  tables: readonly CellTable[],
  sheet: string | undefined,
  unit: Unit | undefined,
): Parsed<LengthTable> {
  const wanted = sheet === undefined ? tables : tables.filter((each) => sheetName(each) === sheet);
  const options = unit === undefined ? {} : { unit };
  const found = wanted.map((each) => readLengthTable(each, options));
  const first = found.find((each) => each.ok) ?? found[0];
  if (first !== undefined) return first;
  const names = tables.map((each) => `"${sheetName(each) ?? ""}"`).join(", ");
  const problem: Problem = {
    severity: "error",
    where: say("plan.shape.file"),
    subject: undefined,
    message: say("tables.sheet.unknown", { wanted: sheet ?? "", count: tables.length, names }),
    remedy: say("tables.sheet.choose"),
  };
  return { ok: false, problems: [problem] };
}

function printLengths(
  { lengths, unit, why }: LengthTable,
  problems: readonly Problem[],
  tables: readonly CellTable[],
  json: boolean,
  io: Io,
): void {
  const sheets = tables.flatMap((each) => sheetName(each) ?? []);
  if (json) {
    const plain = lengths.map(({ side, level, ...rest }) => ({
      ...rest,
      side: side ?? null,
      level: level ?? null,
    }));
    io.out(
      jsonText({
        format: "linewright-lengths",
        version: 1,
        ok: true,
        sheets,
        unit: unit ?? null,
        why,
        lengths: plain,
        problems: problemsJson(problems),
      }),
    );
    return;
  }
  if (problems.length > 0) io.err(problemsText(problems));
  if (sheets.length > 1) io.out(`${say("cli.columns.sheets", { names: sheets.join(", ") })}\n`);
  io.out(why.map((sentence) => `${sentence}\n`).join(""));
  io.out(
    `\n${textTable(
      [
        say("cli.head.row"),
        say("cli.head.number"),
        say("cli.head.side"),
        say("cli.head.level"),
        lengthUnitName(),
        say("cli.head.where"),
      ],
      lengths.map((each) => [
        say("cli.row", { row: each.row }),
        String(each.number),
        say("cli.side", { side: each.side ?? "both" }),
        each.level === undefined ? "-" : say("cli.level", { level: each.level }),
        lengthFigure(each.mm / 1000, 1),
        each.where,
      ]),
    )}`,
  );
}

function printRecognition(
  wing: Wing,
  { table, recognition }: ChosenSheet,
  choice: readonly Problem[],
  tables: readonly CellTable[],
  json: boolean,
  io: Io,
): number {
  const parsed = readTable(table, wing, defaultFrame(wing, io.today), recognition);
  const readings = parsed.ok ? parsed.value.readings.length : 0;
  const problems = [...choice, ...parsed.problems];
  const sheets = tables.flatMap((each) => sheetName(each) ?? []);
  if (json) {
    io.out(
      jsonText({
        format: "linewright-columns",
        version: 1,
        ok: parsed.ok,
        sheets,
        sheet: sheetName(table) ?? null,
        recognition,
        readings,
        problems: problemsJson(problems),
        caution: wingCaution(),
      }),
    );
    return parsed.ok ? EXIT_OK : EXIT_PROBLEMS;
  }
  const sections = [
    ...(sheets.length > 0
      ? [
          `${say("cli.columns.sheets", { names: sheets.join(", ") })}\n` +
            `${say("cli.columns.sheet", { sheet: sheetName(table) ?? "" })}\n`,
        ]
      : []),
    recognition.why.map((sentence) => `${sentence}\n`).join(""),
    ...recognition.sections.map((section, place) => {
      const { headerRow, firstRow, lastRow } = section;
      const title = say("cli.columns.block", {
        several: recognition.sections.length > 1 ? "yes" : "no",
        number: String(place + 1),
        across: recognition.orientation === "across" ? "yes" : "no",
        first: String(firstRow + 1),
        last: String(lastRow + 1),
        headed: headerRow === undefined ? "no" : "yes",
        heading: headerRow === undefined ? "" : String(headerRow + 1),
      });
      return `${title}\n${columnTable(section.columns)}`;
    }),
    `${parsed.ok ? say("cli.columns.taken", { count: readings }) : say("cli.columns.open")}\n`,
    paragraph(wingCaution()),
  ];
  if (problems.length > 0) io.err(problemsText(problems));
  io.out(sections.join("\n"));
  return parsed.ok ? EXIT_OK : EXIT_PROBLEMS;
}

function columnTable(all: readonly RecognisedColumn[]): string {
  return textTable(
    [
      say("cli.head.column"),
      say("cli.head.is"),
      say("cli.head.of-row"),
      say("cli.head.side"),
      say("cli.head.unit"),
      say("cli.head.sure"),
      say("cli.head.why"),
    ],
    all.map((column) => [
      column.label,
      `${say("cli.role", { role: column.role })}${column.repeat === undefined ? "" : ` ${column.repeat}`}`,
      column.row === undefined ? "-" : say("cli.row", { row: column.row }),
      column.role !== "readings"
        ? "-"
        : column.side === undefined
          ? "?"
          : say("cli.side", { side: column.side }),
      column.unit ?? "-",
      say("cli.sureness", { sureness: column.sureness }),
      column.why,
    ]),
  );
}
