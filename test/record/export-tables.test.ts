import { strFromU8, unzipSync } from "fflate";
import Papa from "papaparse";
import readXlsxFile from "read-excel-file/universal";
import { describe, expect, it } from "vitest";
import type { Analysis } from "../../src/diagnosis/model.ts";
import { defaultFrame, parseReadingsCsv } from "../../src/readings/index.ts";
import { aboutOf } from "../../src/record/export-about.ts";
import { csvOf } from "../../src/record/export-csv.ts";
import { type ExportTable, headingOf } from "../../src/record/export-table.ts";
import { deviationsTable, exportTables, readingsTable } from "../../src/record/export-tables.ts";
import { xlsxOf } from "../../src/record/export-xlsx.ts";
import { catalogueOf, speak } from "../../src/words/index.ts";
import { analysis, check, loops, unread, wing } from "./export-demo.ts";

const tables = exportTables({ analysis, loops });
const about = aboutOf(analysis);
const named = (name: ExportTable["name"], all = tables): ExportTable => {
  const table = all.find((each) => each.name === name);
  if (table === undefined) throw new Error(`there is no table ${name}`);
  return table;
};
/** A table's rows by heading. */
const records = (table: ExportTable) =>
  table.rows.map((row) =>
    Object.fromEntries(table.head.map((column, i) => [headingOf(column), row[i]] as const)),
  );

describe("the tables that are exported", () => {
  it("are of readings, deviations, rows, lines, incidence and the loop plan", () => {
    expect(tables.map(({ name, rows }) => [name, rows.length])).toEqual([
      ["readings", check.readings.reduce((sum, { valuesM }) => sum + valuesM.length, 0)],
      ["deviations", wing.tabs.length],
      ["rows", 6],
      ["lines", wing.lines.length],
      ["incidence", analysis.ribs.length],
      ["loop plan", loops.changes.length],
      ["after the loops", loops.paths.length],
    ]);
    expect(loops.changes.length).toBeGreaterThan(5);
  });

  it("have as many cells in a row as headings, and no number that isn’t one", () => {
    for (const { head, rows } of tables) {
      expect(rows.filter((row) => row.length !== head.length)).toEqual([]);
      expect(rows.flat().filter((cell) => typeof cell === "number" && !Number.isFinite(cell))).toEqual([]);
    }
  });

  it("give each path in millimetres as the check has it, with its uncertainty and decision", () => {
    const rows = records(named("deviations"));
    rows.forEach((row, i) => {
      const path = analysis.deviations.paths[i];
      if (path?.deviationM === undefined) {
        expect(row).toMatchObject({
          "deviation mm": undefined,
          "measured mm": undefined,
          decision: "not read",
        });
        expect(row["standard uncertainty mm"]).toBeUndefined();
        return;
      }
      const { "measured mm": measured, "specified mm": specified, "deviation mm": deviation } = row;
      expect(deviation).toBeCloseTo(1000 * path.deviationM, 3);
      expect((measured as number) - (specified as number)).toBeCloseTo(deviation as number, 2);
      const uncertainty = analysis.uncertainties?.totalM[i] as number;
      expect(row["standard uncertainty mm"]).toBeCloseTo(1000 * uncertainty, 3);
    });
    const decided = (outcome: string) => rows.filter(({ decision }) => decision === outcome).length;
    const paths = analysis.assessment?.assessed.filter(({ kind }) => kind === "path") ?? [];
    for (const outcome of ["conforms", "does not conform", "undecided"]) {
      expect(decided(outcome)).toBe(paths.filter(({ decision }) => decision.outcome === outcome).length);
    }
    expect(decided("not read")).toBe(analysis.assessment?.notRead);
    expect(decided("not read")).toBeGreaterThan(0);
  });

  it("count a change of loop as take-up now less take-up then: taking a loop out lengthens", () => {
    for (const row of records(named("loop plan")))
      expect(row["change mm"]).toBeCloseTo(
        (row["take-up now mm"] as number) - (row["take-up then mm"] as number),
        2,
      );
  });

  it("hold the plan alone where nothing was read", () => {
    const alone = exportTables({ analysis: unread });
    expect(alone.map(({ name }) => name)).toEqual(["deviations", "rows", "lines"]);
    expect(new Set(records(named("deviations", alone)).map(({ decision }) => decision))).toEqual(
      new Set(["not read"]),
    );
    expect(aboutOf(unread).entries.map(({ name }) => name)).not.toContain("date");
  });

  it("say what they are of and that they are no clearance to fly, in the language set", async () => {
    const entry = (name: string) => about.entries.find((each) => each.name === name);
    expect(entry("wing")?.value).toBe("Tidewrack 28");
    expect(entry("tension")).toEqual({ name: "tension", value: 50, unit: "N" });
    expect(entry("from")?.value).toBe(check.from);
    expect(entry("zero")).toEqual({ name: "zero", value: 1000 * check.instrumentZeroM, unit: "mm" });
    expect(about.cautions.join(" ")).toContain("clearance to fly");
    speak({ language: "de", locale: "de-DE", catalogue: await catalogueOf("de") });
    try {
      expect(aboutOf(analysis).cautions.join(" ")).toContain("Freigabe zum Fliegen");
      expect(aboutOf(analysis).entries).toEqual(about.entries);
    } finally {
      speak();
    }
  });

  it("say what was taken out of the paths where it was", () => {
    const removed: Analysis = { ...analysis, uniformM: -0.0042, uniformRemoved: true };
    const { entries, notes } = aboutOf(removed);
    expect(entries).toContainEqual({ name: "shared part taken out", value: -4.2, unit: "mm" });
    expect(notes.join(" ")).toContain("−4.2 mm");
    expect(about.notes.join(" ")).not.toContain("share");
  });
});

