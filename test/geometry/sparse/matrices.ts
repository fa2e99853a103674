/** Small symmetric matrices written densely, and their form for the sparse factorisation. */
import { Matrix } from "ml-matrix";
import type { BlockPattern } from "../../../src/geometry/sparse/ldl.ts";

export interface SparseSymmetric {
  readonly pattern: BlockPattern;
  readonly values: Float64Array;
}

/** Upper triangle of 3×3 blocks, block column by block column, the diagonal block last and always present. */
export function blocksOf(dense: Matrix): SparseSymmetric {
  const size = dense.rows / 3;
  const starts = new Int32Array(size + 1);
  const rows: number[] = [];
  const values: number[] = [];
  for (let col = 0; col < size; col++) {
    for (let row = 0; row <= col; row++) {
      const block = dense.subMatrix(3 * row, 3 * row + 2, 3 * col, 3 * col + 2).to1DArray();
      if (row !== col && block.every((value) => value === 0)) continue;
      rows.push(row);
      values.push(...block);
    }
    starts[col + 1] = rows.length;
  }
  return { pattern: { size, starts, rows: Int32Array.from(rows) }, values: Float64Array.from(values) };
}

/** Only the pattern, one block an entry of a matrix. */
export function patternOf(dense: Matrix): BlockPattern {
  const rows: number[] = [];
  const starts = new Int32Array(dense.rows + 1);
  for (let col = 0; col < dense.rows; col++) {
    for (let row = 0; row <= col; row++) if (row === col || dense.get(row, col) !== 0) rows.push(row);
    starts[col + 1] = rows.length;
  }
  return { size: dense.rows, starts, rows: Int32Array.from(rows) };
}

/**
 * Springs in space between random pairs of points, each stiff along itself and soft across, and soft springs to the ground:
 * symmetric, positive definite, 3 rows a point.
 */
export function springs(points: number, random: () => number, springsPerPoint = 2): Matrix {
  const dense = Matrix.zeros(3 * points, 3 * points);
  const add = (i: number, j: number, block: Matrix, factor: number): void => {
    for (let a = 0; a < 3; a++)
      for (let b = 0; b < 3; b++)
        dense.set(3 * i + a, 3 * j + b, dense.get(3 * i + a, 3 * j + b) + factor * block.get(a, b));
  };
  for (let i = 0; i < points; i++) {
    add(i, i, Matrix.eye(3, 3), 0.01 + (random() < 0.2 ? 10 * random() : 0));
    for (let s = 0; s < springsPerPoint; s++) {
      const j = Math.floor(random() * points);
      const along = Matrix.columnVector([random() - 0.5, random() - 0.5, random() - 0.5]);
      if (j === i) continue;
      const block = along
        .mmul(along.transpose())
        .mul(400 * random())
        .add(Matrix.eye(3, 3).mul(0.1));
      add(i, i, block, 1);
      add(j, j, block, 1);
      add(i, j, block, -1);
      add(j, i, block, -1);
    }
  }
  return dense;
}

/** Neighbour lists of a random net. */
export function randomNeighbours(count: number, random: () => number): number[][] {
  const lists: Set<number>[] = Array.from({ length: count }, () => new Set());
  for (let i = 0; i < 2 * count; i++) {
    const [a, b] = [Math.floor(random() * count), Math.floor(random() * count)];
    if (a === b) continue;
    lists[a]?.add(b);
    lists[b]?.add(a);
  }
  return lists.map((list) => [...list]);
}

/** Neighbour lists of a matrix's pattern. */
export function neighboursOf(dense: Matrix): number[][] {
  return Array.from({ length: dense.rows }, (_, i) =>
    Array.from({ length: dense.rows }, (__, j) => j).filter((j) => j !== i && dense.get(i, j) !== 0),
  );
}

/** The matrix with rows and columns in the given order. */
export function reordered(dense: Matrix, order: ArrayLike<number>): Matrix {
  const size = dense.rows;
  const out = Matrix.zeros(size, size);
  for (let i = 0; i < size; i++)
    for (let j = 0; j < size; j++) out.set(i, j, dense.get(order[i] as number, order[j] as number));
  return out;
}

/** A net of width × height points, each joined with the ones beside, above and below it. */
export function grid(width: number, height: number): Matrix {
  const size = width * height;
  const dense = Matrix.zeros(size, size);
  const join = (i: number, j: number): void => {
    dense.set(i, j, -1);
    dense.set(j, i, -1);
    dense.set(i, i, dense.get(i, i) + 1);
    dense.set(j, j, dense.get(j, j) + 1);
  };
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const here = y * width + x;
      if (x > 0) join(here - 1, here);
      if (y > 0) join(here - width, here);
    }
  for (let i = 0; i < size; i++) dense.set(i, i, dense.get(i, i) + 0.1);
  return dense;
}
