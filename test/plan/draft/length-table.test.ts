import { describe, expect, it } from "vitest";
import { draftWithLengths, parseDraft, readLengthTable } from "../../../src/plan/draft/index.ts";

describe("a table of lengths", () => {
  it("may be the usual one: a number and a column a row", () => {
    const { totals, lengths, problems } = readLengthTable(
      "Number;A;B;brake;A lower\n1;7420;7320;6800;4900\n2;7415,5;;-;\n",
    );
    expect(problems).toEqual([]);
    expect(totals).toEqual([
      { row: "A", number: 1, mm: 7420 },
      { row: "B", number: 1, mm: 7320 },
      { row: "brake", number: 1, mm: 6800 },
      { row: "A", number: 2, mm: 7415.5 },
    ]);
    expect(lengths).toEqual([{ row: "A", kind: "lower", number: 1, mm: 4900 }]);
  });

  it("may have one length a line", () => {
    const { totals, lengths, problems } = readLengthTable(
      "row,number,line,mm\nA,1,total,7420\nT,2,upper,360\nB,1,1,4800\n# end\n",
    );
    expect(problems).toEqual([]);
    expect(totals).toEqual([{ row: "A", number: 1, mm: 7420 }]);
    expect(lengths).toEqual([
      { row: "tip", kind: "upper", number: 2, mm: 360 },
      { row: "B", kind: "lower", number: 1, mm: 4800 },
    ]);
    expect(readLengthTable("row\tnumber\tmm\nA\t1\t7420").totals).toHaveLength(1);
  });

  it.each([
    ["", "row 1", /headings of an empty table/],
    ["a;b\n1;2", "row 1", /headings "a" and "b"/],
    ["number;A;Q\n1;7420;1", "row 1, column 3", /heading "Q"/],
    ["number;A\n0;7420", "row 2, column 1", /number "0"/],
    ["number;A\n1;long", "row 2, column 2", /Found "long"/],
    ["row;number;mm\nE;1;7420", "row 2, column 1", /row "E"/],
    ["row;number;line;mm\nA;1;fifth;7420", "row 2, column 3", /Found "fifth"/],
  ])("tells a mistake by its cell: %j", (text, where, message) => {
    const { problems } = readLengthTable(text);
    expect(problems.map((problem) => problem.where)).toContain(where);
    expect(problems.find((problem) => problem.where === where)?.message).toMatch(message);
  });

  it("goes before the draft's own lengths, and is blamed for what doesn't fit", () => {
    const draft = parseDraft("risers: A 480\nA: 2\nhm\ntotals A: 7000 7001");
    const table = readLengthTable("number;A;B\n2;7400;\n3;7500;\n");
    const full = draftWithLengths(draft, table);
    expect(full.tabs.map((tab) => tab.totalMm)).toEqual([7000, 7400]);
    expect(full.problems.map((problem) => problem.where)).toEqual([
      "line 3, character 1",
      "the table of lengths",
    ]);
  });
});
