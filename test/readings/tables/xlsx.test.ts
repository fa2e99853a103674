import { describe, expect, it } from "vitest";
import { readXlsx } from "../../../src/readings/tables/xlsx.ts";
import { workbook } from "./workbook.ts";

async function sheets(bytes: Uint8Array) {
  const parsed = await readXlsx(bytes);
  if (!parsed.ok) throw new Error(parsed.problems[0]?.message);
  return parsed.value;
}

describe("a workbook", () => {
  it("gives its sheets in order, each cell as what it is, from cell A1", async () => {
    const day = new Date(Date.UTC(2026, 2, 14));
    const rows = [[], [null, "tab", "left"], [null, "A1", 7421.5], [null, true, day], [null, "=1+1", " x "]];
    const read = await sheets(workbook({ name: "One & two", rows }, { name: "Second", rows: [["a"]] }));
    expect(read.map((sheet) => sheet.source)).toEqual([
      { kind: "sheet", name: "One & two" },
      { kind: "sheet", name: "Second" },
    ]);
    expect(read[0]?.rows).toEqual([
      [null, null, null],
      [null, "tab", "left"],
      [null, "A1", 7421.5],
      [null, true, day],
      [null, "=1+1", " x "],
    ]);
  });

  it.each([
    ["no archive", new TextEncoder().encode("tab;left\nA1;7421")],
    ["an archive cut short", workbook({ name: "x", rows: [["a"]] }).slice(0, 300)],
    ["nothing", new Uint8Array()],
  ])("that is %s is a problem with a remedy", async (_, bytes) => {
    const parsed = await readXlsx(bytes);
    expect(parsed.ok).toBe(false);
    expect(parsed.problems[0]?.message).toMatch(/can’t be read as an XLSX workbook/);
    expect(parsed.problems[0]?.remedy).toMatch(/CSV/);
  });
});
