import { describe, expect, it } from "vitest";
import { run } from "./io.ts";
import { smallPlan } from "./wing.ts";

const good = JSON.stringify(smallPlan, null, 1);
const bad = good.replace('"row": "A"', '"row": "Q"').replace('"tensionN": 50', '"tensionN": "fifty"');

describe("linewright validate", () => {
  it("says that a sound plan is readable, and no more than that", async () => {
    const { code, out, err } = await run(["validate", "wing.json"], { "wing.json": good });
    expect([code, err]).toEqual([0, ""]);
    expect(out).toMatch(/^Morning Bench 26: readable\. \d+ lines, \d+ tabs, rows A, B, C, brake/);
    expect(out.replace(/\s+/g, " ")).toMatch(/not a clearance to fly/);
  });

  it("reads the plan from standard input, byte order mark or not", async () => {
    expect((await run(["validate", "-"], {}, `\uFEFF${good}`)).code).toBe(0);
  });

  it("lists every error with its place, and exits 1", async () => {
    const { code, out } = await run(["validate", "wing.json"], { "wing.json": bad });
    expect(code).toBe(1);
    expect(out).toMatch(/^Errors \(2\)/);
    expect(out).toMatch(/sides\.mirrored\.lines\[\d+\]\.row \(line \d+\)/);
    expect(out).toMatch(/reference\.tensionN \(line \d+\)/);
    expect(out).toMatch(/can’t be used/);
  });

  it("tells the same as JSON", async () => {
    const { code, out } = await run(["validate", "wing.json", "--json"], { "wing.json": bad });
    expect(code).toBe(1);
    const told = JSON.parse(out) as {
      ok: boolean;
      problems: { severity: string; where: string }[];
      caution: string;
    };
    expect(told.ok).toBe(false);
    expect(told.problems.map((problem) => problem.severity)).toEqual(["error", "error"]);
    expect(told.caution).toMatch(/not a clearance to fly/);
    const fine = JSON.parse(
      (await run(["validate", "wing.json", "--json"], { "wing.json": good })).out,
    ) as object;
    expect(fine).toMatchObject({ ok: true, wing: { name: "Morning Bench", size: "26" } });
  });

  it("takes something that isn't JSON for what it is", async () => {
    const { code, out } = await run(["validate", "wing.json"], { "wing.json": "tab;left;right" });
    expect(code).toBe(1);
    expect(out).toMatch(/isn’t JSON/);
  });
});
