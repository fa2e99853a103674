import { describe, expect, test } from "vitest";
import { deviations, lookUpNames, parseCheck, resolveTarget } from "../../src/readings/index.ts";
import { samplePlan, wingOf } from "../plan/factory.ts";

/** The sample wing with totals stated, and no length of its own for line B1. */
function wingWithAssumedLine() {
  const plan = samplePlan();
  const full = wingOf(plan);
  for (const tab of plan.sides.mirrored.tabs) {
    const at = full.tabs.findIndex((each) => each.key === `left:${tab.id}`);
    tab.pathMm = 1000 * (full.paths[at]?.specifiedM as number);
  }
  delete (plan.sides.mirrored.lines.find((line) => line.id === "B1") as { lengthMm?: number }).lengthMm;
  return wingOf(plan);
}

const CHECK = {
  format: "linewright-check",
  version: 1,
  date: "2026-03-14",
  tensionN: 50,
  from: "riser",
  readings: [
    { line: "B1", side: "left", mm: 4540 },
    { line: "C1", side: "left", mm: 4610 },
    { tab: "B1", side: "left", mm: 7345 },
  ],
};

describe("a reading of a line whose length the plan leaves to its totals", () => {
  const wing = wingWithAssumedLine();

  test("is refused with the reason, and the others stay", () => {
    const parsed = parseCheck(CHECK, wing);
    if (!parsed.ok) throw new Error("the check was refused");
    expect(parsed.value.readings.map((reading) => reading.target.id)).toEqual(["C1", "B1"]);
    expect(parsed.value.readings[1]?.target.kind).toBe("tab");
    const problem = parsed.problems.find((each) => each.subject === "B1");
    expect(problem?.message).toContain("the plan gives that line no length");
    expect(problem?.remedy).toContain("read the whole paths");
  });

  test("is refused by its name in a table too, while the tab of that name is taken", () => {
    const lookup = lookUpNames(wing);
    expect(resolveTarget(lookup, "line", "B1", "left").ok).toBe(false);
    expect(resolveTarget(lookup, "name", "B1", "left")).toMatchObject({ ok: true, target: { kind: "tab" } });
  });

  test("has no deviation where an older check still holds it; the totals do", () => {
    const parsed = parseCheck(CHECK, wing);
    if (!parsed.ok) throw new Error("the check was refused");
    const stale = {
      ...parsed.value,
      readings: [
        ...parsed.value.readings,
        { target: { kind: "line", id: "B1", side: "left" } as const, valuesM: [4.54], note: undefined },
      ],
    };
    const found = deviations(wing, stale);
    expect(found.lines.map((line) => line.lineKey)).toEqual(["left:C1"]);
    expect(found.paths.find((path) => path.tabKey === "left:B1")?.deviationM).toBeCloseTo(7.345 - 7.355, 6);
  });
});
