/** Tables of the small wing of test/readings/wing.ts, as they wait to be confirmed: paths of 6.767 to 6.785 m. */
import { describe, expect, it } from "vitest";
import {
  type Cell,
  type CellTable,
  fileCells,
  parseCheckText,
  pastedCells,
  sheetCells,
  writeCheckJson,
} from "../../../src/readings/index.ts";
import { chosenMeaning, columnChoices, columnValue } from "../../../src/view/model/intake-columns.ts";
import {
  draftOf,
  draftTable,
  looksLikeTable,
  type TableDraft,
  withAnswers,
  withChanges,
  withColumn,
  withName,
  withSheet,
} from "../../../src/view/model/intake-draft.ts";
import { MOST_ROWS } from "../../../src/view/model/intake-files.ts";
import {
  frameAnswered,
  frameShown,
  frameStart,
  withoutSettings,
} from "../../../src/view/model/intake-frame.ts";
import { distance, nearNames } from "../../../src/view/model/intake-near.ts";
import { type Preview, previewOf } from "../../../src/view/model/intake-preview.ts";
import { shownRows } from "../../../src/view/model/intake-rows.ts";
import { FRAME, shortly, testWing } from "../../readings/wing.ts";

const wing = testWing();
const sheet = (rows: readonly (readonly Cell[])[], name = "Readings"): CellTable => sheetCells(name, rows);
const draft = (...tables: readonly CellTable[]): TableDraft => draftOf("hall.xlsx", tables, "before");

function previewed(given: TableDraft): Preview {
  const { found } = draftTable(given, wing);
  if (found === undefined) throw new Error("no sheet is chosen");
  return previewOf(withoutSettings(found.table), wing, FRAME, FRAME, found.recognition);
}

function recognised(given: TableDraft) {
  const { found } = draftTable(given, wing);
  if (found === undefined) throw new Error("no sheet is chosen");
  return found.recognition;
}

const stateAt = (preview: Preview, cell: readonly [number, number]) => preview.cells.get(cell.join(","));

describe("a table with mistakes", () => {
  const rows: readonly (readonly Cell[])[] = [
    ["tab", "left mm", "right mm", "note", "mean"],
    ["A1", 6767, "67l1", "knot", 6768],
    ["A33", 6767, 6768, null, 6767],
    ["A2", 6930, null, null, 6930],
    ["A3", 677, 6770, null, 6770],
  ];
  const preview = previewed(draft(sheet(rows)));

  it("says how many readings would be taken from each side, and how many filled cells wouldn't", () => {
    expect([preview.readings, preview.bySide, preview.notTaken]).toEqual([3, { left: 2, right: 1 }, 4]);
    expect(shortly(preview.check?.readings ?? [])).toEqual(["left A1 6767", "left A2 6930", "right A3 6770"]);
  });

  it("names each mistake by its cell, with where it stands in the table", () => {
    const placed = preview.problems.filter(({ cell }) => cell !== undefined);
    expect(placed.map(({ cell, row, column }) => [cell, row, column])).toEqual([
      ["C2", 1, 2],
      ["A3", 2, 0],
      ["B5", 4, 1],
    ]);
    expect(placed[0]?.problem.message).toContain("67l1");
  });

  it("tells cells that are taken from those that are wrong, left out, or name a row; the unused mean has no state", () => {
    expect(stateAt(preview, [1, 1])).toBe("taken");
    expect(stateAt(preview, [1, 2])).toBe("problem");
    expect(stateAt(preview, [2, 0])).toBe("problem");
    expect(stateAt(preview, [2, 1])).toBe("left out");
    expect(stateAt(preview, [1, 0])).toBe("name");
    expect(stateAt(preview, [1, 4])).toBeUndefined();
    expect(stateAt(preview, [3, 2])).toBeUndefined();
  });

  it("shows readings more than 100 mm from what is specified, which the core takes", () => {
    expect(preview.far.map(({ cell, id, side, offM }) => [cell, id, side, Math.round(offM * 1000)])).toEqual([
      ["B4", "A2", "left", 163],
    ]);
  });

  it("offers names near one that the plan hasn't, and reads the row once one is chosen", () => {
    const unknown = preview.problems.find(({ cell }) => cell === "A3");
    expect(unknown?.near).toEqual(["A3"]);
    const named = previewed(withName(draft(sheet(rows)), 2, 0, "A4"));
    expect(named.problems.some(({ cell }) => cell === "A3")).toBe(false);
    expect([named.readings, named.notTaken]).toEqual([5, 2]);
  });

  it("gives a check whose file gives the same readings again", () => {
    const check = preview.check;
    if (check === undefined) throw new Error("no check");
    const again = parseCheckText(writeCheckJson(check), wing);
    expect(again.ok && shortly(again.value.readings)).toEqual(shortly(check.readings));
    expect(again.problems).toEqual([]);
  });

  it("calls the rows of a file by its lines, comments and empty ones counted", () => {
    const text = ["# date: 2026-03-14", "", "tab;left;right", "A1;6767;x"].join("\n");
    const ofFile = previewed(draft(fileCells(text)));
    expect(ofFile.problems.find(({ row }) => row === 1)?.cell).toBe("C4");
  });
});

