import { describe, expect, it } from "vitest";
import { DEMOS } from "../../src/demo/index.ts";
import { buildWingModel } from "../../src/geometry/build.ts";
import { AT_TRIM, type Condition, strapChanges, underCondition } from "../../src/geometry/condition.ts";
import type { Equilibrium } from "../../src/geometry/model.ts";
import { profileChange } from "../../src/geometry/profile.ts";
import { solveWing, wingStructure } from "../../src/geometry/solve.ts";
import { parsePlan } from "../../src/plan/index.ts";
import { asymmetry, degrees, movedOutwards } from "./states.ts";

const parsed = parsePlan(DEMOS.school.plan);
if (!parsed.ok) throw new Error("the demo's plan has errors");
const wing = parsed.value;
const model = buildWingModel(wing);
const structure = wingStructure(model);
const solved = (condition: Partial<Condition>): Equilibrium =>
  solveWing(model, new Map(), model.specified, structure, { ...AT_TRIM, ...condition });
const incidence = (state: Equilibrium): number[] =>
  profileChange(model, model.specified, state).map((rib) => degrees(rib.incidenceRad));
const middle = (values: readonly number[]): number => values[values.length >> 1] as number;
const trailingEdge = (state: Equilibrium, side: "left" | "right"): number => {
  const moves = model.ribs.flatMap((rib) =>
    rib.nodes.flatMap(({ node, row, tabKey }) =>
      rib.side === side && row === "brake" && tabKey !== undefined
        ? [movedOutwards(rib, node, model.specified.positions, state.positions)]
        : [],
    ),
  );
  return moves.reduce((sum, move) => sum + move, 0) / moves.length;
};

describe("settings of the risers", () => {
  it("add up their straps' changes in proportion to their travel, and no more than all of it", () => {
    const both = strapChanges(wing.settings, { trimmers: 0.5, speed: 2 });
    expect(both.get("A")).toBeCloseTo(-0.13, 12);
    expect(both.get("C")).toBeCloseTo(0.5 * 0.036 - 0.04, 12);
    expect(both.get("D")).toBeCloseTo(0.03, 12);
    expect(strapChanges(wing.settings, {}).size).toBe(0);
  });

  // Common practice, no source: open trimmers and speed system lower the incidence and make the wing faster.
  it("open trimmers and the speed system turn the profile nose-down, left and right alike", () => {
    for (const shares of [{ trimmers: 1 }, { speed: 1 }]) {
      const state = solved({ strapChangesM: strapChanges(wing.settings, shares) });
      expect(state.converged).toBe(true);
      expect(middle(incidence(state))).toBeLessThan(-1);
      expect(asymmetry(model, state.positions)).toBeLessThan(2e-3);
    }
  });

  it("turn it about as the straps' difference over the rows' distance says", () => {
    const state = solved({ strapChangesM: strapChanges(wing.settings, { speed: 1 }) });
    const rib = model.ribs[model.ribs.length >> 1];
    const row = (name: string) => rib?.nodes.find((node) => node.row === name)?.chordFraction ?? Number.NaN;
    // Common practice: Δα ≈ atan((e_front − e_rear)/distance between the rows), here A −130 mm, D as it is.
    const expected = -degrees(Math.atan(0.13 / ((row("D") - row("A")) * (rib?.chordM ?? Number.NaN))));
    expect(middle(incidence(state)) / expected).toBeGreaterThan(0.75);
    expect(middle(incidence(state)) / expected).toBeLessThan(1.25);
  });
});

describe("brakes and weight", () => {
  it("let the trailing edge be until the free travel is used up, and then pull it down on their side", () => {
    const free = wing.brakes?.freeTravelM as number;
    const slack = solved({ brakePullM: { left: 0.5 * free, right: 0 } });
    expect(Math.abs(trailingEdge(slack, "left"))).toBeLessThan(0.002);
    const pulled = solved({ brakePullM: { left: free + 0.1, right: 0 } });
    expect(trailingEdge(pulled, "left")).toBeLessThan(-0.03);
    expect(Math.abs(trailingEdge(pulled, "right"))).toBeLessThan(0.005);
  });

  it("scale every tension with the weight, while the shape hardly changes", () => {
    const heavy = solved({ weightN: 1.15 * model.allUpWeightN });
    const line = model.lineMember.get("left:AL1") as number;
    const ratio = (heavy.tensionsN[line] as number) / (model.specified.tensionsN[line] as number);
    expect(ratio).toBeCloseTo(1.15, 1);
    expect(Math.abs(middle(incidence(heavy)))).toBeLessThan(0.1);
  });

  it("leave the specified state as it is at trim", () => {
    expect(solved({}).positions).toEqual(model.specified.positions);
  });
});

describe("a condition that can't be", () => {
  const under = (condition: Partial<Condition>) => () =>
    underCondition(model, model.network.unstretched, { ...AT_TRIM, ...condition });

  it("is refused with what is wrong", () => {
    expect(under({ strapChangesM: new Map([["X", 0.1]]) })).toThrow("no riser X");
    expect(under({ strapChangesM: new Map([["A", -2]]) })).toThrow("no length");
    expect(under({ weightN: 0 })).toThrow("0 N");
  });
});
