import { describe, expect, it } from "vitest";
import { run } from "./io.ts";
import { smallPlan, smallWing } from "./wing.ts";

const files = { "plan.json": JSON.stringify(smallPlan) };
const order = (...options: string[]) => run(["order", "plan.json", ...options], files);
const asJson = async (...options: string[]) => {
  const { code, out } = await order("--json", ...options);
  expect(code).toBe(0);
  return JSON.parse(out);
};

describe("linewright order", () => {
  it("orders a line with its twin, as one item of two", async () => {
    const list = await asJson("--line", "left:B1");
    expect(list).toMatchObject({ format: "linewright-order", ok: true, quantity: 2, warnings: [] });
    expect(list.items).toHaveLength(1);
    const line = smallWing.lines.find(({ key }) => key === "left:B1");
    expect(list.items[0]).toMatchObject({ line: "B1", lines: ["left:B1", "right:B1"], pieces: 2, row: "B" });
    expect(list.items[0].lengthMm).toBeCloseTo(1000 * (line?.lengthM as number), 2);
    expect(list.caution).toMatch(/not a clearance to fly/);
    expect((await asJson("--line", "B1")).items).toEqual(list.items);
  });

  it("orders a line alone where that is asked for, and warns of it", async () => {
    const list = await asJson("--line", "left:B1", "--single");
    expect(list.quantity).toBe(1);
    expect(list.warnings.join(" ")).toContain("B1 left");
    expect((await asJson("--line", "B1", "--single")).warnings).toEqual([]);
  });

  it("writes a letter and a table with the same lines", async () => {
    const text = await order("--line", "A1", "--line", "B1");
    expect([text.code, text.err]).toEqual([0, ""]);
    expect(text.out).toMatch(/^A1 +left \+ right +2 /m);
    expect(text.out).toMatch(/not a clearance to fly/);
    const csv = await order("--line", "A1", "--line", "B1", "--csv");
    const rows = csv.out.split("\r\n").filter((row) => row !== "" && !/^"?#/.test(row));
    expect(rows.map((row) => row.split(",")[0])).toEqual(["line", "A1", "B1"]);
  });

  it("finds lines by what a person calls out", async () => {
    const { lines } = await asJson("--find", "row C left lower");
    expect(lines.map((each: { line: string }) => each.line)).toEqual(
      smallWing.lines
        .filter(({ row, side, tier }) => row === "C" && side === "left" && tier === 1)
        .map(({ key }) => key),
    );
    const under = await asJson("--find", "tab A1");
    for (const { tabs } of under.lines) expect(tabs.join(" ")).toMatch(/:A1\b/);
    expect((await order("--find", "lower A")).out).toMatch(/^left:A1 .*maillon A/m);
    expect(await order("--find", "no such thing")).toMatchObject({ code: 0, out: "No line answers that.\n" });
  });

  it("refuses a plan with errors, as text and as JSON", async () => {
    expect(await run(["order", "p", "--line", "A1"], { p: "{}" })).toMatchObject({ code: 1, out: "" });
    const json = await run(["order", "p", "--line", "A1", "--json"], { p: "{}" });
    expect(JSON.parse(json.out)).toMatchObject({ ok: false, input: "plan" });
  });

  it.each([
    [[], /give at least one --line, or --find/],
    [["--line", "A1", "--find", "A1"], /--find and --line exclude each other/],
    [["--find", "A1", "--csv"], /--find and --csv exclude each other/],
    [["--find", "A1", "--single"], /--find and --single exclude/],
    [["--line", "A1", "--csv", "--json"], /--csv and --json exclude/],
    [["--line", "Z9"], /--line: the plan has no line "Z9"/],
    [["--line", "a1"], /did you mean A1\?/],
  ])("calls %j wrong usage", async (options, message) => {
    const { code, out, err } = await order(...options);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toMatch(message);
  });
});