describe("a column's meaning said by hand", () => {
  const rows: readonly (readonly Cell[])[] = [
    ["tab", "first", "right mm"],
    ["A1", 6767, 6768],
    ["B1", 6821, 6822],
  ];

  it("makes readings of a column that wasn't used, once its side is said", () => {
    const given = draft(sheet(rows));
    expect(previewed(given).readings).toBe(2);
    const column = recognised(given).sections[0]?.columns[1];
    if (column === undefined) throw new Error("no column");
    const meant = chosenMeaning("readings", column);
    const asked = previewed(withColumn(given, 0, 1, meant));
    expect(asked.questions.map(({ kind }) => kind)).toEqual(["sides"]);
    expect([asked.check, asked.cells.get("1,1")]).toEqual([undefined, "open"]);
    const answered = previewed(withColumn(given, 0, 1, { ...meant, side: "left" }));
    expect(answered.bySide).toEqual({ left: 2, right: 2 });
  });

  it("makes a second column of one side repeats of one reading", () => {
    const twice = withColumn(draft(sheet(rows)), 0, 1, { role: "readings", row: undefined, side: "right" });
    const preview = previewed(twice);
    expect(shortly(preview.check?.readings ?? [])).toEqual(["right A1 6767 6768", "right B1 6821 6822"]);
    expect([preview.readings, preview.values]).toEqual([2, 4]);
  });

  it("leaves a column out that was taken for readings, and asks for one where none is left", () => {
    const none = withColumn(draft(sheet(rows)), 0, 2, { role: "ignored", row: undefined, side: undefined });
    const preview = previewed(none);
    expect(preview.questions.map(({ kind }) => kind)).toEqual(["readings"]);
    expect(preview.check).toBeUndefined();
  });

  it("turns a row per tab into a row per reading where a column says the side", () => {
    const table = sheet([
      ["point", "which", "mm"],
      ["A1", "left", 6767],
      ["A1", "right", 6768],
    ]);
    const bySide = withColumn(
      withColumn(draft(table), 0, 1, { role: "side", row: undefined, side: undefined }),
      0,
      2,
      { role: "readings", row: undefined, side: undefined },
    );
    expect(recognised(bySide).layout).toBe("readings");
    expect(shortly(previewed(bySide).check?.readings ?? [])).toEqual(["left A1 6767", "right A1 6768"]);
  });

  it("reads single lines instead of whole paths", () => {
    const table = sheet([
      ["name", "left mm", "right mm"],
      ["AL1", 4001, 4002],
    ]);
    const lines = withColumn(draft(table), 0, 0, { role: "line", row: undefined, side: undefined });
    expect(previewed(lines).check?.readings.map(({ target }) => target.kind)).toEqual(["line", "line"]);
    const tabs = withColumn(draft(table), 0, 0, { role: "tab", row: undefined, side: undefined });
    expect(previewed(tabs).check).toBeUndefined();
  });

  it("takes a unit stated by hand before the one found, and what doesn't fit it isn't taken", () => {
    const stated = withChanges(draft(sheet(rows)), { unit: "cm" });
    expect(recognised(stated)).toMatchObject({ unit: "cm", unitFrom: "stated" });
    expect(previewed(stated).readings).toBe(0);
    const table = sheet([
      ["tab", "left", "right"],
      ["A1", "676,7", "676,8"],
    ]);
    expect(shortly(previewed(withChanges(draft(table), { unit: "cm" })).check?.readings ?? [])).toEqual([
      "left A1 6767",
      "right A1 6768",
    ]);
  });
});

