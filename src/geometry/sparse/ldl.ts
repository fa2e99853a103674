/**
 * Sparse LDLᵀ factorisation of a symmetric matrix of 3×3 blocks, one block row a node: its pattern is analysed once, its
 * values are factorised often. The blocks keep the index work small beside the arithmetic.
 *
 * Source: T. A. Davis, "Algorithm 849: a concise sparse Cholesky factorization package", ACM Trans. Math. Softw.
 * 31 (2005) 587–591 (the up-looking method on the elimination tree), here by blocks.
 */

/**
 * A symmetric block pattern: the upper triangle, block column by block column, block rows ascending, the diagonal block
 * last in each column. Values hold nine numbers a block, row by row.
 */
export interface BlockPattern {
  /** Number of block rows. */
  readonly size: number;
  /** size + 1 starts into `rows`. */
  readonly starts: Int32Array;
  readonly rows: Int32Array;
}

export interface Factor {
  readonly pattern: BlockPattern;
  readonly parent: Int32Array;
  /** Starts of L's block columns (unit diagonal not stored). */
  readonly starts: Int32Array;
  readonly rows: Int32Array;
  /** Nine numbers a block of L. */
  readonly values: Float64Array;
  /** Inverses of the diagonal blocks D, nine numbers each. */
  readonly inverse: Float64Array;
  /** One number: the smallest pivot of the last successful factorisation. */
  readonly smallestPivot: Float64Array;
  /** Scratch, kept so that a factorisation allocates nothing. */
  readonly work: Float64Array;
  readonly reach: Int32Array;
  readonly flag: Int32Array;
  readonly filled: Int32Array;
}

/** Analyse the pattern: elimination tree and the column counts of L. */
export function analysePattern(pattern: BlockPattern): Factor {
  const { size, starts, rows } = pattern;
  const parent = new Int32Array(size).fill(-1);
  const flag = new Int32Array(size).fill(-1);
  const counts = new Int32Array(size);
  for (let k = 0; k < size; k++) {
    flag[k] = k;
    for (let p = starts[k]!; p < starts[k + 1]!; p++) {
      let i = rows[p]!;
      while (i < k && flag[i] !== k) {
        if (parent[i] === -1) parent[i] = k;
        counts[i] = counts[i]! + 1;
        flag[i] = k;
        i = parent[i]!;
      }
    }
  }
  const columnStarts = new Int32Array(size + 1);
  for (let k = 0; k < size; k++) columnStarts[k + 1] = columnStarts[k]! + counts[k]!;
  const fill = columnStarts[size]!;
  return {
    pattern,
    parent,
    starts: columnStarts,
    rows: new Int32Array(fill),
    values: new Float64Array(9 * fill),
    inverse: new Float64Array(9 * size),
    smallestPivot: new Float64Array(1),
    work: new Float64Array(9 * size),
    reach: new Int32Array(size),
    flag,
    filled: new Int32Array(size),
  };
}

/**
 * Factorise A + shift·I into the given factor, in place.
 *
 * @param values the matrix, nine numbers a block of the pattern
 * @param shift added to every diagonal entry
 * @param floor the smallest pivot accepted
 * @returns 3·size on success, else the row (in the pattern's order) of the first pivot that isn't above `floor`: the
 *   matrix isn't positive definite there
 */
