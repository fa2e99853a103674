import { describe, expect, it } from "vitest";
import { buildWingModel } from "../../src/geometry/build.ts";
import type { RibChange } from "../../src/geometry/model.ts";
import { ribSigma } from "../../src/geometry/outline.ts";
import { changeAtEveryRib, fitProfile } from "../../src/geometry/profile.ts";
import { samplePlan, wingOf } from "../plan/factory.ts";

const FOUR = [0.1, 0.3, 0.52, 0.73];
const THREE = [0.1, 0.33, 0.62];
const CHORD = 2.6;

/** Displacements along the outward normal at the tabs. */
const displaced = (fractions: readonly number[], u: (xi: number) => number) => fractions.map(u);
const bow = (xi: number) => 4 * xi * (1 - xi);

describe("the profile change at a rib", () => {
  it("is pure heave where all tabs move alike", () => {
    const fit = fitProfile(
      FOUR,
      displaced(FOUR, () => 0.012),
      CHORD,
    );
    expect(fit?.heaveM).toBeCloseTo(0.012, 14);
    expect(fit?.incidenceRad).toBeCloseTo(0, 14);
    expect(fit?.camber).toBeCloseTo(0, 14);
    expect(fit?.residualM).toBeCloseTo(0, 14);
  });

  it("is pure incidence where the tabs turn about a point, nose-up positive", () => {
    const angle = 0.011;
    for (const fractions of [FOUR, THREE, [0.12, 0.58]]) {
      const fit = fitProfile(
        fractions,
        displaced(fractions, (xi) => -Math.tan(angle) * CHORD * (xi - 0.3)),
        CHORD,
      );
      expect(fit?.incidenceRad).toBeCloseTo(angle, 12);
      expect(fit?.camber ?? 0).toBeCloseTo(0, 12);
    }
  });

  it("counts a rear that is pulled down, as short rear lines do, as nose-up", () => {
    const fit = fitProfile(FOUR, [0, 0, -0.012, -0.018], CHORD);
    expect(fit?.incidenceRad).toBeGreaterThan(0);
    expect(fitProfile(FOUR, [-0.01, 0, 0, 0], CHORD)?.incidenceRad).toBeLessThan(0);
  });

  it("finds the camber's height over the chord exactly, three tabs or four, and no residual", () => {
    for (const fractions of [FOUR, THREE]) {
      const fit = fitProfile(
        fractions,
        displaced(fractions, (xi) => 0.008 * CHORD * bow(xi) + 0.002 - 0.003 * xi),
        CHORD,
      );
      expect(fit?.camber).toBeCloseTo(0.008, 12);
      expect(fit?.residualM ?? 0).toBeCloseTo(0, 12);
    }
  });

  it("takes a bow over tabs that stand evenly about mid-chord as camber alone, without incidence", () => {
    const even = [0.2, 0.4, 0.6, 0.8];
    const fit = fitProfile(
      even,
      displaced(even, (xi) => 0.01 * bow(xi)),
      CHORD,
    );
    expect(fit?.incidenceRad).toBeCloseTo(0, 14);
  });

  it("can't tell camber from two tabs, is exact with three and leaves a residual with four", () => {
    const two = fitProfile([0.1, 0.6], [0.003, -0.004], CHORD);
    expect(two?.camber).toBeUndefined();
    expect(two?.residualM).toBeUndefined();
    const three = fitProfile(THREE, [0.003, -0.004, 0.001], CHORD);
    expect(three?.camber).toBeDefined();
    expect(three?.residualM).toBeUndefined();
    const four = fitProfile(FOUR, [0.004, -0.004, 0.004, -0.004], CHORD);
    expect(four?.residualM).toBeGreaterThan(0.002);
  });

  it("is the best fit: no other heave, turn and bow leaves less", () => {
    const u = [0.004, -0.001, 0.003, -0.006];
    const fit = fitProfile(FOUR, u, CHORD);
    const mean = FOUR.reduce((sum, xi) => sum + xi, 0) / 4;
    const q = FOUR.map(bow);
    const left = (h: number, a: number, c: number) =>
      Math.sqrt(
        u.reduce(
          (sum, value, i) => sum + (value - h - a * ((FOUR[i] as number) - mean) - c * (q[i] as number)) ** 2,
          0,
        ) / 4,
      );
    let best = Number.POSITIVE_INFINITY;
    for (let h = -20; h <= 20; h++)
      for (let a = -20; a <= 20; a++)
        for (let c = -20; c <= 20; c++) best = Math.min(best, left(h * 5e-4, a * 1e-3, c * 5e-4));
    expect(fit?.residualM as number).toBeLessThanOrEqual(best);
    expect(fit?.residualM as number).toBeGreaterThan(0.8 * best);
  });

  it("isn't there for a rib with one tab, nor for tabs on one spot", () => {
    expect(fitProfile([0.3], [0.01], CHORD)).toBeUndefined();
    expect(fitProfile([0.3, 0.3], [0.01, 0.02], CHORD)).toBeUndefined();
  });

  // Rule of thumb, common practice: atan(δ over the distance between the rows).
  it("agrees with the rule of thumb for a front and a rear row", () => {
    const fit = fitProfile([0.11, 0.59], [0, -0.01], 2.58);
    expect(((fit?.incidenceRad ?? 0) * 180) / Math.PI).toBeCloseTo(0.46, 2);
  });
});

describe("the profile between ribs that carry tabs", () => {
  const sample = buildWingModel(wingOf(samplePlan()));
  const made: RibChange[] = sample.ribs
    .filter((rib) => rib.nodes.filter((node) => node.tabKey !== undefined && node.row !== "brake").length > 1)
    .map((rib) => ({
      side: rib.side,
      rib: rib.rib,
      sigma: rib.sigma,
      yM: 0,
      // Straight over the span, so that what is read off between must lie on the same line.
      incidenceRad: 0.01 + 0.02 * (rib.side === "left" ? -rib.sigma : rib.sigma),
      camber: 0.001,
      heaveM: 0.002,
      arcRad: 0,
      residualM: undefined,
    }));
  const every = changeAtEveryRib(sample, made);

  it("is given at every cell wall once, from tip to tip", () => {
    expect(every).toHaveLength(sample.cells + 1);
    expect(new Set(every.map(({ side, rib }) => `${side} ${rib}`)).size).toBe(every.length);
  });

  it("goes straight from one to the next, and like the outermost beyond it", () => {
    const outermost = Math.max(...made.map((change) => change.sigma));
    for (const { side, rib, between, incidenceRad, camber, heaveM } of every) {
      const sigma = Math.min(ribSigma(rib, sample.cells), outermost);
      const expected = 0.01 + 0.02 * (side === "left" ? -sigma : sigma);
      expect(Math.abs(incidenceRad - expected)).toBeLessThan(between ? 1e-9 : 1e-4);
      expect(camber).toBeCloseTo(0.001, 12);
      expect(heaveM).toBeCloseTo(0.002, 12);
    }
    expect(every.some(({ between }) => between)).toBe(true);
  });

  it("is nothing where no rib has a profile", () => {
    expect(changeAtEveryRib(sample, [])).toEqual([]);
  });
});