describe("a matrix of tab numbers and rows", () => {
  const one: readonly (readonly Cell[])[] = [
    ["No", "A", "B"],
    [1, 6767, 6821],
    [2, 6768, 6822],
  ];

  it("of one side asks which, by one answer", () => {
    const asked = previewed(draft(sheet(one)));
    expect(asked.questions).toMatchObject([{ kind: "sides", oneAnswer: true }]);
    const right = previewed(withChanges(draft(sheet(one)), { side: "right" }));
    expect([right.questions, right.bySide]).toEqual([[], { left: 0, right: 4 }]);
  });

  it("with two columns of a row asks for each by itself: one word can't tell which is which", () => {
    const table = sheet([
      ["No", "A", "A"],
      [1, 6767, 6768],
      [2, 6768, 6769],
    ]);
    expect(previewed(draft(table)).questions).toMatchObject([{ kind: "sides", oneAnswer: false }]);
  });

  it("can have a column given to another row", () => {
    const given = withChanges(draft(sheet(one)), { side: "left" });
    const changed = withColumn(given, 0, 2, { role: "readings", row: "A", side: "right" });
    expect(shortly(previewed(changed).check?.readings ?? [])).toEqual([
      "left A1 6767",
      "right A1 6821",
      "left A2 6768",
      "right A2 6822",
    ]);
  });

  it("that says it holds specified lengths is taken only once somebody says they were measured", () => {
    const table = sheet([["Specified lengths, mm"], ...one], "Manual");
    const given = withChanges(draft(table), { side: "both" });
    expect(previewed(given).questions.map(({ kind }) => kind)).toEqual(["holds"]);
    expect(previewed(withChanges(given, { measured: true })).readings).toBe(8);
  });

  it("offers the rows that the wing has, and no others", () => {
    const values = columnChoices("matrix", wing).map(({ value }) => value);
    expect(values).toEqual(["number", "row A", "row B", "row brake", "note", "ignored"]);
    const [number, a] = recognised(draft(sheet(one))).sections[0]?.columns ?? [];
    expect([number, a].map((column) => column && columnValue(column, "matrix"))).toEqual(["number", "row A"]);
  });

  it("may lie on its side: its cells keep their own names", () => {
    const across = sheet([
      ["No", 1, 2, 3, 4],
      ["A", 6767, "x", 6768, 6769],
      ["B", 6821, 6822, 6823, 6824],
    ]);
    const preview = previewed(withChanges(draft(across), { side: "left" }));
    expect(preview.grid.turned).toBe(true);
    expect(preview.problems.map(({ cell }) => cell)).toContain("C2");
    expect(preview.readings).toBe(7);
  });
});

describe("a table in which nothing is recognised", () => {
  const table = sheet([
    ["what", "how long"],
    ["A1", 6767],
    ["nonsense", 6768],
  ]);

  it("can be said by hand, column by column", () => {
    const { found } = draftTable(
      draft(
        sheet([
          ["what", "how long"],
          ["one", "6767"],
        ]),
      ),
      wing,
    );
    expect(found?.recognised).toBe(false);
    let given = draft(table);
    given = withColumn(given, 0, 0, { role: "tab", row: undefined, side: undefined });
    given = withColumn(given, 0, 1, { role: "readings", row: undefined, side: "left" });
    expect(shortly(previewed(given).check?.readings ?? [])).toEqual(["left A1 6767"]);
  });

  it("can be said to be a matrix", () => {
    const given = withChanges(
      draft(
        sheet([
          ["x", "y"],
          [7, 6767],
          [9, 6768],
        ]),
      ),
      { layout: "matrix" },
    );
    const meant = withColumn(
      withColumn(given, 0, 0, { role: "number", row: undefined, side: undefined }),
      0,
      1,
      { role: "readings", row: "A", side: "left" },
    );
    const preview = previewed(meant);
    expect(preview.questions).toEqual([]);
    // The wing's row A has four tabs.
    expect(preview.problems.map(({ cell }) => cell)).toEqual(expect.arrayContaining(["B2", "B3"]));
    expect(preview.readings).toBe(0);
  });
});

describe("a workbook", () => {
  const march = sheet(
    [
      ["tab", "left mm", "right mm"],
      ["A1", 6767, 6768],
      ["A2", 6767, 6768],
    ],
    "March",
  );
  const april = { ...march, source: { kind: "sheet", name: "April" } } as const;

  it("whose sheets can't be told apart has none chosen until it is said", () => {
    const both = draft(march, april);
    const open = draftTable(both, wing);
    expect(open.found).toBeUndefined();
    expect(!open.found && open.problems[0]?.message).toContain("April");
    expect(draftTable(withSheet(both, 1), wing).found?.index).toBe(1);
  });

  it("has what was said of one sheet's columns forgotten for another", () => {
    const said = withColumn(withSheet(draft(march, april), 0), 0, 1, {
      role: "ignored",
      row: undefined,
      side: undefined,
    });
    expect(previewed(said).bySide.left).toBe(0);
    expect(previewed(withSheet(said, 1)).bySide.left).toBe(2);
  });
});

