/** Small dense matrices, row by row in flat arrays: products, and the inverse of a Cholesky factor. */

/**
 * Replace a symmetric positive definite matrix by the inverse of its Cholesky factor.
 *
 * With A = L Lᵀ the result R = L⁻¹ is lower triangular, A⁻¹ = Rᵀ R, and Rᵀ ξ with independent standard normal ξ has the
 * covariance A⁻¹.
 *
 * @param matrix size × size, of which the lower triangle is read; overwritten with R, zeros above the diagonal
 * @returns ln det A
 * @throws RangeError where the matrix isn't positive definite
 */
export function invertFactor(matrix: Float64Array, size: number): number {
  let logDeterminant = 0;
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i * size + j]!;
      for (let k = 0; k < j; k++) sum -= matrix[i * size + k]! * matrix[j * size + k]!;
      if (i > j) {
        matrix[i * size + j] = sum / matrix[j * size + j]!;
        continue;
      }
      if (!(sum > 0 && Number.isFinite(sum)))
        throw new RangeError(`pivot ${i} of ${size} is ${sum}, expected a positive definite matrix`);
      matrix[i * size + i] = Math.sqrt(sum);
      logDeterminant += Math.log(sum);
    }
  }
  for (let i = 0; i < size; i++) {
    const pivot = matrix[i * size + i]!;
    for (let j = 0; j < i; j++) {
      let sum = 0;
      for (let k = j; k < i; k++) sum -= matrix[i * size + k]! * matrix[k * size + j]!;
      matrix[i * size + j] = sum / pivot;
    }
    matrix[i * size + i] = 1 / pivot;
    for (let j = i + 1; j < size; j++) matrix[i * size + j] = 0;
  }
  return logDeterminant;
}

/** Rᵀ R for a lower triangular R: the inverse of the matrix that {@link invertFactor} was given. */
export function gram(factor: Float64Array, size: number): Float64Array {
  const result = new Float64Array(size * size);
  for (let k = 0; k < size; k++)
    for (let i = 0; i <= k; i++) {
      const value = factor[k * size + i]!;
      if (value === 0) continue;
      for (let j = 0; j <= k; j++)
        result[i * size + j] = result[i * size + j]! + value * factor[k * size + j]!;
    }
  return result;
}

/** R X for a lower triangular R, size × size, and X of size × columns. */
export function multiplyLower(
  lower: Float64Array,
  size: number,
  x: Float64Array,
  columns: number,
): Float64Array {
  const result = new Float64Array(size * columns);
  for (let i = 0; i < size; i++)
    for (let k = 0; k <= i; k++) {
      const factor = lower[i * size + k]!;
      if (factor === 0) continue;
      for (let c = 0; c < columns; c++)
        result[i * columns + c] = result[i * columns + c]! + factor * x[k * columns + c]!;
    }
  return result;
}

/** Rᵀ X for a lower triangular R. */
export function multiplyLowerTransposed(
  lower: Float64Array,
  size: number,
  x: Float64Array,
  columns: number,
): Float64Array {
  return multiply(transposed(lower, size), size, size, x, columns);
}

/** A X for A of rows × inner and X of inner × columns. */
export function multiply(
  a: Float64Array,
  rows: number,
  inner: number,
  b: Float64Array,
  columns: number,
): Float64Array {
  const result = new Float64Array(rows * columns);
  for (let i = 0; i < rows; i++)
    for (let k = 0; k < inner; k++) {
      const factor = a[i * inner + k]!;
      if (factor === 0) continue;
      for (let c = 0; c < columns; c++)
        result[i * columns + c] = result[i * columns + c]! + factor * b[k * columns + c]!;
    }
  return result;
}

/** Aᵀ of a square matrix. */
export function transposed(a: Float64Array, size: number): Float64Array {
  const result = new Float64Array(size * size);
  for (let i = 0; i < size; i++) for (let j = 0; j < size; j++) result[j * size + i] = a[i * size + j]!;
  return result;
}
