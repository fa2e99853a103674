import { CholeskyDecomposition, determinant, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { analysePattern, factorise, solveFactored } from "../../../src/geometry/sparse/ldl.ts";
import { seeded } from "../../reference/networks.ts";
import { blocksOf, springs } from "./matrices.ts";

/** Solve with the sparse factorisation; undefined where it refused the matrix. */
function sparseSolve(dense: Matrix, right: readonly number[], shift = 0): Float64Array | undefined {
  const { pattern, values } = blocksOf(dense);
  const factor = analysePattern(pattern);
  if (factorise(factor, values, shift, 0) < dense.rows) return undefined;
  const x = Float64Array.from(right);
  solveFactored(factor, x);
  return x;
}

function largestDifference(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let worst = 0;
  for (let i = 0; i < a.length; i++) worst = Math.max(worst, Math.abs((a[i] as number) - (b[i] as number)));
  return worst;
}

describe("the sparse factorisation", () => {
  it("solves thirty random spring systems as a dense Cholesky does, to 1e-9", () => {
    for (let seed = 1; seed <= 30; seed++) {
      const random = seeded(seed);
      const dense = springs(2 + seed, random, 1 + (seed % 3));
      const right = Array.from({ length: dense.rows }, () => random() - 0.5);
      const found = sparseSolve(dense, right);
      const expected = new CholeskyDecomposition(dense).solve(Matrix.columnVector(right)).to1DArray();
      const scale = Math.max(...expected.map(Math.abs));
      expect(found).toBeDefined();
      expect(largestDifference(found as Float64Array, expected) / scale).toBeLessThan(1e-9);
    }
  });

  it("adds its shift to every diagonal entry and to nothing else", () => {
    const random = seeded(5);
    const dense = springs(10, random);
    const right = Array.from({ length: 30 }, () => random());
    const found = sparseSolve(dense, right, 3.5);
    const expected = sparseSolve(Matrix.add(dense, Matrix.eye(30, 30).mul(3.5)), right);
    expect(largestDifference(found as Float64Array, expected as Float64Array)).toBeLessThan(1e-14);
  });

  it("refuses an indefinite matrix at the first leading minor that isn't positive, and takes it with a shift", () => {
    for (let seed = 1; seed <= 12; seed++) {
      const random = seeded(100 + seed);
      const dense = springs(5, random);
      const spoilt = Math.floor(random() * 15);
      dense.set(spoilt, spoilt, dense.get(spoilt, spoilt) - 400);
      const minors = Array.from({ length: 15 }, (_, k) => determinant(dense.subMatrix(0, k, 0, k)));
      const firstBad = minors.findIndex((minor) => minor <= 0);
      expect(firstBad).toBeGreaterThanOrEqual(0);
      const { pattern, values } = blocksOf(dense);
      const factor = analysePattern(pattern);
      expect(factorise(factor, values, 0, 0)).toBe(firstBad);
      expect(factorise(factor, values, 500, 0)).toBe(15);
    }
  });

  it("can be used again after a refusal, with no trace of it", () => {
    const random = seeded(9);
    const dense = springs(8, random, 3);
    const { pattern, values } = blocksOf(dense);
    const factor = analysePattern(pattern);
    const right = Array.from({ length: 24 }, () => random());
    const broken = Float64Array.from(values);
    const diagonal = 9 * ((pattern.starts[6] as number) - 1);
    broken[diagonal + 4] = -1e6;
    expect(factorise(factor, broken, 0, 0)).toBe(16);
    expect(factorise(factor, values, 0, 0)).toBe(24);
    const again = Float64Array.from(right);
    solveFactored(factor, again);
    expect([...again]).toEqual([...(sparseSolve(dense, right) as Float64Array)]);
  });

  it("holds a pivot against the floor that it's given", () => {
    const { pattern, values } = blocksOf(Matrix.diag([4, 1e-8, 4]));
    const factor = analysePattern(pattern);
    expect(factorise(factor, values, 0, 1e-9)).toBe(3);
    expect(factorise(factor, values, 0, 1e-7)).toBe(1);
  });

  it("keeps its accuracy for a line that is stiff along and a hundred million times softer across", () => {
    const along = Matrix.columnVector([0.36, 0.48, 0.8]);
    const stiffness = along.mmul(along.transpose()).mul(1e5).add(Matrix.eye(3, 3).mul(1e-3));
    const across = [0.8, -0.6, 0];
    const found = sparseSolve(stiffness, across) as Float64Array;
    expect(
      largestDifference(
        found,
        across.map((value) => value / 1e-3),
      ) / 1000,
    ).toBeLessThan(1e-6);
  });
});
