import { afterEach, describe, expect, it } from "vitest";
import { editChanges } from "../../../src/plan/edit-diff.ts";
import { sidesApartOps } from "../../../src/plan/edit-plan.ts";
import { fieldOps, listAt, valueAt, withOps } from "../../../src/plan/edit-steps.ts";
import { parsePlan } from "../../../src/plan/index.ts";
import { changeText } from "../../../src/view/model/edit-changes.ts";
import { blockOf, pasteOps, tableText } from "../../../src/view/model/edit-paste.ts";
import { byCell, cellAt, pathIn, placed } from "../../../src/view/model/edit-problems.ts";
import { gridOf, optionsOf, typedOps } from "../../../src/view/model/edit-tables.ts";
import { readValue, textOf } from "../../../src/view/model/edit-values.ts";
import { catalogueOf, speak } from "../../../src/words/index.ts";
import { sampleBothSides, samplePlan } from "../../plan/factory.ts";

const plan: unknown = samplePlan();
const LINES = ["sides", "mirrored", "lines"];
const grid = () => gridOf(plan, "lines", "mirrored");
const column = (label: string) => grid().columns.findIndex((each) => each.label === label);
const cellOf = (id: string, label: string) => {
  const cell = grid().rows.find(({ name }) => name === id)?.cells[column(label)];
  if (cell === undefined) throw new Error(`no cell ${id} ${label}`);
  return cell;
};
/** The plan after a text was typed into a cell. */
const typed = (id: string, label: string, text: string): unknown =>
  withOps(plan, typedOps(plan, cellOf(id, label), text, false));

afterEach(() => speak());

describe("what is typed as a length", () => {
  it("may have a decimal comma or a point, and its unit", () => {
    for (const text of ["4612,5", "4612.5", "4612,5 mm", " 461,25 cm "])
      expect(readValue(text, "length")).toBe(4612.5);
  });

  it("is in inches where that is the unit, and in the file in millimetres", () => {
    speak({ unit: "in" });
    expect(readValue("10", "length")).toBe(254);
    expect(textOf(254, "length")).toBe("10");
    expect(textOf(4612.5, "length")).toBe("181.594");
    expect(readValue("254 mm", "length")).toBe(254);
  });

  it("has the decimal mark of the language where digits alone don’t tell", async () => {
    expect(readValue("4.612", "length")).toBe(4.612);
    speak({ language: "de", locale: "de-DE", catalogue: await catalogueOf("de") });
    expect(readValue("4.612", "length")).toBe(4612);
    expect(textOf(4612.5, "length")).toBe("4612,5");
  });

  it("stays as it was typed where it is none, so that nothing is lost", () => {
    const now = typed("A1", "Length", "46oo");
    expect(valueAt(now, [...LINES, 0, "lengthMm"])).toBe("46oo");
    expect(gridOf(now, "lines", "mirrored").rows[0]?.cells[column("Length")]?.text).toBe("46oo");
    expect(parsePlan(now).ok).toBe(false);
  });

  it("is none of the other numbers with a unit behind it", () => {
    expect(readValue("3", "number")).toBe(3);
    expect(readValue("3 mm", "number")).toBe("3 mm");
  });
});

describe("a table", () => {
  it("shows every line with what it hangs on and carries", () => {
    expect(grid().rows).toHaveLength(listAt(plan, LINES).length);
    expect(cellOf("A1", "Carries").text).toBe("A1.1, A1.2");
    expect(cellOf("A1.1.1", "Carries").text).toBe("tab A1");
    expect(cellOf("A1.1", "Hangs on").text).toBe("A1");
  });

  it("shows beside a tab’s stated total what its lines make", () => {
    const tabs = gridOf(plan, "tabs", "mirrored");
    const total = tabs.columns.findIndex(({ label }) => label === "Lines’ sum");
    expect(tabs.rows[0]?.cells[total]?.text).toBe(String(470 + 4600 + 1885 + 450 - 13));
  });

  it("says fixed words in the language, and takes them in it or as the file has them", async () => {
    speak({ language: "de", locale: "de-DE", catalogue: await catalogueOf("de") });
    const row = gridOf(plan, "lines", "mirrored").rows.find(({ name }) => name === "K1");
    const [, kind, on] = row?.cells ?? [];
    expect(kind?.text).toBe("Bremse");
    expect(on?.text).toBe("Umlenkrolle");
    expect(kind === undefined ? undefined : typedOps(plan, kind, "brake", false)).toEqual([]);
    expect(optionsOf(plan, "rows", "mirrored", kind?.vocabulary)).toContain("Stabilo");
  });

  it("gives a line hung elsewhere its tier, and a renamed one its references", () => {
    const hung = typed("A1.1", "Hangs on", "A");
    expect(listAt(hung, LINES).find(({ id }) => id === "A1.1.1")?.tier).toBe(2);
    expect(parsePlan(typed("A1.1", "Line", "Q")).ok).toBe(true);
  });

  it("changes the other side’s line of the same name too where that is asked for", () => {
    const both: unknown = sampleBothSides();
    const cell = gridOf(both, "lines", "left").rows[0]?.cells[column("Length")];
    if (cell === undefined) throw new Error("no cell");
    const lengths = (withTwin: boolean) => {
      const now = withOps(both, typedOps(both, cell, "4700", withTwin));
      return ["left", "right"].map((half) => valueAt(now, ["sides", half, "lines", 0, "lengthMm"]));
    };
    expect(lengths(true)).toEqual([4700, 4700]);
    expect(lengths(false)).toEqual([4700, 4600]);
  });
});

