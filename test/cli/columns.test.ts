import { describe, expect, it } from "vitest";
import type { Cell } from "../../src/readings/index.ts";
import { workbook } from "../readings/tables/workbook.ts";
import { run } from "./io.ts";
import { checkFile, readings, smallPlan, smallWing, table } from "./wing.ts";

const plan = JSON.stringify(smallPlan);
const read = readings(({ row }) => (row === "C" ? -15 : 0));
const list = (unit: string, scale: number): readonly (readonly Cell[])[] => [
  ["tab", "side", `reading [${unit}]`],
  ...read.map(({ id, side, mm }): Cell[] => [id, side, Number((mm / scale).toFixed(5))]),
];
/** Numbers down, rows across, a block for each side; the first rows of the plan. */
function matrix(): readonly (readonly Cell[])[] {
  const mm = (row: string, side: string, n: number): Cell =>
    Number((read.find((tab) => tab.id === `${row}${n}` && tab.side === side)?.mm ?? 0).toFixed(1)) || null;
  const rows = ["A", "B", "C", "K"];
  return [
    [null, "Links", null, null, null, "Rechts"],
    ["Nr", ...["A", "B", "C", "Bremse"], ...["A", "B", "C", "Bremse"]],
    ...[1, 2, 3, 4, 5, 6, 7, 8].map((n): Cell[] => [
      n,
      ...rows.map((row) => mm(row, "left", n)),
      ...rows.map((row) => mm(row, "right", n)),
    ]),
  ];
}
const book = workbook(
  { name: "Notes", rows: [["nothing to see"]] },
  { name: "List", rows: list("m", 1000) },
  { name: "Soll", rows: matrix() },
);
const files = {
  "plan.json": plan,
  "book.xlsx": book,
  "matrix.xlsx": workbook({ name: "March", rows: matrix() }),
  "check.json": checkFile(read),
  "list.csv": table(read),
};

const deviationsOf = (out: string): number[] =>
  (JSON.parse(out) as { tabs: { left: { deviationMm: number } }[] }).tabs.map((tab) => tab.left.deviationMm);

// Each builds a model: slow where the machine is busy.
describe("readings from a workbook", { timeout: 60_000 }, () => {
  it("give the comparison that the check file gives, as a list and as a matrix", async () => {
    const expected = await run(["compare", "plan.json", "check.json", "--json"], files);
    for (const name of ["book.xlsx", "matrix.xlsx"]) {
      const { code, out, err } = await run(
        ["compare", "plan.json", name, "--json", "--from", "riser"],
        files,
      );
      expect(code).toBe(0);
      expect(err).toMatch(/readings taken as of 2026-05-01, under 50 N/);
      const [found, wanted] = [deviationsOf(out), deviationsOf(expected.out)];
      expect(found.length).toBe(wanted.length);
      for (const [place, mm] of found.entries()) expect(mm).toBeCloseTo(wanted[place] ?? Number.NaN, 0);
    }
  });

  it("are said to be of which sheet, and --sheet takes another", async () => {
    const chosen = await run(["compare", "plan.json", "book.xlsx"], files);
    expect(chosen.err).toMatch(/Read from sheet "List" of "Notes", "List", "Soll"/);
    const specified = await run(["compare", "plan.json", "book.xlsx", "--sheet", "Soll"], files);
    expect([specified.code, specified.out]).toEqual([1, ""]);
    expect(specified.err.replace(/\s+/gu, " ")).toMatch(
      /sheet Soll .*holds specified lengths; readings were expected/,
    );
    const missing = await run(["compare", "plan.json", "book.xlsx", "--sheet", "May"], files);
    expect(missing.code).toBe(1);
    expect(missing.err).toMatch(/Found no sheet "May"; there are "Notes", "List", "Soll"/);
  });

  it("are taken by the other commands that take readings", async () => {
    const measured = await run(["shape", "plan.json", "--readings", "matrix.xlsx"], files);
    expect(measured.code).toBe(0);
    expect(JSON.parse(measured.out)).toMatchObject({ state: "measured", converged: true });
    const again = await run(
      ["recheck", "plan.json", "check.json", "matrix.xlsx", "--done", "row:C=+15", "--json"],
      files,
    );
    expect(again.err).not.toMatch(/Errors/);
    expect(again.code).toBe(0);
  });
});

