import { describe, expect, it } from "vitest";
import { parsePlan, planFile } from "../../src/plan/index.ts";
import { samplePlan } from "./factory.ts";

const SPEED = {
  id: "speed",
  name: "Speed system",
  kind: "speed" as const,
  strapChangesMm: { A: -130, B: -80 },
};

describe("trimmers and speed system in a plan", () => {
  it("are strap changes in metres, shorter negative", () => {
    const parsed = parsePlan({ ...samplePlan(), settings: [SPEED] });
    expect(parsed.ok && parsed.value.settings).toEqual([
      { id: "speed", name: "Speed system", kind: "speed", strapChangesM: { A: -0.13, B: -0.08 } },
    ]);
  });

  it("come back as they were when the plan is written", () => {
    const parsed = parsePlan({ ...samplePlan(), settings: [SPEED] });
    expect(parsed.ok && planFile(parsed.value).settings).toEqual([SPEED]);
  });

  it.each([
    ["an unknown riser", { ...SPEED, strapChangesMm: { X: 10 } }, 'riser "X"'],
    ["a strap that would vanish", { ...SPEED, strapChangesMm: { A: -400 } }, undefined],
  ])("names %s", (what, setting, text) => {
    const plan = samplePlan();
    const risers = plan.risers.map((riser) => ({
      ...riser,
      lengthMm: what.startsWith("a strap") ? 390 : riser.lengthMm,
    }));
    const parsed = parsePlan({ ...plan, risers, settings: [setting] });
    const found = parsed.problems.find((problem) => problem.where.includes("settings[0]"));
    expect(found?.severity).toBe("error");
    expect(found?.subject).toBe("speed");
    if (text !== undefined) expect(found?.message).toContain(text);
  });

  it("refuses a setting that is there twice", () => {
    const parsed = parsePlan({ ...samplePlan(), settings: [SPEED, SPEED] });
    expect(parsed.ok).toBe(false);
    expect(parsed.problems.some((problem) => problem.message.includes("twice"))).toBe(true);
  });
});
