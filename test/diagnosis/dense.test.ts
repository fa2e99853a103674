import { determinant, inverse, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { gram, invertFactor } from "../../src/diagnosis/dense.ts";
import { normalsOf } from "./simulated.ts";

describe("a small matrix's inverse by its Cholesky factor", () => {
  it("is that of a general library, with its determinant", () => {
    const normal = normalsOf(1);
    for (const size of [1, 2, 5, 12]) {
      const a = Matrix.zeros(size, size).apply(function (this: Matrix, i: number, j: number) {
        this.set(i, j, normal());
      } as never);
      const matrix = a.mmul(a.transpose()).add(Matrix.eye(size));
      const flat = Float64Array.from(matrix.to1DArray());
      const logDeterminant = invertFactor(flat, size);
      expect(logDeterminant).toBeCloseTo(Math.log(determinant(matrix)), 10);
      const expected = inverse(matrix).to1DArray();
      gram(flat, size).forEach((value, k) => {
        expect(value).toBeCloseTo(expected[k] as number, 10);
      });
    }
  });

  it("reads the lower triangle only", () => {
    const full = Float64Array.of(4, 1, 1, 3);
    const lower = Float64Array.of(4, Number.NaN, 1, 3);
    expect(invertFactor(lower, 2)).toBe(invertFactor(full, 2));
    expect(lower).toEqual(full);
  });

  it("throws a matrix that isn't positive definite back at the caller", () => {
    expect(() => invertFactor(Float64Array.of(1, 2, 2, 1), 2)).toThrow(/pivot 1 of 2 is -3/);
  });
});