describe("a table as CSV", () => {
  it("of readings is read again as the check it came from", () => {
    const text = csvOf(readingsTable(check), { about });
    const read = parseReadingsCsv(text, wing, defaultFrame(wing, "2000-01-01"));
    expect(read.problems).toEqual([]);
    if (!read.ok) throw new Error("not read");
    const flat = (of: typeof check) =>
      of.readings.flatMap(({ target, valuesM }) =>
        valuesM.map((m) => `${target.kind} ${target.side} ${target.id} ${m.toFixed(9)}`),
      );
    expect(flat(read.value).sort()).toEqual(flat(check).sort());
    const { readings: _, ...frame } = check;
    expect(read.value).toMatchObject({ ...frame, wingName: "Tidewrack 28" });
  });

  it("has comments, then a heading, then its rows with decimal points", () => {
    const table = named("deviations");
    const lines = Papa.parse<string[]>(csvOf(table, { about }), { skipEmptyLines: true }).data;
    const comments = lines.filter(([first]) => first?.startsWith("#"));
    expect(comments).toHaveLength(about.entries.length + about.notes.length + about.cautions.length);
    expect(comments.every((line) => line.length === 1)).toBe(true);
    const [heading, ...rows] = lines.slice(comments.length);
    expect(heading).toEqual(table.head.map(headingOf));
    expect(rows).toHaveLength(table.rows.length);
    rows.forEach((row, i) => {
      const meant = table.rows[i] ?? [];
      expect(row.map((cell, j) => (typeof meant[j] === "number" ? Number(cell) : cell))).toEqual(
        meant.map((cell) => cell ?? ""),
      );
    });
  });

  it("runs no formula, whatever lines and notes are called", () => {
    const nasty = ["=1+1", "+A1", "-2", "@SUM(A1)", "\t=1", "＝1", 'a"b', "a,b", "a\r\nb"];
    const table: ExportTable = {
      name: "readings",
      head: [{ name: "tab" }, { name: "note" }],
      rows: nasty.map((text) => [text, text]),
    };
    const text = csvOf(table, {
      about: {
        entries: [
          { name: "wing", value: "=1+1" },
          { name: "note", value: "a\r\n=2" },
        ],
        notes: [],
        cautions: [],
      },
    });
    const cells = Papa.parse<string[]>(text, { skipEmptyLines: true }).data.flat();
    expect(cells.filter((cell) => /^[\s]*[=+\-@＝]/.test(cell))).toEqual([]);
    expect(cells).toContain("'=1+1");
    expect(cells).toContain('a"b');
  });

  it("leaves negative numbers numbers, and marks three decimals so that they aren’t taken for thousands", () => {
    const text = csvOf({
      name: "rows",
      head: [{ name: "mean", unit: "mm" }],
      rows: [[-3.5], [7.421], [-0.125]],
    });
    expect(text).toBe("mean mm\r\n-3.5\r\n7.4210\r\n-0.1250\r\n");
  });

  it("begins with a byte order mark only where asked", () => {
    const table = named("rows");
    expect(csvOf(table, { bom: true })).toBe(`\ufeff${csvOf(table)}`);
  });
});

