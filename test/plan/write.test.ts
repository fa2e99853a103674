import { describe, expect, test } from "vitest";
import { planFile, planFileSchema, type Wing } from "../../src/plan/index.ts";
import { line } from "./broken.ts";
import { sampleBothSides, samplePlan, wingOf } from "./factory.ts";
import { randomFrom, randomPlan } from "./random.ts";

/** Through the file and back, as text. */
const again = (wing: Wing): Wing => wingOf(JSON.parse(JSON.stringify(planFile(wing))));

describe("a wing written as a plan and read again", { timeout: 60_000 }, () => {
  test("is the same wing", () => {
    for (const plan of [
      samplePlan(),
      samplePlan({ from: "maillon", rows: ["A", "B"], brakes: false, tip: false }),
      sampleBothSides(),
    ]) {
      const wing = wingOf(plan);
      expect(again(wing)).toEqual(wing);
    }
  });

  test("keeps everything that a plan can say", () => {
    const plan = samplePlan();
    plan.wing.note = "serviced in spring";
    plan.wing.kind = "paramotor";
    plan.reference = { from: "maillon", tensionN: 49.05, trimmerMm: -12.5, note: "from the data sheet" };
    plan.tolerances = { pathMm: 8, minBrakeFreeTravelMm: 55, source: "manual" };
    plan.sides.mirrored.tabs[0] = {
      ...plan.sides.mirrored.tabs[0],
      pathMm: 6922.4,
      chordFraction: 0.101,
    } as (typeof plan.sides.mirrored.tabs)[0];
    const wing = wingOf(plan);
    expect(again(wing)).toEqual(wing);
    expect(planFile(wing).reference).toEqual(plan.reference);
    expect(planFile(wing).tolerances).toEqual({
      pathMm: 8,
      leftRightMm: 5,
      rowToRowMm: 10,
      minBrakeFreeTravelMm: 55,
      source: "manual",
    });
  });

  test("is the same wing for any plan, and writing it again changes nothing", () => {
    const random = randomFrom(3);
    for (let round = 0; round < 60; round++) {
      const wing = wingOf(randomPlan(random));
      const file = planFile(wing);
      expect(planFileSchema.safeParse(file).success).toBe(true);
      expect(again(wing)).toEqual(wing);
      expect(planFile(again(wing))).toEqual(file);
    }
  });

  test("keeps a length that isn't round in millimetres", () => {
    const wing = wingOf(samplePlan());
    const odd = {
      ...wing,
      lines: wing.lines.map((one) => (one.key === "left:B1" ? { ...one, lengthM: 4 + Math.PI / 7 } : one)),
    };
    const back = again(odd).lines.find((one) => one.key === "left:B1");
    expect(back?.lengthM).toBeCloseTo(4 + Math.PI / 7, 14);
  });
});

describe("the written plan", () => {
  test("gives the half once where both sides are equal", () => {
    const file = planFile(wingOf(sampleBothSides()));
    expect(Object.keys(file.sides)).toEqual(["mirrored"]);
    expect(file).toEqual(planFile(wingOf(samplePlan())));
  });

  test("gives both sides where one line differs", () => {
    const plan = sampleBothSides();
    line(plan.sides.right, "C1").lengthMm -= 0.25;
    const file = planFile(wingOf(plan));
    expect(Object.keys(file.sides)).toEqual(["left", "right"]);
  });

  test("has round figures where the plan had them, and no defaults", () => {
    const file = planFile(wingOf(samplePlan()));
    const text = JSON.stringify(file);
    expect(text).not.toMatch(/\d\.\d{6}/);
    expect(file).not.toHaveProperty("tolerances");
    expect(text).not.toContain("carries");
    // An assumed stiffness isn't written as if it had been stated.
    expect(file.materials[2]).toEqual({ id: "bare 0.7", fibre: "HMPE", diameterMm: 0.7 });
  });

  test("differs from the sample in nothing but what was derived from the breaking force", () => {
    const sample = samplePlan();
    const file = planFile(wingOf(sample));
    expect({ ...file, materials: [] }).toEqual({ ...sample, materials: [] });
    expect(file.materials[1]).toEqual({ ...sample.materials[1], stiffnessEaN: 25_000 });
  });
});
