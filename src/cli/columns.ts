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
import { type Command, oneStdin } from "./command.ts";
import { readFileBytes, readPlan, readText } from "./inputs.ts";
import { EXIT_OK, EXIT_PROBLEMS, type Io, UsageError } from "./io.ts";
import { jsonText, problemsJson, problemsText, WING_CAUTION } from "./messages.ts";
import { figure, paragraph, table as textTable } from "./table.ts";
import { isWorkbook, statedSide, TABLE_OPTIONS } from "./tables-in.ts";
import { refuse } from "./wing-report.ts";

export const columns: Command = {
  options: {
    json: { type: "boolean" },
    plan: { type: "string" },
    unit: { type: "string" },
    ...TABLE_OPTIONS,
  },
  operands: ["<table.xlsx or .csv>"],
  help: `linewright columns <table.xlsx|table.csv> [--plan plan.json] [options]

Shows how a table would be understood, without using it. With a plan: which sheet looks like readings, where its
headings are, what each column is, in which unit, what would be read and what is still open. Without a plan: the
lengths that a maker's table gives, by row of the wing and tab number. "-" reads a text table, or the plan, from
standard input.
Exit code 0 when the table could be read so, 1 when something is open or wrong. It judges no wing.

  --plan FILE    the plan that the readings belong to
  --sheet NAME   of a workbook: the sheet to look at
  --side SIDE    left, right or both: where the table doesn't say which side it is of
  --unit UNIT    mm, cm, m or in: of lengths that name none (without a plan)
  --json         the same as JSON

Example:
  linewright columns readings.xlsx --plan wing.json --sheet March
`,
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
      (problem) => problem.where === "the whole file" && tables.value.length > 1,
    );
    return printRecognition(plan.value, { table, recognition }, choice, tables.value, json, io);
  },
};

const UNITS = ["mm", "cm", "m", "in"] as const;
type Unit = (typeof UNITS)[number];

function unitAsked(text: string | undefined, hasPlan: boolean): Unit | undefined {
  if (text === undefined) return undefined;
  if (hasPlan) throw new UsageError("--unit goes without --plan: with a plan its lengths tell the unit");
  const unit = UNITS.find((each) => each === text);
  if (unit === undefined) throw new UsageError(`--unit: "${text}" is none of ${UNITS.join(", ")}`);
  return unit;
}

async function tablesOf(
  text: string,
  path: string,
  sheet: string | undefined,
  io: Io,
): Promise<Parsed<readonly CellTable[]>> {
  if (isWorkbook(text)) {
    if (path === "-") throw new UsageError("a workbook can't be read from standard input");
    const { readXlsx } = await import("../readings/tables/xlsx.ts");
    return readXlsx(readFileBytes(path, io));
  }
  if (sheet !== undefined) throw new UsageError("--sheet: only a workbook (XLSX) has sheets");
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
    where: "the whole file",
    subject: undefined,
    message: `Found no sheet "${sheet}"; there is ${names || "none"}.`,
    remedy: "Choose one of these.",
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
  if (sheets.length > 1) io.out(`Sheets: ${sheets.join(", ")}\n`);
  io.out(why.map((sentence) => `${sentence}\n`).join(""));
  io.out(
    `\n${textTable(
      ["row", "number", "side", "level", "mm", "from"],
      lengths.map((each) => [
        each.row,
        String(each.number),
        each.side ?? "both",
        each.level ?? "-",
        figure(each.mm, 1),
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
        caution: WING_CAUTION,
      }),
    );
    return parsed.ok ? EXIT_OK : EXIT_PROBLEMS;
  }
  const sections = [
    ...(sheets.length > 0 ? [`Sheets: ${sheets.join(", ")}\nLooked at: ${sheetName(table)}\n`] : []),
    recognition.why.map((sentence) => `${sentence}\n`).join(""),
    ...recognition.sections.map((section, place) => {
      const { headerRow, firstRow, lastRow } = section;
      const head = headerRow === undefined ? "no headings" : `headings in ${headerRow + 1}`;
      const [across, name] = [recognition.orientation === "across", recognition.sections.length > 1];
      const title = `${name ? `Block ${place + 1}: ` : ""}${across ? "columns" : "rows"} ${firstRow + 1} to ${lastRow + 1}, ${head}\n`;
      return title + columnTable(section.columns);
    }),
    parsed.ok
      ? `${readings} readings would be taken.\n`
      : "Nothing would be read before what is open is settled.\n",
    paragraph(WING_CAUTION),
  ];
  if (problems.length > 0) io.err(problemsText(problems));
  io.out(sections.join("\n"));
  return parsed.ok ? EXIT_OK : EXIT_PROBLEMS;
}

function columnTable(all: readonly RecognisedColumn[]): string {
  return textTable(
    ["column", "is", "of row", "side", "unit", "sure", "why"],
    all.map((column) => [
      column.label,
      column.repeat === undefined ? column.role : `${column.role} ${column.repeat}`,
      column.row ?? "-",
      column.role === "readings" ? (column.side ?? "?") : "-",
      column.unit ?? "-",
      column.sureness,
      column.why,
    ]),
  );
}