export function factorise(factor: Factor, values: Float64Array, shift: number, floor: number): number {
  const { pattern, parent, starts, rows, inverse, work, reach, flag, filled } = factor;
  const { size } = pattern;
  const lower = factor.values;
  let smallest = Infinity;
  flag.fill(-1);
  filled.fill(0);
  for (let k = 0; k < size; k++) {
    flag[k] = k;
    let top = size;
    const end = pattern.starts[k + 1]! - 1;
    for (let p = pattern.starts[k]!; p < end; p++) {
      let i = pattern.rows[p]!;
      const w = 9 * i;
      const v = 9 * p;
      for (let e = 0; e < 9; e++) work[w + e] = values[v + e]!;
      let length = 0;
      while (flag[i] !== k) {
        reach[length++] = i;
        flag[i] = k;
        i = parent[i]!;
      }
      while (length > 0) reach[--top] = reach[--length]!;
    }
    const d = 9 * end;
    let d00 = values[d]! + shift;
    let d01 = values[d + 1]!;
    let d02 = values[d + 2]!;
    let d11 = values[d + 4]! + shift;
    let d12 = values[d + 5]!;
    let d22 = values[d + 8]! + shift;
    for (; top < size; top++) {
      const i = reach[top]!;
      const w = 9 * i;
      const y0 = work[w]!;
      const y1 = work[w + 1]!;
      const y2 = work[w + 2]!;
      const y3 = work[w + 3]!;
      const y4 = work[w + 4]!;
      const y5 = work[w + 5]!;
      const y6 = work[w + 6]!;
      const y7 = work[w + 7]!;
      const y8 = work[w + 8]!;
      for (let e = 0; e < 9; e++) work[w + e] = 0;
      const stop = starts[i]! + filled[i]!;
      for (let p = starts[i]!; p < stop; p++) {
        const r = 9 * rows[p]!;
        const q = 9 * p;
        const l0 = lower[q]!;
        const l1 = lower[q + 1]!;
        const l2 = lower[q + 2]!;
        const l3 = lower[q + 3]!;
        const l4 = lower[q + 4]!;
        const l5 = lower[q + 5]!;
        const l6 = lower[q + 6]!;
        const l7 = lower[q + 7]!;
        const l8 = lower[q + 8]!;
        work[r] = work[r]! - (l0 * y0 + l1 * y3 + l2 * y6);
        work[r + 1] = work[r + 1]! - (l0 * y1 + l1 * y4 + l2 * y7);
        work[r + 2] = work[r + 2]! - (l0 * y2 + l1 * y5 + l2 * y8);
        work[r + 3] = work[r + 3]! - (l3 * y0 + l4 * y3 + l5 * y6);
        work[r + 4] = work[r + 4]! - (l3 * y1 + l4 * y4 + l5 * y7);
        work[r + 5] = work[r + 5]! - (l3 * y2 + l4 * y5 + l5 * y8);
        work[r + 6] = work[r + 6]! - (l6 * y0 + l7 * y3 + l8 * y6);
        work[r + 7] = work[r + 7]! - (l6 * y1 + l7 * y4 + l8 * y7);
        work[r + 8] = work[r + 8]! - (l6 * y2 + l7 * y5 + l8 * y8);
      }
      // The new block of L is (D⁻¹ Y)ᵀ; D loses L Y.
      const s0 = inverse[w]!;
      const s1 = inverse[w + 1]!;
      const s2 = inverse[w + 2]!;
      const s4 = inverse[w + 4]!;
      const s5 = inverse[w + 5]!;
      const s8 = inverse[w + 8]!;
      const a0 = s0 * y0 + s1 * y3 + s2 * y6;
      const a1 = s1 * y0 + s4 * y3 + s5 * y6;
      const a2 = s2 * y0 + s5 * y3 + s8 * y6;
      const b0 = s0 * y1 + s1 * y4 + s2 * y7;
      const b1 = s1 * y1 + s4 * y4 + s5 * y7;
      const b2 = s2 * y1 + s5 * y4 + s8 * y7;
      const c0 = s0 * y2 + s1 * y5 + s2 * y8;
      const c1 = s1 * y2 + s4 * y5 + s5 * y8;
      const c2 = s2 * y2 + s5 * y5 + s8 * y8;
      d00 -= a0 * y0 + a1 * y3 + a2 * y6;
      d01 -= a0 * y1 + a1 * y4 + a2 * y7;
      d02 -= a0 * y2 + a1 * y5 + a2 * y8;
      d11 -= b0 * y1 + b1 * y4 + b2 * y7;
      d12 -= b0 * y2 + b1 * y5 + b2 * y8;
      d22 -= c0 * y2 + c1 * y5 + c2 * y8;
      const q = 9 * stop;
      rows[stop] = k;
      lower[q] = a0;
      lower[q + 1] = a1;
      lower[q + 2] = a2;
      lower[q + 3] = b0;
      lower[q + 4] = b1;
      lower[q + 5] = b2;
      lower[q + 6] = c0;
      lower[q + 7] = c1;
      lower[q + 8] = c2;
      filled[i] = filled[i]! + 1;
    }
    // Pivots of the diagonal block, one by one, so that the failing row can be named.
    const m1 = d01 / d00;
    const m2 = d02 / d00;
    const p1 = d11 - m1 * d01;
    const n12 = d12 - m1 * d02;
    const p2 = d22 - m2 * d02 - (n12 * n12) / p1;
    const bad = !(d00 > floor) ? 0 : !(p1 > floor) ? 1 : !(p2 > floor) ? 2 : 3;
    if (bad < 3) {
      work.fill(0);
      return 3 * k + bad;
    }
    smallest = Math.min(smallest, d00, p1, p2);
    const determinant = d00 * p1 * p2;
    const w = 9 * k;
    const i01 = (d02 * d12 - d01 * d22) / determinant;
    const i02 = (d01 * d12 - d02 * d11) / determinant;
    const i12 = (d01 * d02 - d00 * d12) / determinant;
    inverse[w] = (d11 * d22 - d12 * d12) / determinant;
    inverse[w + 1] = i01;
    inverse[w + 2] = i02;
    inverse[w + 3] = i01;
    inverse[w + 4] = (d00 * d22 - d02 * d02) / determinant;
    inverse[w + 5] = i12;
    inverse[w + 6] = i02;
    inverse[w + 7] = i12;
    inverse[w + 8] = (d00 * d11 - d01 * d01) / determinant;
  }
  factor.smallestPivot[0] = smallest;
  return 3 * size;
}

