import { describe, expect, it } from "vitest";
import { buildWingModel } from "../../src/geometry/build.ts";
import type { Equilibrium, WingModel } from "../../src/geometry/model.ts";
import { profileChange } from "../../src/geometry/profile.ts";
import { solveWing, wingStructure } from "../../src/geometry/solve.ts";
import { incidenceResponse } from "../../src/geometry/tangent-response.ts";
import { FOUR_ROW_WING, inventedWing } from "./invented-wing.ts";
import { changesOf } from "./states.ts";

const wing = inventedWing(FOUR_ROW_WING);
const model = buildWingModel(wing);
const structure = wingStructure(model);
const changed = changesOf(wing, (line) =>
  line.row === "brake"
    ? 0
    : line.tier === 1
      ? line.row === "A"
        ? 0.008
        : line.row === "D"
          ? -0.018
          : -0.006
      : 0,
);
const measured = solveWing(model, changed, model.specified, structure);

/** Central differences of the incidence of all ribs over one line's length [rad/m]. */
function byDifferences(
  changes: ReadonlyMap<string, number>,
  state: Equilibrium,
  key: string,
  step: number,
  of = model,
): number[] {
  const incidences = (by: number): number[] => {
    const moved = new Map(changes).set(key, (changes.get(key) ?? 0) + by);
    return profileChange(of, of.specified, solveWing(of, moved, state, structure)).map(
      (rib) => rib.incidenceRad,
    );
  };
  const ahead = incidences(step);
  return incidences(-step).map((behind, r) => ((ahead[r] as number) - behind) / (2 * step));
}

describe("how incidence answers to a line's length", () => {
  for (const [name, changes, state] of [
    ["as specified", new Map<string, number>(), model.specified],
    ["as measured", changed, measured],
  ] as const)
    it(`agrees with solving the wing ${name} for a line a little longer and a little shorter`, () => {
      const response = incidenceResponse(model, state, structure);
      expect(response.exact).toBe(true);
      const lines = response.lineKeys.length;
      const scale = Math.max(...response.matrix.map(Math.abs));
      const some = wing.lines
        .filter((line) => line.row !== "brake" && line.side === "left")
        .filter((_, i) => i % 4 === 0);
      expect(some.length).toBeGreaterThan(5);
      for (const { key } of some) {
        const column = response.lineKeys.indexOf(key);
        byDifferences(changes, state, key, 1e-4).forEach((slope, r) => {
          expect(Math.abs((response.matrix[r * lines + column] as number) - slope)).toBeLessThan(
            2e-4 * scale,
          );
        });
      }
    });

  it("predicts a change of all lower rear lines by 2 mm to a few percent", () => {
    const response = incidenceResponse(model, measured, structure);
    const lines = response.lineKeys.length;
    const more = changesOf(
      wing,
      (line) => (changed.get(line.key) ?? 0) + (line.row === "D" && line.tier === 1 ? -0.002 : 0),
    );
    const solved = profileChange(model, measured, solveWing(model, more, measured, structure));
    const rear = new Set(
      wing.lines.filter((line) => line.row === "D" && line.tier === 1).map((line) => line.key),
    );
    solved.forEach((rib, r) => {
      const predicted = response.lineKeys.reduce(
        (sum, key, c) => sum + (rear.has(key) ? -0.002 * (response.matrix[r * lines + c] as number) : 0),
        0,
      );
      expect(Math.abs(predicted - rib.incidenceRad)).toBeLessThan(0.05 * Math.abs(rib.incidenceRad));
    });
  });

  it("says that shorter rear lines raise the nose and shorter front lines lower it", () => {
    const response = incidenceResponse(model, model.specified, structure);
    const lines = response.lineKeys.length;
    response.ribs.forEach((rib, r) => {
      const rowSum = (row: string): number =>
        wing.lines.reduce((sum, line) => {
          if (line.row !== row || line.tier !== 1 || line.side !== rib.side) return sum;
          return sum + (response.matrix[r * lines + response.lineKeys.indexOf(line.key)] as number);
        }, 0);
      expect(rowSum("D")).toBeLessThan(0);
      expect(rowSum("A")).toBeGreaterThan(0);
    });
  });

  it("is a mirror image at the specified state", () => {
    const response = incidenceResponse(model, model.specified, structure);
    const lines = response.lineKeys.length;
    const scale = Math.max(...response.matrix.map(Math.abs));
    const twinRib = (r: number): number =>
      response.ribs.findIndex(
        (rib) => rib.rib === response.ribs[r]?.rib && rib.side !== response.ribs[r]?.side,
      );
    wing.lines.forEach((line) => {
      const [c, t] = [line.key, line.mirrorKey as string].map((key) => response.lineKeys.indexOf(key)) as [
        number,
        number,
      ];
      response.ribs.forEach((_, r) => {
        const here = response.matrix[r * lines + c] as number;
        expect(Math.abs(here - (response.matrix[twinRib(r) * lines + t] as number))).toBeLessThan(
          1e-5 * scale,
        );
      });
    });
  });

  it("knows that a slack line turns nothing", () => {
    const loosened = new Map(changed).set("left:C1.1.1", 0.3);
    const state = solveWing(model, loosened, measured, structure);
    expect(state.slack).toContain(model.lineMember.get("left:C1.1.1"));
    const response = incidenceResponse(model, state, structure);
    const lines = response.lineKeys.length;
    const column = response.lineKeys.indexOf("left:C1.1.1");
    response.ribs.forEach((_, r) => {
      expect(response.matrix[r * lines + column]).toBe(0);
    });
  });

  it("isn't put off by a fork that hangs loose under two tabs without load", () => {
    const loosened = new Map(changed).set("left:C1.1.1", 0.6).set("left:C1.1.2", 0.6);
    const loads = Float64Array.from(model.network.loads);
    wing.tabs.forEach((tab, i) => {
      const node = model.tabNode[i] as number;
      if (["left:C1.1.1", "left:C1.1.2"].includes(tab.lineKey)) loads.fill(0, 3 * node, 3 * node + 3);
    });
    const unloaded: WingModel = { ...model, network: { ...model.network, loads } };
    const state = solveWing(unloaded, loosened, measured, structure);
    const response = incidenceResponse(unloaded, state, structure);
    const lines = response.lineKeys.length;
    const scale = Math.max(...response.matrix.map(Math.abs));
    for (const key of ["left:B1", "left:C1.1", "left:C1.1.1"]) {
      const column = response.lineKeys.indexOf(key);
      byDifferences(loosened, state, key, 1e-4, unloaded).forEach((slope, r) => {
        expect(Math.abs((response.matrix[r * lines + column] as number) - slope)).toBeLessThan(2e-3 * scale);
      });
    }
  });

  it("throws a state of another wing back at the caller", () => {
    expect(() =>
      incidenceResponse(model, { ...measured, positions: new Float64Array(9) }, structure),
    ).toThrow(/9 coordinates/);
  });
});
