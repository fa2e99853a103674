import { describe, expect, it } from "vitest";
import { DEMOS } from "../../src/demo/index.ts";
import { buildWingModel } from "../../src/geometry/build.ts";
import { solveEquilibrium } from "../../src/geometry/equilibrium.ts";
import { profileChange } from "../../src/geometry/profile.ts";
import { ribView } from "../../src/geometry/rib-view.ts";
import { solveWing, wingStructure } from "../../src/geometry/solve.ts";
import { incidenceBand, withFabric, withLoadShift, withWeight } from "../../src/geometry/variants.ts";
import { parsePlan } from "../../src/plan/index.ts";
import { changesOf, degrees } from "./states.ts";

const parsed = parsePlan(DEMOS.second.plan);
if (!parsed.ok) throw new Error("the demo's plan has errors");
const wing = parsed.value;
const model = buildWingModel(wing);
const structure = wingStructure(model);
const changes = changesOf(wing, (line) => (line.tier === 1 && line.row === "C" ? -0.015 : 0));
const state = solveWing(model, changes, model.specified, structure);
const ribs = profileChange(model, model.specified, state);
const weights = { min: 0.85 * model.allUpWeightN, max: 1.15 * model.allUpWeightN };
const largest = (a: Float64Array, b: Float64Array): number =>
  a.reduce((most, value, i) => Math.max(most, Math.abs(value - (b[i] as number))), 0);

describe("a wing with other fabric", () => {
  it.each([
    [3, 1],
    [1 / 3, 1],
    [1, 4],
    [1, 0.25],
  ])("keeps its specified state: ties × %f, bends × %f", (ties, bends) => {
    const variant = withFabric(model, ties, bends);
    const solved = solveEquilibrium(variant.network, { structure, start: model.specified.positions });
    expect(solved.converged).toBe(true);
    expect(largest(solved.positions, model.specified.positions)).toBeLessThan(1e-5);
  });

  it("answers differently to the same changed lines", () => {
    const stiff = withFabric(model, 3, 4);
    const other = profileChange(
      stiff,
      stiff.specified,
      solveWing(stiff, changes, stiff.specified, structure),
    );
    const moved = other.map((rib, i) => Math.abs(rib.incidenceRad - (ribs[i]?.incidenceRad ?? 0)));
    expect(Math.max(...moved)).toBeGreaterThan(1e-4);
  });
});

describe("a wing under other loads", () => {
  it("has its own specified state at another weight", () => {
    const heavy = withWeight(model, weights.max, structure);
    expect(heavy.specified.converged).toBe(true);
    expect(heavy.allUpWeightN).toBe(weights.max);
    const up = heavy.specified.reactionsN.reduce((sum, f, i) => sum + (i % 3 === 2 ? f : 0), 0);
    expect(-up / weights.max).toBeGreaterThan(0.98);
    expect(-up / weights.max).toBeLessThan(1.02);
  });

  it("carries more on the front row when the load moves forwards, each rib's sum being kept", () => {
    const front = withLoadShift(model, 0.3, structure);
    const of = (m: typeof model, row: string): number =>
      wing.lines
        .filter((line) => line.tier === 1 && line.row === row)
        .reduce((sum, line) => sum + (m.specified.tensionsN[m.lineMember.get(line.key) as number] ?? 0), 0);
    expect(of(front, "A")).toBeGreaterThan(1.03 * of(model, "A"));
    expect(of(front, "C")).toBeLessThan(0.97 * of(model, "C"));
  });
});

describe("the band of the assumptions", () => {
  const band = incidenceBand(model, changes, ribs, state, weights, structure);

  it("has a half-width at every rib, the root of the squares of its parts", () => {
    expect(band.halfWidthRad).toHaveLength(ribs.length);
    const first = band.influences.reduce(
      (sum, { lowRad, highRad }) => sum + Math.max(Math.abs(lowRad[3] ?? 0), Math.abs(highRad[3] ?? 0)) ** 2,
      0,
    );
    expect(band.halfWidthRad[3]).toBeCloseTo(Math.sqrt(first), 12);
  });

  it("is a small part of what 15 mm on the rear row do, over the inner span", () => {
    ribs.forEach((rib, i) => {
      if (rib.sigma < 0.7)
        expect((band.halfWidthRad[i] as number) / Math.abs(rib.incidenceRad)).toBeLessThan(0.2);
    });
  });

  it("is nothing where nothing was changed", () => {
    const none = profileChange(model, model.specified, model.specified);
    const still = incidenceBand(model, new Map(), none, model.specified, weights, structure);
    expect(degrees(Math.max(...still.halfWidthRad))).toBeLessThan(0.002);
  });
});

describe("one rib from the side", () => {
  const rib = model.ribs.find((each) => each.side === "right" && each.nodes.length > 2);
  if (!rib) throw new Error("the demo has no rib with tabs");

  it("is its specified section where nothing moved, chord and all", () => {
    const { leadingEdge, trailingEdge, contour, chordM } = ribView(model, rib, model.specified, 20);
    expect(leadingEdge).toEqual({ aftM: 0, upM: 0 });
    expect(trailingEdge.aftM).toBeCloseTo(chordM, 12);
    expect(contour[0]?.aftM).toBeCloseTo(contour[contour.length - 1]?.aftM ?? Number.NaN, 12);
  });

  it("moves its tabs as they were solved, times the exaggeration", () => {
    const at = (factor: number) => ribView(model, rib, state, factor).tabs.map((tab) => tab.point.upM);
    const [still, once, tenfold] = [at(0), at(1), at(10)];
    still.forEach((from, i) => {
      expect((tenfold[i] as number) - from).toBeCloseTo(10 * ((once[i] as number) - from), 12);
    });
    // Short rear lines: the rear goes down against the front.
    const drop = (i: number): number => (once[i] as number) - (still[i] as number);
    expect(drop(once.length - 1)).toBeLessThan(drop(0) - 0.005);
  });
});
