import { describe, expect, it } from "vitest";
import { DEMOS } from "../../../src/demo/index.ts";
import { planDiff } from "../../../src/plan/draft/index.ts";
import type { PlanFile, PlanHalf, Wing } from "../../../src/plan/index.ts";
import { wingOf } from "../factory.ts";
import { randomFrom, randomPlan } from "../random.ts";

const plan = DEMOS.school.plan;
const half = (plan.sides as { mirrored: PlanHalf }).mirrored;
const wing = wingOf(plan);
const edited = (change: (lines: PlanHalf["lines"], tabs: PlanHalf["tabs"]) => PlanHalf): Wing =>
  wingOf({ ...plan, sides: { mirrored: change(half.lines, half.tabs) } });
const withLine = (id: string, fields: Partial<PlanHalf["lines"][number]>): Wing =>
  edited((lines, tabs) => ({
    lines: lines.map((line) => (line.id === id ? { ...line, ...fields } : line)),
    // The stated totals would contradict a changed length.
    tabs: tabs.map(({ pathMm: _, ...tab }) => tab),
  }));
const unstated = edited((lines, tabs) => ({ lines, tabs: tabs.map(({ pathMm: _, ...tab }) => tab) }));
const told = (before: Wing, after: Wing): string[] =>
  planDiff(before, after).map((change) => change.sentence);

describe("what changed between two versions of a plan", () => {
  it("is nothing between equal ones", () => {
    expect(planDiff(wing, wingOf(structuredClone(plan)))).toEqual([]);
    const random = randomFrom(5);
    for (let i = 0; i < 20; i++) {
      const some = randomPlan(random);
      expect(planDiff(wingOf(some), wingOf(structuredClone(some)))).toEqual([]);
    }
  });

  it("is one sentence for a line that is longer on both sides, with before, after and difference", () => {
    const mm = half.lines.find((line) => line.id === "AL1")?.lengthMm ?? 0;
    const changes = planDiff(unstated, withLine("AL1", { lengthMm: mm + 12 }));
    expect(changes).toEqual([
      {
        subject: "line",
        id: "AL1",
        side: "both",
        field: "lengthM",
        before: mm / 1000,
        after: (mm + 12) / 1000,
        sentence: `Line AL1: length ${mm} mm → ${mm + 12} mm (+12 mm).`,
      },
    ]);
  });

  it("names the side where only one changed", () => {
    const right = {
      ...half,
      lines: half.lines.map((line) => (line.id === "A1" ? { ...line, colour: "pink" } : line)),
    };
    expect(told(wing, wingOf({ ...plan, sides: { left: half, right } }))).toEqual([
      "Right line A1: colour red → pink.",
    ]);
  });

  it("tells material, loop and lower end", () => {
    expect(told(unstated, withLine("A1", { material: "HMPE 0.9 sheathed" }))).toEqual([
      "Line A1: material aramid 1.1 sheathed → HMPE 0.9 sheathed.",
    ]);
    expect(told(unstated, withLine("CL1", { loop: { name: "one extra turn", takeUpMm: 10 } }))).toEqual([
      "Line CL1: loop take-up 13 mm → 10 mm (−3 mm).",
      "Line CL1: loop girth hitch → one extra turn.",
    ]);
    expect(told(unstated, withLine("AM2", { hangsOn: "AL2" }))).toEqual([
      "Line AM2: lower end line AL1 → line AL2.",
    ]);
  });

  it("tells lines and tabs that came, went or moved", () => {
    const more = edited((lines, tabs) => ({
      lines: [
        ...lines,
        { id: "A14", row: "A", tier: 3, hangsOn: "AM6", lengthMm: 650, material: "aramid 1.1 sheathed" },
      ],
      tabs: [
        ...tabs.map((tab) => (tab.id === "B1" ? { ...tab, rib: 1 } : tab)),
        { id: "A14", row: "A", rib: 27, line: "A14" },
      ],
    }));
    expect(told(wing, more)).toEqual([
      "Line A14 added: row A, on line AM6, 650 mm.",
      "Tab A14 added: row A, rib 27, at the end of line A14.",
      "Tab B1: rib 2 → 1.",
    ]);
    expect(told(more, wing)[0]).toBe("Line A14 removed: row A, on line AM6, 650 mm.");
  });

  it("tells risers, limits, materials, canopy, brakes, settings and reference", () => {
    const other: PlanFile = {
      ...plan,
      wing: { ...plan.wing, allUpWeightKg: { min: 95, max: 140 } },
      canopy: { ...plan.canopy, cells: 54 },
      reference: { ...plan.reference, tensionN: 60 },
      tolerances: { ...plan.tolerances, pathMm: 8 },
      brakes: { pulleyRiser: "D", pulleyHeightMm: 220, freeTravelMm: 60 },
      materials: plan.materials.map((one, i) => (i === 0 ? { ...one, stiffnessEaN: 60_000 } : one)),
      maillons: plan.maillons.map((one, i) => (i === 0 ? { ...one, barDiameterMm: 5 } : one)),
      settings: plan.settings?.slice(0, 1) ?? [],
    };
    expect(told(wing, wingOf(other))).toEqual([
      "Wing: highest all-up weight 135 kg → 140 kg.",
      "Canopy: cells 52 → 54.",
      "Reference: reference tension 50 N → 60 N.",
      "Limits: limit of totals 10 mm → 8 mm (−2 mm).",
      "Material aramid 2.1 sheathed: stiffness 64 kN → 60 kN.",
      "Maillon A: bar 4.5 mm → 5 mm (+0.5 mm).",
      "Brakes: free travel of the brakes 80 mm → 60 mm (−20 mm).",
      "Setting speed removed: Speed system.",
    ]);
  });

  it("backwards is the same with before and after exchanged", () => {
    const random = randomFrom(77);
    for (let i = 0; i < 20; i++) {
      const [a, b] = [wingOf(randomPlan(random)), wingOf(randomPlan(random))];
      const turned = planDiff(b, a).map(({ subject, id, side, before, after }) =>
        JSON.stringify([subject, id, side, after, before]),
      );
      const forth = planDiff(a, b).map(({ subject, id, side, before, after }) =>
        JSON.stringify([subject, id, side, before, after]),
      );
      expect(new Set(forth)).toEqual(new Set(turned));
      expect(forth.length).toBeGreaterThan(0);
    }
  });
});
