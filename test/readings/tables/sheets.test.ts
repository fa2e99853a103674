import { describe, expect, it } from "vitest";
import { type Cell, chooseSheet, sheetCells } from "../../../src/readings/index.ts";
import { testWing } from "../wing.ts";

const wing = testWing();
const rows: readonly (readonly Cell[])[] = [
  ["tab", "left mm", "right mm"],
  ["A1", 6767, 6765],
  ["A2", 6768, 6766],
];
const readings = (name: string) => sheetCells(name, rows);
const words = sheetCells("Cover", [["A paraglider, checked in spring"]]);

const chosen = (...args: Parameters<typeof chooseSheet>) => {
  const parsed = chooseSheet(...args);
  return {
    name:
      parsed.ok && parsed.value.table.source.kind === "sheet" ? parsed.value.table.source.name : undefined,
    said: parsed.problems.map((problem) => problem.message).join("\n"),
  };
};

describe("of several sheets", () => {
  it("the one that looks like readings is chosen, and named", () => {
    expect(chosen([words, readings("March")], wing)).toMatchObject({
      name: "March",
      said: expect.stringContaining('Read from sheet "March" of "Cover", "March".'),
    });
  });

  it("one that says that it was measured goes before one of specified lengths, in any order", () => {
    for (const names of [
      ["Soll", "Gemessen"],
      ["Gemessen", "Soll"],
      ["Measured", "x"],
      ["Plan", "y"],
    ])
      expect(chosen(names.map(readings), wing).name).toMatch(/^(Gemessen|Measured|y)$/);
  });

  it("none is chosen where two look alike, unless one is named", () => {
    const both = [readings("March"), readings("April")];
    expect(chosen(both, wing)).toMatchObject({
      name: undefined,
      said: expect.stringContaining("both look like readings"),
    });
    expect(chosen(both, wing, "april").name).toBe("April");
    expect(chosen(both, wing, "May")).toMatchObject({
      name: undefined,
      said: 'Found no sheet "May"; there are "March", "April".',
    });
  });

  it("a workbook without readings says what was found in its sheets", () => {
    expect(chosen([words], wing)).toMatchObject({
      name: undefined,
      said: expect.stringContaining("No sheet looks like"),
    });
  });
});
