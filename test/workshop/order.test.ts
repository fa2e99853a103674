import Papa from "papaparse";
import { describe, expect, it } from "vitest";
import { DEMOS } from "../../src/demo/index.ts";
import type { Wing } from "../../src/plan/index.ts";
import { orderList } from "../../src/workshop/order.ts";
import { orderCsv, orderText } from "../../src/workshop/order-text.ts";
import { wingOf } from "../plan/factory.ts";

const school = wingOf(DEMOS.school.plan);
const changed = (key: string, change: Partial<Wing["lines"][number]>): Wing => ({
  ...school,
  lines: school.lines.map((line) => (line.key === key ? { ...line, ...change } : line)),
});

describe("the order list", () => {
  it("orders both of a pair, though one is damaged (common practice, no source)", () => {
    const { items, quantity, warnings } = orderList(school, ["left:CL2"]);
    expect(quantity).toBe(2);
    expect(items).toHaveLength(1);
    expect(items[0]).toMatchObject({
      name: "CL2",
      sides: ["left", "right"],
      quantity: 2,
      row: "C",
      tier: "lower",
      materialId: "HMPE 1.7 sheathed",
      fibre: "HMPE",
      diameterM: 0.0017,
      lengthBasis: "specified",
      lowerEnd: "eye on the bar of maillon C, 4.5 mm thick",
      colour: "green",
    });
    expect(items[0]?.lengthM).toBeCloseTo(4.773, 9);
    expect(items[0]?.upperEnd).toMatch(/^eye, joins CM\d and CM\d$/);
    expect(items[0]?.loop).toMatch(/^girth hitch, takes up \d+ mm$/);
    expect(warnings).toEqual([]);
  });

  it("warns where one of a pair is wanted alone", () => {
    const list = orderList(school, ["right:A5"], { alone: new Set(["right:A5"]) });
    expect(list.quantity).toBe(1);
    expect(list.warnings[0]).toMatch(/Only A5 right is ordered/);
    expect(list.items[0]).toMatchObject({
      lowerEnd: "eye on line AM3",
      upperEnd: "eye, joins tab A5",
      loop: undefined,
    });
  });

  it("makes two items of a pair whose sides differ, and says so", () => {
    const list = orderList(changed("right:AL1", { lengthM: 4.89 }), ["left:AL1"]);
    expect(list.items.map(({ sides, lengthM }) => [sides, lengthM])).toEqual([
      [["left"], 4.895],
      [["right"], 4.89],
    ]);
    expect(list.warnings[0]).toMatch(/left 4895\.0 mm, right 4890\.0 mm/);
  });

  it("marks a length that the plan only assumes, and one that was copied", () => {
    const assumed = orderList(changed("left:A1", { lengthAssumed: true }), ["left:A1"], {
      alone: new Set(["left:A1"]),
    });
    expect(assumed.items[0]?.lengthBasis).toBe("assumed");
    expect(assumed.notes.join(" ")).toMatch(/no length of its own for A1/);
    const copied = orderList(school, ["left:A1"], {
      lengths: new Map([
        ["left:A1", { lengthM: 0.89, basis: "old line", tensionN: 20 }],
        ["right:A1", { lengthM: 0.89, basis: "old line", tensionN: 20 }],
      ]),
    });
    expect(copied.items).toHaveLength(1);
    expect(copied.items[0]).toMatchObject({
      lengthM: 0.89,
      lengthBasis: "old line",
      quantity: 2,
      tensionN: 20,
    });
    expect(copied.notes).toContain("The length of A1 holds under 20 N.");
  });

  it("carries no clearance to fly", () => {
    expect(orderList(school, ["left:A1"]).cautions.join(" ")).toMatch(/not a clearance to fly/);
  });

  it("refuses what isn't there", () => {
    expect(() => orderList(school, ["left:Z"])).toThrow(RangeError);
    expect(() =>
      orderList(school, ["left:A1"], { lengths: new Map([["left:A1", { lengthM: 0, basis: "old line" }]]) }),
    ).toThrow(RangeError);
  });
});

describe("the order list as text", () => {
  const text = orderText(orderList(school, ["left:AL1", "left:A12", "right:TL1"]));
  const lines = text.split("\n");

  it("has aligned columns", () => {
    const head = lines.findIndex((line) => line.startsWith("line"));
    const at = (lines[head] as string).indexOf("length is");
    const rows = lines.slice(head + 1, head + 4);
    expect(rows).toHaveLength(3);
    for (const row of rows) expect(row.slice(at - 2)).toMatch(/^ {2}as specified/);
    expect(rows[0]).toMatch(/^AL1 +left \+ right +2 +4895 /);
  });

  it("carries the wing, the tension and the cautions", () => {
    expect(lines[0]).toBe("Lines for Tidewrack 28, size 28");
    expect(text).toMatch(/under 50 N/);
    expect(text).toMatch(/riser’s base/);
    expect(text).toMatch(/not a clearance to fly/);
  });
});

describe("the order list as CSV", () => {
  it("is read back by any RFC 4180 reader, items as rows", () => {
    const csv = orderCsv(orderList(school, ["left:AL1", "left:A5"]));
    expect(csv.split("\r\n").length).toBeGreaterThan(3);
    // Notes stand before the table, a cell each.
    const rows = Papa.parse<string[]>(csv, { skipEmptyLines: true }).data;
    const table = rows.filter((row) => row.length > 1);
    expect(rows.filter((row) => row.length === 1).every(([note]) => note?.startsWith("# "))).toBe(true);
    expect(rows[0]).toEqual(["# lines for: Tidewrack 28"]);
    const column = (name: string): number => table[0]?.indexOf(name) as number;
    const data = table
      .slice(1)
      .map((row) => ["line", "pieces", "length mm"].map((name) => row[column(name)]));
    expect(data).toEqual([
      ["AL1", "2", "4895"],
      ["A5", "2", "1044"],
    ]);
  });

  it("never lets a name run as a formula", () => {
    const list = orderList(changed("left:A5", { id: "=1+1", colour: '@x"y' }), ["left:A5"], {
      alone: new Set(["left:A5"]),
    });
    const rows = Papa.parse<string[]>(orderCsv(list)).data;
    const cells = rows.flat();
    expect(cells).toContain("'=1+1");
    expect(cells).toContain(`'@x"y`);
    expect(cells.some((cell) => /^[=+@-]/u.test(cell))).toBe(false);
  });

  it("writes decimal commas with semicolons", () => {
    const csv = orderCsv(orderList(changed("left:A5", { lengthM: 1.0445 }), ["left:A5"]), {
      delimiter: ";",
      decimalMark: ",",
    });
    expect(csv).toMatch(/;1044,5;/);
    expect(() => orderCsv(orderList(school, ["left:A5"]), { delimiter: ",", decimalMark: "," })).toThrow();
  });
});
