import { describe, expect, it } from "vitest";
import { buildWingModel } from "../../src/geometry/build.ts";
import { changedLengths, solveWing, wingStructure } from "../../src/geometry/solve.ts";
import { FOUR_ROW_WING, inventedWing } from "./invented-wing.ts";
import { bench, changesOf } from "./states.ts";

const wing = inventedWing(FOUR_ROW_WING);
const model = buildWingModel(wing);
const structure = wingStructure(model);
const attempt = bench(wing, model);
const farthest = (a: Float64Array, b: Float64Array): number =>
  a.reduce((worst, value, i) => Math.max(worst, Math.abs(value - (b[i] as number))), 0);

describe("a wing solved for other lengths", () => {
  it("stays as specified where nothing changes", () => {
    for (const changes of [new Map<string, number>(), new Map([["left:A1", 0]])]) {
      const state = solveWing(model, changes, model.specified, structure);
      expect(state.converged).toBe(true);
      expect(farthest(state.positions, model.specified.positions)).toBeLessThan(1e-7);
      expect(farthest(state.tensionsN, model.specified.tensionsN)).toBeLessThan(1e-4);
    }
  });

  it("comes back to the specified state from any other, to a hundredth of a millimetre", () => {
    const other = attempt((line) =>
      line.row === "D" && line.tier === 1 ? -0.02 : line.key === "left:A1.1.1" ? 0.015 : 0,
    ).state;
    const back = solveWing(model, new Map(), other, structure);
    expect(farthest(back.positions, model.specified.positions)).toBeLessThan(1e-5);
  });

  it("is the same with and without a structure at hand, and warm from another state", () => {
    const changes = changesOf(wing, (line) => (line.row === "C" && line.tier === 1 ? -0.012 : 0));
    const cold = solveWing(model, changes);
    const warm = solveWing(
      model,
      changes,
      attempt((line) => (line.row === "C" && line.tier === 1 ? -0.008 : 0)).state,
      structure,
    );
    expect(farthest(cold.positions, warm.positions)).toBeLessThan(1e-5);
  });

  it("mirrors: what the left does for a change on the left, the right does for the same change on the right", () => {
    const left = attempt((line) => (line.key === "left:B1.2" ? -0.015 : line.key === "right:D2" ? 0.01 : 0));
    const right = attempt((line) => (line.key === "right:B1.2" ? -0.015 : line.key === "left:D2" ? 0.01 : 0));
    for (const rib of left.ribs) {
      const twin = right.incidence(rib.side === "left" ? "right" : "left", rib.rib);
      expect(left.incidence(rib.side, rib.rib)).toBeCloseTo(twin, 5);
    }
  });

  it("answers in proportion for small changes: twice the change, twice the turn", () => {
    const one = attempt((line) => (line.row === "D" && line.tier === 1 ? -0.002 : 0));
    const two = attempt((line) => (line.row === "D" && line.tier === 1 ? -0.004 : 0));
    for (const rib of one.ribs) {
      const ratio = two.incidence(rib.side, rib.rib) / one.incidence(rib.side, rib.rib);
      expect(Math.abs(ratio - 2)).toBeLessThan(0.05);
    }
  });

  it("stays with the lengths: every taut line is as long as it was made, by its tension", () => {
    const changes = changesOf(wing, (line) => (line.tier === 1 ? (line.row === "A" ? 0.01 : -0.005) : 0));
    const state = solveWing(model, changes, model.specified, structure);
    const { ends, stiffness } = model.network;
    for (const line of wing.lines) {
      const m = model.lineMember.get(line.key) as number;
      const tension = state.tensionsN[m] as number;
      if (tension === 0 || line.row === "brake") continue;
      const [a, b] = [3 * (ends[2 * m] as number), 3 * (ends[2 * m + 1] as number)];
      const length = Math.hypot(
        ...[0, 1, 2].map((d) => (state.positions[a + d] as number) - (state.positions[b + d] as number)),
      );
      const ea = stiffness[m] as number;
      const atReference = (length / (1 + tension / ea)) * (1 + 50 / ea);
      expect(atReference).toBeCloseTo(line.lengthM - line.loopTakeUpM + (changes.get(line.key) ?? 0), 9);
    }
  });

  it("brings the reference length L to L/(1 + T/EA) unstretched, the change included", () => {
    const lengths = changedLengths(model, new Map([["left:A1", 0.02]]));
    const m = model.lineMember.get("left:A1") as number;
    const change = (lengths[m] as number) - (model.network.unstretched[m] as number);
    expect(change).toBeCloseTo(0.02 / (1 + 50 / 40_000), 12);
    expect(lengths.filter((length, i) => length !== model.network.unstretched[i]).length).toBe(1);
  });

  it("throws a line that the wing hasn't got back at the caller, and a change that leaves a line no length", () => {
    expect(() => solveWing(model, new Map([["left:Z9", 0.01]]))).toThrow(/no line left:Z9/);
    expect(() => solveWing(model, new Map([["left:A1.1.1", -3]]))).toThrow(RangeError);
    expect(() => solveWing(model, new Map([["left:A1.1.1", -3]]))).toThrow(/-3 m leaves line left:A1.1.1/);
    expect(() => solveWing(model, new Map([["left:A1", Number.NaN]]))).toThrow(RangeError);
  });
});