describe("linewright columns", () => {
  it("shows how a workbook would be understood, and what would be read", async () => {
    const { code, out } = await run(["columns", "matrix.xlsx", "--plan", "plan.json"], files);
    expect(code).toBe(0);
    expect(out).toMatch(/^Sheets: March\nLooked at: March$/m);
    expect(out).toMatch(/^Each row is a tab number; the columns are rows of the wing\.$/m);
    expect(out).toMatch(/^rows 3 to 10, headings in 2$/m);
    expect(out).toMatch(/^I +readings +brake +right +- +clear +headed "Rechts \/ Bremse"$/m);
    expect(out).toMatch(new RegExp(`^${smallWing.tabs.length} readings would be taken\\.$`, "m"));
    expect(out.replace(/\s+/gu, " ")).toMatch(/not a clearance to fly/);
  });

  it("is 1 where something is open, and --side settles it", async () => {
    const open = { ...files, "one.csv": "Nr;A;B\n1;6800;6820\n2;6800;6820\n" };
    const asked = await run(["columns", "one.csv", "--plan", "plan.json", "--json"], open);
    expect(asked.code).toBe(1);
    expect(JSON.parse(asked.out)).toMatchObject({
      ok: false,
      recognition: { layout: "matrix", sureness: "ask" },
    });
    const told = await run(["columns", "one.csv", "--plan", "plan.json", "--side", "left", "--json"], open);
    expect(JSON.parse(told.out)).toMatchObject({
      recognition: { sections: [{ columns: [{ role: "number" }, { side: "left" }, { side: "left" }] }] },
    });
    expect(
      JSON.parse(told.out)
        .problems.map((each: { message: string }) => each.message)
        .join(),
    ).not.toMatch(/which side/);
  });

  it("without a plan gives the lengths of a maker’s table", async () => {
    const given = {
      "lengths.xlsx": workbook({
        name: "Manual",
        rows: [
          ["", "A [mm]", "Frein [mm]"],
          [1, 7421, 7900],
          [2, 7380, null],
        ],
      }),
    };
    const { code, out } = await run(["columns", "lengths.xlsx", "--json"], given);
    expect(code).toBe(0);
    expect(JSON.parse(out).lengths).toMatchObject([
      { row: "A", number: 1, mm: 7421, where: "sheet Manual, cell B2" },
      { row: "brake", number: 1, mm: 7900 },
      { row: "A", number: 2, mm: 7380 },
    ]);
    const text = await run(["columns", "lengths.xlsx"], given);
    expect(text.out).toMatch(/^brake +1 +both +- +7900\.0 +sheet Manual, cell C2$/m);
  });

  it.each([
    [
      ["columns", "list.csv", "--plan", "plan.json", "--sheet", "x"],
      /--sheet: only a workbook \(XLSX\) has sheets/,
    ],
    [["compare", "plan.json", "list.csv", "--sheet", "x"], /--sheet: only a workbook/],
    [["compare", "plan.json", "list.csv", "--side", "top"], /--side: "top" is none of left, right, both/],
    [["columns", "list.csv", "--unit", "ft"], /--unit: "ft" is none of mm, cm, m, in/],
    [["columns", "list.csv", "--plan", "plan.json", "--unit", "mm"], /--unit goes without --plan/],
    [["columns", "none.xlsx"], /can’t read none\.xlsx: there is no such file/],
  ])("refuses %j", async (argv, message) => {
    const { code, err } = await run(argv, files);
    expect(code).toBe(2);
    expect(err).toMatch(message);
  });

  it("says so where a workbook is broken, or comes from standard input", async () => {
    const broken = { ...files, "broken.xlsx": book.slice(0, 400) };
    const { code, err } = await run(["compare", "plan.json", "broken.xlsx"], broken);
    expect(code).toBe(1);
    expect(err).toMatch(/can’t be read as an XLSX workbook/);
    const piped = await run(["compare", "plan.json", "-"], files, new TextDecoder().decode(book));
    expect(piped.code).toBe(2);
    expect(piped.err).toMatch(/a workbook can’t be read from standard input/);
  });
});