/** Solve L D Lᵀ x = b in place, after a successful factorisation; b has three numbers a block row. */
export function solveFactored(factor: Factor, b: Float64Array): void {
  const { starts, rows, values, inverse, pattern } = factor;
  const { size } = pattern;
  for (let j = 0; j < size; j++) {
    const x0 = b[3 * j]!;
    const x1 = b[3 * j + 1]!;
    const x2 = b[3 * j + 2]!;
    for (let p = starts[j]!; p < starts[j + 1]!; p++) {
      const r = 3 * rows[p]!;
      const q = 9 * p;
      b[r] = b[r]! - (values[q]! * x0 + values[q + 1]! * x1 + values[q + 2]! * x2);
      b[r + 1] = b[r + 1]! - (values[q + 3]! * x0 + values[q + 4]! * x1 + values[q + 5]! * x2);
      b[r + 2] = b[r + 2]! - (values[q + 6]! * x0 + values[q + 7]! * x1 + values[q + 8]! * x2);
    }
  }
  for (let j = size - 1; j >= 0; j--) {
    const x0 = b[3 * j]!;
    const x1 = b[3 * j + 1]!;
    const x2 = b[3 * j + 2]!;
    const w = 9 * j;
    let z0 = inverse[w]! * x0 + inverse[w + 1]! * x1 + inverse[w + 2]! * x2;
    let z1 = inverse[w + 3]! * x0 + inverse[w + 4]! * x1 + inverse[w + 5]! * x2;
    let z2 = inverse[w + 6]! * x0 + inverse[w + 7]! * x1 + inverse[w + 8]! * x2;
    for (let p = starts[j]!; p < starts[j + 1]!; p++) {
      const r = 3 * rows[p]!;
      const q = 9 * p;
      const y0 = b[r]!;
      const y1 = b[r + 1]!;
      const y2 = b[r + 2]!;
      z0 -= values[q]! * y0 + values[q + 3]! * y1 + values[q + 6]! * y2;
      z1 -= values[q + 1]! * y0 + values[q + 4]! * y1 + values[q + 7]! * y2;
      z2 -= values[q + 2]! * y0 + values[q + 5]! * y1 + values[q + 8]! * y2;
    }
    b[3 * j] = z0;
    b[3 * j + 1] = z1;
    b[3 * j + 2] = z2;
  }
}
