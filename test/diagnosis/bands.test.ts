import { describe, expect, it } from "vitest";
import { DEFAULT_AGEING } from "../../src/diagnosis/ageing-prior.ts";
import { attribute, attributeChanges } from "../../src/diagnosis/attribution.ts";
import { incidenceBands, sayBand } from "../../src/diagnosis/bands.ts";
import { correlation, drawMembers } from "../../src/diagnosis/moments.ts";
import { fillNormal, seededUniform } from "../../src/diagnosis/normal-draws.ts";
import { buildWingModel } from "../../src/geometry/build.ts";
import { profileChange } from "../../src/geometry/profile.ts";
import { solveWing, wingStructure } from "../../src/geometry/solve.ts";
import { incidenceResponse } from "../../src/geometry/tangent-response.ts";
import { incidenceBand } from "../../src/geometry/variants.ts";
import { FOUR_ROW_WING, inventedWing } from "../geometry/invented-wing.ts";
import { simulate, spreadOf } from "./simulated.ts";

const wing = inventedWing(FOUR_ROW_WING);
const model = buildWingModel(wing);
const structure = wingStructure(model);
const spread = spreadOf(wing, 0.0015, { zero: 0.002 });
/** Rates as a wing of some years has them: no row beyond some 15 mm. */
const AGED = { ...DEFAULT_AGEING, rowRate: 0.001, groupRate: 0.0005 };

function prepared(seed: number) {
  const made = simulate(wing, AGED, spread, seed);
  const attribution = attribute(wing, made.deviations, spread, AGED);
  const changes = attributeChanges(wing, made.deviations, AGED);
  const state = solveWing(model, changes, model.specified, structure);
  const ribs = profileChange(model, model.specified, state);
  const response = incidenceResponse(model, state, structure);
  return { ...made, attribution, changes, state, ribs, response };
}

const first = prepared(1);
const bandsOf = (from: typeof first, options = {}) => {
  const bands = incidenceBands(from.ribs, from.response, from.attribution, from.changes, options);
  if (!bands) throw new Error("stopped");
  return bands;
};
const bands = bandsOf(first);