describe("how a table was read", () => {
  const table = sheet([
    ["# date: 2026-04-02"],
    ["# tension: fifty"],
    ["# zero: 2 mm"],
    ["tab", "left mm"],
    ["A1", 6769],
  ]);
  const start = frameStart(table, FRAME);

  it("stands as the table states it, and is wanting where it states it in a way that can't be read", () => {
    expect([...start.stated]).toEqual(["date", "zero"]);
    const shown = frameShown(start, {});
    expect([shown.date, shown.zeroM]).toEqual(["2026-04-02", 0.002]);
    expect(shown.tensionN).toBeNaN();
    expect(start.problems[0]?.message).toContain("fifty");
    expect(frameAnswered(start, {})).toBeUndefined();
    expect(frameAnswered(start, { tensionN: 40 })).toMatchObject({ tensionN: 40, date: "2026-04-02" });
  });

  it("is as answered by hand, also against what the table states", () => {
    const given = withAnswers(draft(table), {
      date: "2026-04-03",
      tensionN: 40,
      zeroM: 0,
      instrument: " laser ",
    });
    const frame = frameAnswered(start, given.answers);
    expect(frame).toMatchObject({ date: "2026-04-03", instrumentZeroM: 0, instrument: "laser" });
    const preview = previewOf(withoutSettings(table), wing, frame, FRAME, recognised(given));
    expect(preview.check).toMatchObject({ date: "2026-04-03", tensionN: 40, instrumentZeroM: 0 });
  });

  it("isn't answered by what no check can have", () => {
    for (const answers of [
      { tensionN: 0 },
      { tensionN: 2000 },
      { tensionN: 40, date: "" },
      { tensionN: 40, date: "2026-13-40" },
      { tensionN: 40, zeroM: Number.NaN },
      { tensionN: 40, zeroM: 3 },
    ])
      expect(frameAnswered(start, answers)).toBeUndefined();
  });
});

describe("names near a wrong one", () => {
  it("are those one sign off, and such as are read for one another first", () => {
    expect(distance("a33", "a3")).toBe(1);
    expect(distance("", "abc")).toBe(3);
    expect(distance("kitten", "sitting")).toBe(3);
    expect(nearNames(wing, "Al", "tab")[0]).toBe("A1");
    expect(nearNames(wing, "a-33", "tab")).toEqual(["A3"]);
    expect(nearNames(wing, "Quiet", "tab")).toEqual([]);
    expect(nearNames(wing, "ALl", "line")[0]).toBe("AL1");
  });
});

describe("the rows shown", () => {
  it("are the first and those in which something is wrong; what lies between is counted", () => {
    const rows = [["tab", "left"], ...Array.from({ length: 40 }, (_, at) => [`A${at}`, 6767])];
    const recognition = recognised(draft(sheet(rows)));
    const shown = shownRows(41, recognition, new Set([30]), false);
    expect(shown.map((each) => (each.kind === "row" ? each.row : each.kind))).toEqual([
      0,
      "heads",
      1,
      2,
      3,
      4,
      5,
      6,
      7,
      "gap",
      30,
      "gap",
    ]);
    expect(shown.flatMap((each) => (each.kind === "gap" ? each.count : []))).toEqual([22, 10]);
    expect(shownRows(41, recognition, new Set(), true).some(({ kind }) => kind === "gap")).toBe(false);
  });
});

describe("a pasted text", () => {
  it("is a table where it has rows of more than one cell", () => {
    expect(looksLikeTable(pastedCells("A1\t6767\nA2\t6768"))).toBe(true);
    expect(looksLikeTable(pastedCells("A1,6767,6768"))).toBe(true);
    expect(looksLikeTable(pastedCells("Have a look at the left side of it"))).toBe(false);
  });
});

describe("a table as large as any that is read", () => {
  it("is previewed in a few seconds at most", () => {
    const rows: (readonly Cell[])[] = [["tab", "left mm", "right mm", "note"]];
    for (let at = 1; at < MOST_ROWS; at++)
      rows.push([`A${1 + (at % 4)}`, 6767, at % 7 === 0 ? "x" : 6768, "n"]);
    const before = performance.now();
    const preview = previewed(draft(sheet(rows)));
    expect(performance.now() - before).toBeLessThan(6000);
    expect(preview.values + preview.notTaken).toBe(2 * (MOST_ROWS - 1));
  });
});