describe("tables as a workbook", () => {
  it("come back sheet by sheet as they were", async () => {
    const bytes = await xlsxOf(tables, about);
    const sheets = await readXlsxFile(new Blob([bytes as Uint8Array<ArrayBuffer>]));
    expect(sheets.map(({ sheet }) => sheet)).toEqual(["about", ...tables.map(({ name }) => name)]);
    tables.forEach(({ head, rows }, place) => {
      const data = sheets[place + 1]?.data ?? [];
      expect(data[0]).toEqual(head.map(headingOf));
      expect(data.slice(1).map((row) => row.map((cell) => cell ?? undefined))).toEqual(
        rows.map((row) => row.map((cell) => (cell === "" ? undefined : cell))),
      );
    });
    const first = sheets[0]?.data ?? [];
    expect(first.find(([name]) => name === "date")?.[1]).toEqual(new Date(`${check.date}T00:00:00Z`));
    expect(first.flat().join(" ")).toContain("clearance to fly");
  });

  it("hold no formula, whatever a line or a note is called", async () => {
    const nasty = [
      "=1+1",
      "+1",
      "-1",
      "@SUM(A1)",
      '=HYPERLINK("http://example.invalid")',
      "<f>1</f>",
      "a\u0000b",
    ];
    const table: ExportTable = { name: "lines", head: [{ name: "line" }], rows: nasty.map((text) => [text]) };
    const bytes = await xlsxOf([table], {
      entries: [{ name: "wing", value: "=1+1" }],
      notes: ["=2"],
      cautions: [],
    });
    const files = unzipSync(bytes);
    const xml = Object.entries(files).filter(([name]) => /worksheets\/.*\.xml$/.test(name));
    expect(xml).toHaveLength(2);
    for (const [, content] of xml) expect(strFromU8(content)).not.toMatch(/<f[\s>/]/);
    const sheets = await readXlsxFile(new Blob([bytes as Uint8Array<ArrayBuffer>]));
    expect(sheets[1]?.data.map(([cell]) => cell)).toEqual(["line", ...nasty.slice(0, -1), "ab"]);
  });

  it("mark texts as text, so that editing one doesn’t turn it into a formula", async () => {
    const bytes = await xlsxOf([{ name: "lines", head: [{ name: "line" }], rows: [["=1+1"]] }]);
    const files = unzipSync(bytes);
    const sheet = strFromU8(files["xl/worksheets/sheet1.xml"] ?? new Uint8Array());
    const styles = strFromU8(files["xl/styles.xml"] ?? new Uint8Array());
    const style = Number(/<c [^>]*r="A2"[^>]*>/.exec(sheet)?.[0].match(/\bs="(\d+)"/)?.[1]);
    const formats = [...(/<cellXfs[\s\S]*<\/cellXfs>/.exec(styles)?.[0].matchAll(/<xf [^>]*>/g) ?? [])];
    const id = /numFmtId="(\d+)"/.exec(formats[style]?.[0] ?? "")?.[1];
    expect(styles).toMatch(new RegExp(`<numFmt numFmtId="${id}" formatCode="@"`));
  });

  it("keep a text within what a cell may hold, and need something to hold", async () => {
    const long = "x".repeat(40_000);
    const bytes = await xlsxOf([{ name: "lines", head: [{ name: "note" }], rows: [[long]] }]);
    const sheets = await readXlsxFile(new Blob([bytes as Uint8Array<ArrayBuffer>]));
    expect(String(sheets[0]?.data[1]?.[0])).toHaveLength(32_767);
    await expect(xlsxOf([])).rejects.toThrow("no table");
  });
});

describe("the decisions", () => {
  it("change with the rule and nothing else", () => {
    const { rows } = deviationsTable({ ...analysis, assessment: undefined });
    expect(new Set(rows.map((row) => row[11]))).toEqual(new Set(["no decision", "not read"]));
  });
});
