import { describe, expect, it } from "vitest";
import { type Cell, type CellTable, readLengthTable, sheetCells } from "../../../src/readings/index.ts";

const sheet = (rows: readonly (readonly Cell[])[]): CellTable => sheetCells("Lengths", rows);

function lengths(table: CellTable, options = {}) {
  const parsed = readLengthTable(table, options);
  return {
    lengths: parsed.ok
      ? parsed.value.lengths.map(({ row, number, side, level, mm }) =>
          [row, number, side, level, mm].filter((part) => part !== undefined).join(" "),
        )
      : [],
    ok: parsed.ok,
    problems: parsed.problems,
  };
}

describe("a maker’s table of lengths", () => {
  it("gives row, number and millimetres, with tip and brake, blank cells and a footnote", () => {
    const table = sheet([
      ["Specified lengths [mm]"],
      ["", "A", "B", "C", "D", "Stabilo", "Br"],
      [1, 7421, 7350, 7400, 7520, 6100, 7900],
      [2, 7380, "7310*", null, "-", 6050, null],
      ["* with the extra loop"],
    ]);
    expect(lengths(table)).toMatchObject({ ok: true, problems: [] });
    expect(lengths(table).lengths).toEqual([
      "A 1 7421",
      "B 1 7350",
      "C 1 7400",
      "D 1 7520",
      "tip 1 6100",
      "brake 1 7900",
      "A 2 7380",
      "B 2 7310",
      "tip 2 6050",
    ]);
  });

  it("of single lines says where in the cascade they are", () => {
    const table = sheet([
      ["Nr", "A Stamm", "A Gabel", "A oben"],
      [1, 4.2, 1.91, 0.46],
      [2, "4,15", 1.9, 0.455],
    ]);
    expect(lengths(table).lengths).toEqual([
      "A 1 lower 4200",
      "A 1 middle 1910",
      "A 1 upper 460",
      "A 2 lower 4150",
      "A 2 middle 1900",
      "A 2 upper 455",
    ]);
    expect(lengths(table).problems[0]?.message).toMatch(/without a unit; by their size they were read as m/);
  });

  it("may be a list of names", () => {
    const table = sheet([
      ["Line", "Length (cm)"],
      ["A1", 742.1],
      ["A 2", "738"],
      ["brake 1", 790],
      ["St2", 605],
      ["total", 4000],
      ["B1", "about 7 m"],
    ]);
    const read = lengths(table);
    expect(read.lengths).toEqual(["A 1 7421", "A 2 7380", "brake 1 7900", "tip 2 6050"]);
    expect(read.problems.map((problem) => problem.where)).toEqual([
      "sheet Lengths, cell B6",
      "sheet Lengths, cell B7",
    ]);
  });

  it("whose unit can’t be told isn’t read before it is stated", () => {
    const table = sheet([
      ["", "A", "B"],
      [1, 742, 735],
      [2, 738, 731],
    ]);
    expect(lengths(table)).toMatchObject({ ok: false });
    expect(lengths(table).problems[0]?.remedy).toMatch(/unit/);
    expect(lengths(table, { unit: "cm" }).lengths[0]).toBe("A 1 7420");
    expect(lengths(table, { unit: "mm" }).lengths[0]).toBe("A 1 742");
  });

  it("tells a length in another unit, text, and a number that stands twice", () => {
    const table = sheet([
      ["", "A [mm]", "B [mm]"],
      [1, 7421, 7.35],
      [2, "long", 7300],
      [2, 7380, 7301],
    ]);
    const read = lengths(table);
    expect(read.lengths).toEqual(["A 1 7421", "B 2 7300", "A 2 7380"]);
    expect(read.problems.map((problem) => [problem.where, problem.message])).toEqual([
      ["sheet Lengths, cell B3", 'Found "long"; expected a length.'],
      ["sheet Lengths, cell C2", expect.stringContaining("expected a line’s length")],
      ["sheet Lengths, cell C4", expect.stringContaining("second length of B 2")],
    ]);
  });
});