describe("how well the incidence is known", () => {
  it("is the same by 10,000 draws and in closed form, to a tenth of a standard deviation", () => {
    expect(bands.draws).toBe(10_000);
    expect(bands.largestDisagreement).toBeLessThan(0.12);
    for (const rib of bands.ribs) {
      expect(rib.normal95.high - rib.normal95.low).toBeCloseTo(2 * 1.959963985 * rib.readingRad, 12);
      const width = (rib.drawn68.high - rib.drawn68.low) / (2 * rib.readingRad);
      expect(Math.abs(width - 1)).toBeLessThan(0.05);
    }
  });

  it("is the lines' whole covariance through the response, written out", () => {
    const { attribution, response, ribs } = first;
    const { deviation } = attribution.posterior;
    const lines = attribution.lines;
    const columns = lines.map(({ lineKey }) => response.lineKeys.indexOf(lineKey));
    ribs.forEach((_, r) => {
      const row = columns.map((c) => response.matrix[r * response.lineKeys.length + c] as number);
      let variance = 0;
      for (let m = 0; m < lines.length; m++)
        for (let k = 0; k < lines.length; k++)
          variance +=
            (row[m] as number) *
            (row[k] as number) *
            correlation(attribution.posterior, m, k) *
            (deviation[m] as number) *
            (deviation[k] as number);
      expect(Math.abs((bands.ribs[r]?.readingRad as number) / Math.sqrt(variance) - 1)).toBeLessThan(1e-9);
    });
  });

  it("is borne out by solving the wing in full for 24 draws of its lines", () => {
    const { attribution, state, ribs, response } = first;
    const inputs = new Float64Array(wing.lines.length + attribution.posterior.model.effectCount);
    const uniform = seededUniform(9);
    let worst = 0;
    for (let draw = 0; draw < 24; draw++) {
      fillNormal(inputs, uniform);
      const drawn = drawMembers(attribution.posterior, inputs);
      const changes = new Map(wing.lines.map((line, m) => [line.key, drawn[m] as number]));
      const solved = profileChange(model, model.specified, solveWing(model, changes, state, structure));
      solved.forEach((rib, r) => {
        let linear = ribs[r]?.incidenceRad as number;
        response.lineKeys.forEach((key, c) => {
          linear +=
            (response.matrix[r * response.lineKeys.length + c] as number) *
            ((changes.get(key) as number) - (first.changes.get(key) as number));
        });
        worst = Math.max(worst, Math.abs(linear - rib.incidenceRad) / (bands.ribs[r]?.readingRad as number));
      });
    }
    // A tenth of a rib's standard deviation: what the tangent leaves out doesn't show in the bands.
    expect(worst).toBeLessThan(0.1);
    expect(worst).toBeGreaterThan(0);
  });

  it("holds the true incidence in about 95 of 100 cases, over invented wings whose lines are known", () => {
    let [within68, within95, total, differences] = [0, 0, 0, 0];
    const wings = 25;
    for (let seed = 11; seed < 11 + wings; seed++) {
      const one = prepared(seed);
      const said = bandsOf(one, { draws: 400 });
      const true_ = profileChange(model, model.specified, solveWing(model, one.truth, one.state, structure));
      said.ribs.forEach((rib, r) => {
        const incidence = true_[r]?.incidenceRad as number;
        total++;
        if (incidence >= rib.normal68.low && incidence <= rib.normal68.high) within68++;
        if (incidence >= rib.normal95.low && incidence <= rib.normal95.high) within95++;
      });
      const chords = one.response.ribs.map((rib) => rib.chordM);
      const meanOf = (side: string): number => {
        const on = true_.flatMap((rib, r) =>
          rib.side === side ? [{ chord: chords[r] as number, rad: rib.incidenceRad }] : [],
        );
        return (
          on.reduce((sum, { chord, rad }) => sum + chord * rad, 0) /
          on.reduce((sum, { chord }) => sum + chord, 0)
        );
      };
      const between = meanOf("left") - meanOf("right");
      const band = said.leftLessRight?.normal95;
      if (band && between >= band.low && between <= band.high) differences++;
    }
    expect(total).toBe(wings * first.ribs.length);
    expect(Math.abs(within68 / total - 0.683)).toBeLessThan(0.08);
    expect(Math.abs(within95 / total - 0.95)).toBeLessThan(0.04);
    expect(differences).toBeGreaterThanOrEqual(wings - 4);
  });

  it("knows a side's mean better than a single rib, and more from better readings", () => {
    const widest = Math.max(...bands.ribs.map(({ readingRad }) => readingRad));
    expect(bands.left?.readingRad).toBeLessThan(widest);
    const fine = spreadOf(wing, 0.0005, { zero: 0.002 });
    const better = attribute(wing, first.deviations, fine, AGED);
    const after = bandsOf({ ...first, attribution: better });
    after.ribs.forEach((rib, r) => {
      expect(rib.readingRad).toBeLessThan(bands.ribs[r]?.readingRad as number);
    });
  });

  it("hardly widens for a zero that all readings share: all lines off alike turn nothing", () => {
    const without = attribute(wing, first.deviations, spreadOf(wing, 0.0015), AGED);
    const plain = bandsOf({ ...first, attribution: without });
    expect(
      Math.abs((bands.mean?.readingRad as number) / (plain.mean?.readingRad as number) - 1),
    ).toBeLessThan(0.15);
  });

  it("adds what assumptions leave as the root of the sum of squares, and keeps it apart", () => {
    const assumptions = incidenceBand(
      model,
      first.changes,
      first.ribs,
      first.state,
      { min: 785, max: 1030 },
      structure,
    );
    const both = bandsOf(first, { assumptions });
    both.ribs.forEach((rib, r) => {
      expect(rib.assumptionsRad).toBeCloseTo(assumptions.halfWidthRad[r] as number, 14);
      expect(rib.drawn95).toEqual(bands.ribs[r]?.drawn95);
      const up = Math.hypot(rib.drawn95.high - rib.likelyRad, rib.assumptionsRad as number);
      expect(rib.combined95.high - rib.likelyRad).toBeCloseTo(up, 14);
      expect(rib.combined68.high).toBeLessThan(rib.combined95.high);
      expect(rib.combined95.low).toBeLessThanOrEqual(rib.drawn95.low);
    });
    // An assumption that turns both sides alike drops out of their difference.
    expect(both.leftLessRight?.assumptionsRad).toBeLessThan(
      (both.left?.assumptionsRad as number) + (both.right?.assumptionsRad as number),
    );
    expect(both.mean && sayBand(both.mean)).toMatch(
      /^[+−]?\d\.\d\d°, in 95 of 100 cases between .*° and .*° \(readings alone ±.*°, the model’s assumptions ±.*°\)$/,
    );
    expect(bands.mean && sayBand(bands.mean)).toContain("from the readings’ uncertainty alone");
  });

  it("is the same for the same seed, and plain data", () => {
    expect(bandsOf(first, { draws: 200, uniform: seededUniform(5) })).toEqual(
      bandsOf(first, { draws: 200, uniform: seededUniform(5) }),
    );
    expect(structuredClone(bands)).toEqual(bands);
  });

  it("tells how far it is, and stops when asked", () => {
    const told: number[] = [];
    bandsOf(first, { draws: 1000, onProgress: (fraction: number) => told.push(fraction) });
    expect(told[0]).toBe(0);
    expect(told.at(-1)).toBe(1);
    expect([...told].sort((a, b) => a - b)).toEqual(told);
    expect(told.length).toBeGreaterThan(3);
    let asked = 0;
    const stopped = incidenceBands(first.ribs, first.response, first.attribution, first.changes, {
      shouldStop: () => ++asked > 2,
    });
    expect(stopped).toBeUndefined();
    expect(asked).toBe(3);
  });

  it("throws ribs that don't match and too few draws back at the caller", () => {
    const { ribs, response, attribution, changes } = first;
    expect(() => incidenceBands(ribs.slice(1), response, attribution, changes)).toThrow(RangeError);
    expect(() => incidenceBands(ribs, response, attribution, changes, { draws: 10 })).toThrow(/10 draws/);
  });
});
