import { CholeskyDecomposition, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { DEFAULT_AGEING } from "../../src/diagnosis/ageing-prior.ts";
import { attribute } from "../../src/diagnosis/attribution.ts";
import { correlation, covarianceWith, drawMembers, residuals } from "../../src/diagnosis/moments.ts";
import { fillNormal, seededUniform } from "../../src/diagnosis/normal-draws.ts";
import { type GaussianModel, type LinearReading, posterior } from "../../src/diagnosis/posterior.ts";
import { samplePlan, wingOf } from "../plan/factory.ts";
import { normalsOf, simulate, spreadOf } from "./simulated.ts";

/** Small trees, a few shared effects, readings of paths and of single members, all made up. */
function invented(seed: number, trees = 5): GaussianModel {
  const normal = normalsOf(seed);
  const effectCount = 4;
  const spread: number[] = [];
  const readings: LinearReading[] = [];
  for (let tree = 0; tree < trees; tree++) {
    const base = spread.length;
    for (let m = 0; m < 7; m++) spread.push(0.5 + Math.abs(normal()));
    for (const chain of [
      [0, 1, 3],
      [0, 1, 4],
      [0, 2, 5],
      [0, 2, 6],
    ])
      readings.push({
        members: chain.map((m) => ({ index: base + m, coefficient: 1 })),
        effects: [
          { index: 2, coefficient: 0.7 },
          { index: 3, coefficient: normal() },
        ],
        value: 3 * normal(),
        deviation: 0.3 + Math.abs(normal()),
      });
    if (tree % 2 === 0)
      readings.push({
        members: [{ index: base + 1, coefficient: 1 }],
        effects: [{ index: 2, coefficient: 0.7 }],
        value: normal(),
        deviation: 0.4,
      });
  }
  return {
    spread: Float64Array.from(spread),
    memberEffects: spread.map((_, m) => [
      { index: m % 2, coefficient: 1.5 },
      ...(m % 3 === 0 ? [{ index: 3, coefficient: 0.2 }] : []),
    ]),
    effectCount,
    readings,
  };
}

/** The same by a general library, dense, in the space of the readings: C − C Hᵀ (H C Hᵀ + N)⁻¹ H C over members and effects. */
function dense({ spread, memberEffects, effectCount: p, readings }: GaussianModel) {
  const n = spread.length;
  const loadings = Matrix.zeros(n, p);
  memberEffects.forEach((terms, m) => {
    for (const { index, coefficient } of terms) loadings.set(m, index, coefficient);
  });
  const before = Matrix.zeros(n + p, n + p);
  before.setSubMatrix(
    Matrix.diag([...spread].map((s) => s * s)).add(loadings.mmul(loadings.transpose())),
    0,
    0,
  );
  before.setSubMatrix(loadings, 0, n);
  before.setSubMatrix(loadings.transpose(), n, 0);
  before.setSubMatrix(Matrix.eye(p), n, n);
  const h = Matrix.zeros(readings.length, n + p);
  readings.forEach(({ members, effects }, r) => {
    for (const { index, coefficient } of members) h.set(r, index, coefficient);
    for (const { index, coefficient } of effects) h.set(r, n + index, coefficient);
  });
  const y = Matrix.columnVector(readings.map(({ value }) => value));
  const noise = Matrix.diag(readings.map(({ deviation }) => deviation ** 2));
  const seen = h.mmul(before).mmul(h.transpose()).add(noise);
  // The library asks for exact symmetry, which round-off spoils.
  const factor = new CholeskyDecomposition(seen.clone().add(seen.transpose()).mul(0.5));
  const mean = before.mmul(h.transpose()).mmul(factor.solve(y)).to1DArray();
  const covariance = before.clone().sub(before.mmul(h.transpose()).mmul(factor.solve(h.mmul(before))));
  const logDeterminant =
    2 * factor.lowerTriangularMatrix.diagonal().reduce((sum, pivot) => sum + Math.log(pivot), 0);
  const square = y.transpose().mmul(factor.solve(y)).get(0, 0);
  return {
    mean,
    covariance,
    h,
    logEvidence: -0.5 * (square + logDeterminant + readings.length * Math.log(2 * Math.PI)),
  };
}

describe("the posterior of many changes from few sums", () => {
  for (const seed of [1, 2, 3])
    it(`is what a general library's dense matrices give, to 1e-9 (invented wing ${seed})`, () => {
      const model = invented(seed);
      const n = model.spread.length;
      const result = posterior(model);
      const expected = dense(model);
      for (let m = 0; m < n; m++) {
        const sd = Math.sqrt(expected.covariance.get(m, m));
        expect(Math.abs((result.mean[m] as number) - (expected.mean[m] as number))).toBeLessThan(1e-9 * sd);
        expect(Math.abs((result.deviation[m] as number) / sd - 1)).toBeLessThan(1e-9);
        for (let k = 0; k < n; k++) {
          const other = Math.sqrt(expected.covariance.get(k, k));
          expect(
            Math.abs(correlation(result, m, k) - expected.covariance.get(m, k) / (sd * other)),
          ).toBeLessThan(1e-9);
        }
      }
      for (let a = 0; a < model.effectCount; a++) {
        expect(Math.abs((result.effectMean[a] as number) - (expected.mean[n + a] as number))).toBeLessThan(
          1e-9,
        );
        expect(result.effectDeviation[a]).toBeCloseTo(Math.sqrt(expected.covariance.get(n + a, n + a)), 9);
      }
      expect(Math.abs(result.logEvidence - expected.logEvidence)).toBeLessThan(
        1e-9 * Math.abs(expected.logEvidence),
      );
    });

  it("is the dense answer for a whole wing as well, read coarsely or to a tenth of a millimetre, to 1e-9", () => {
    const wing = wingOf(samplePlan());
    for (const ownM of [0.0015, 0.0001]) {
      const spread = spreadOf(wing, ownM, { zero: 0.002 });
      const { deviations } = simulate(wing, DEFAULT_AGEING, spread, 2, { alone: ["left:A1"] });
      const result = attribute(wing, deviations, spread).posterior;
      const expected = dense(result.model);
      result.mean.forEach((mean, m) => {
        const sd = Math.sqrt(expected.covariance.get(m, m));
        expect(Math.abs(mean - (expected.mean[m] as number))).toBeLessThan(1e-9 * sd);
        expect(Math.abs((result.deviation[m] as number) / sd - 1)).toBeLessThan(1e-9);
      });
    }
  });

  it("gives the covariance of a would-be reading with every member, its common effects included", () => {
    const model = invented(4);
    const n = model.spread.length;
    const result = posterior(model);
    const { covariance, h } = dense(model);
    model.readings.forEach((reading, r) => {
      const row = h.getRowVector(r);
      const { withMembers, variance } = covarianceWith(result, reading);
      const column = covariance.mmul(row.transpose());
      for (let m = 0; m < n; m++) expect(withMembers[m]).toBeCloseTo(column.get(m, 0), 9);
      expect(variance).toBeCloseTo(row.mmul(column).get(0, 0), 9);
    });
  });

  it("doesn't depend on the order of members and readings", () => {
    const model = invented(5);
    const n = model.spread.length;
    const turned = (m: number): number => (m * 11 + 3) % n;
    const spread = new Float64Array(n);
    const memberEffects: GaussianModel["memberEffects"][number][] = [];
    for (let m = 0; m < n; m++) {
      spread[turned(m)] = model.spread[m] as number;
      memberEffects[turned(m)] = model.memberEffects[m] ?? [];
    }
    const readings = [...model.readings].reverse().map((reading) => ({
      ...reading,
      members: reading.members.map((term) => ({ ...term, index: turned(term.index) })),
    }));
    const [one, other] = [posterior(model), posterior({ ...model, spread, memberEffects, readings })];
    for (let m = 0; m < n; m++) {
      expect(other.mean[turned(m)]).toBeCloseTo(one.mean[m] as number, 11);
      expect(other.deviation[turned(m)]).toBeCloseTo(one.deviation[m] as number, 11);
    }
    expect(other.logEvidence).toBeCloseTo(one.logEvidence, 9);
  });

  it("is the prior where nothing was read", () => {
    const model = { ...invented(6), readings: [] };
    const result = posterior(model);
    result.mean.forEach((mean, m) => {
      expect(mean).toBe(0);
      expect(result.deviation[m]).toBeCloseTo(result.priorDeviation[m] as number, 12);
    });
    expect(result.logEvidence).toBeCloseTo(0, 10);
  });

  it("draws members with the mean and the covariance that it states", () => {
    const model = invented(7, 2);
    const n = model.spread.length;
    const result = posterior(model);
    const uniform = seededUniform(3);
    const inputs = new Float64Array(n + model.effectCount);
    const draws = Array.from({ length: 20_000 }, () => {
      fillNormal(inputs, uniform);
      return drawMembers(result, inputs);
    });
    const covarianceOf = (a: number, b: number): number =>
      draws.reduce(
        (sum, each) =>
          sum +
          ((each[a] as number) - (result.mean[a] as number)) *
            ((each[b] as number) - (result.mean[b] as number)),
        0,
      ) / draws.length;
    for (let a = 0; a < n; a++)
      for (const b of [a, (a + 1) % n, (a + 7) % n]) {
        const scale = (result.deviation[a] as number) * (result.deviation[b] as number);
        // Four standard errors of a sample covariance.
        expect(Math.abs(covarianceOf(a, b) - correlation(result, a, b) * scale)).toBeLessThan(
          4 * scale * Math.sqrt(2 / draws.length),
        );
      }
  });

  it("points at a reading that was typed wrong: its normalised residual stands out", () => {
    const scattered = invented(8);
    const model = {
      ...scattered,
      readings: scattered.readings.map((reading) => ({ ...reading, value: reading.value / 3 })),
    };
    const plain = residuals(posterior(model)).map(({ normalised }) => Math.abs(normalised));
    const wrong = 6;
    const readings = model.readings.map((reading, r) =>
      r === wrong ? { ...reading, value: reading.value + 15 } : reading,
    );
    const off = residuals(posterior({ ...model, readings })).map(({ normalised }) => Math.abs(normalised));
    expect(Math.max(...plain)).toBeLessThan(3);
    expect(off[wrong]).toBeGreaterThan(3.5);
    expect(off.indexOf(Math.max(...off))).toBe(wrong);
  });

  it("throws a spread or a deviation of zero, and an index that isn't there, back at the caller", () => {
    const model = invented(9);
    const [first, ...others] = model.readings as [LinearReading, ...LinearReading[]];
    expect(() => posterior({ ...model, spread: model.spread.map(() => 0) })).toThrow(
      /spread of member 0 is 0/,
    );
    expect(() => posterior({ ...model, readings: [{ ...first, deviation: 0 }, ...others] })).toThrow(
      /reading 0 is .* ± 0/,
    );
    expect(() =>
      posterior({ ...model, readings: [{ ...first, members: [{ index: 999, coefficient: 1 }] }] }),
    ).toThrow(/member 999/);
    expect(() => posterior({ ...model, memberEffects: [] })).toThrow(/0 members, expected/);
  });
});