describe("a problem", () => {
  it("is shown at its cell, for every field that a plan’s problems name", () => {
    const cases: readonly (readonly [string, string | undefined])[] = [
      ["sides.mirrored.lines[3].hangsOn", "sides.mirrored.lines[3].hangsOn"],
      ["sides.left.lines[3].loop.takeUpMm (line 12)", "sides.left.lines[3].loop.takeUpMm"],
      ["sides.left.lines[3].loop", "sides.left.lines[3].loop.name"],
      ["sides.mirrored.lines[3]", "sides.mirrored.lines[3].id"],
      ["sides.right.tabs[2].pathMm", "sides.right.tabs[2].pathMm"],
      ["materials[1].diameterMm", "materials[1].diameterMm"],
      ["maillons[0].riser", "maillons[0].riser"],
      ["reference.from", "reference.from"],
      ["canopy.rowChordFractions.B", "canopy.rowChordFractions.B"],
      ["wing", "wing.name"],
      ["format", undefined],
    ];
    for (const [where, at] of cases) expect([where, cellAt(pathIn(where))?.at]).toEqual([where, at]);
  });

  it("goes with what was typed: a line that hangs on nothing", () => {
    const now = typed("A1.1", "Hangs on", "A9");
    const marks = byCell(placed(parsePlan(now).problems));
    expect(marks.get(cellOf("A1.1", "Hangs on").at)?.[0]?.severity).toBe("error");
  });
});

describe("a block from a spreadsheet", () => {
  it("fills cells downwards and to the right, quoted ones included", () => {
    expect(blockOf('1\t"a\tb"\r\n2\t"c ""d"""\r\n')).toEqual([
      ["1", "a\tb"],
      ["2", 'c "d"'],
    ]);
    const from = { row: 0, col: column("Length") };
    const pasted = pasteOps(plan, grid(), blockOf("4601,5\tbare 0.7\n1886\tbare 0.7"), from, false);
    const lines = listAt(withOps(plan, pasted.ops), LINES);
    expect(lines.slice(0, 2).map(({ lengthMm, material }) => [lengthMm, material])).toEqual([
      [4601.5, "bare 0.7"],
      [1886, "bare 0.7"],
    ]);
    expect(pasted).toMatchObject({ filled: 4, left: 0 });
  });

  it("says what found no place: beyond the last row, and in cells that follow from others", () => {
    const last = grid().rows.length - 1;
    const beyond = pasteOps(
      plan,
      grid(),
      blockOf("400\n401\n402"),
      { row: last, col: column("Length") },
      false,
    );
    expect(beyond).toMatchObject({ filled: 1, left: 2 });
    const derived = pasteOps(plan, grid(), blockOf("3"), { row: 0, col: column("Tier") }, false);
    expect(derived).toEqual({ ops: [], filled: 0, left: 1 });
  });

  it("is made of a table too, and changes nothing when it is pasted over it", () => {
    const body = blockOf(tableText(grid())).slice(1);
    expect(body).toHaveLength(grid().rows.length);
    expect(pasteOps(plan, grid(), body, { row: 0, col: 0 }, false).ops).toEqual([]);
  });
});

describe("a change in words", () => {
  it("says whose, which field, what was and is, and by how much a length grew", () => {
    const ops = typedOps(plan, cellOf("A1", "Length"), "4612,5", false);
    const [change] = editChanges(plan, withOps(plan, ops), ops);
    expect(change === undefined ? undefined : changeText(change)).toEqual({
      who: "Line A1",
      what: "Length",
      was: "4600",
      is: "4612.5",
      by: "+12.5 mm",
    });
  });

  it("names the side where the sides are spelled out, and a loop that came new", () => {
    const apart = sidesApartOps(plan);
    const now = withOps(plan, apart);
    const ops = [...apart, ...fieldOps(now, ["sides", "right", "lines", 1, "loop", "name"], "girth hitch")];
    const told = editChanges(plan, withOps(plan, ops), ops).map(changeText);
    expect(told[1]).toMatchObject({ who: "Right line A1.1", what: "Loop", was: "none", is: "girth hitch" });
  });
});
