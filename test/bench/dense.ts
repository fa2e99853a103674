/**
 * The same Newton with a dense general-purpose factorisation: same tangent, same memory of forces, same balance, only
 * that the linear systems go to ml-matrix. Undamped whole steps, which is what the solver takes after a small change.
 */
import { CholeskyDecomposition, LuDecomposition, Matrix } from "ml-matrix";
import { assembleTangent, energyAndGradient, memberForces } from "../../src/geometry/energy.ts";
import type { Network } from "../../src/geometry/model.ts";
import { engagedOffsets, predictForces } from "../../src/geometry/step-forces.ts";
import type { NetworkStructure } from "../../src/geometry/structure.ts";

export type DenseKind = "Cholesky" | "LU";

export interface DenseResult {
  readonly positions: Float64Array;
  readonly iterations: number;
  readonly residualN: number;
}

/**
 * @throws Error where it doesn't converge, or a tangent isn't positive definite
 */
export function solveDense(
  network: Network,
  structure: NetworkStructure,
  unstretched: Float64Array,
  tolerance: number,
  kind: DenseKind,
): DenseResult {
  const actions = { unstretched, loads: network.loads };
  const x = Float64Array.from(network.positions);
  const gradient = new Float64Array(x.length);
  const right = new Float64Array(x.length);
  const step = new Float64Array(x.length);
  const forces = memberForces(network, network.unstretched, x);
  const free = Int32Array.from(x.keys()).filter((i) => !network.fixed[i]);
  const scale = worst(network.loads, network.fixed.map(() => 0) as Uint8Array);
  for (let iterations = 0; iterations < 30; iterations++) {
    energyAndGradient(network, actions, x, gradient);
    const residualN = worst(gradient, network.fixed);
    if (residualN <= tolerance * scale) return { positions: x, iterations, residualN };
    assembleTangent(network, structure, actions, x, structure.tangent, false, forces);
    for (let i = 0; i < x.length; i++) right[i] = -(gradient[i] as number);
    engagedOffsets(network, actions, x, forces, right);
    const matrix = denseTangent(structure, free);
    const known = Matrix.columnVector(Array.from(free, (i) => right[i] as number));
    const solution = solveMatrix(matrix, known, kind);
    step.fill(0);
    free.forEach((i, k) => {
      step[i] = solution.get(k, 0);
    });
    predictForces(network, actions, x, step, forces);
    for (let i = 0; i < x.length; i++) x[i] = (x[i] as number) + (step[i] as number);
  }
  throw new Error("the dense Newton didn't converge");
}

function solveMatrix(matrix: Matrix, known: Matrix, kind: DenseKind): Matrix {
  if (kind === "LU") return new LuDecomposition(matrix).solve(known);
  const cholesky = new CholeskyDecomposition(matrix);
  if (!cholesky.isPositiveDefinite()) throw new Error("the tangent isn't positive definite");
  return cholesky.solve(known);
}

/** The assembled blocks laid out as a full matrix of the free coordinates. */
function denseTangent(structure: NetworkStructure, free: Int32Array): Matrix {
  const { order, factor, tangent } = structure;
  const { size, starts, rows } = factor.pattern;
  const placeOf = new Int32Array(3 * size).fill(-1);
  free.forEach((i, k) => {
    placeOf[i] = k;
  });
  const matrix = Matrix.zeros(free.length, free.length);
  for (let p = 0; p < size; p++)
    for (let q = starts[p] as number; q < (starts[p + 1] as number); q++)
      for (let row = 0; row < 3; row++)
        for (let column = 0; column < 3; column++) {
          const i = placeOf[3 * (order[rows[q] as number] as number) + row] as number;
          const j = placeOf[3 * (order[p] as number) + column] as number;
          if (i < 0 || j < 0) continue;
          const value = tangent[9 * q + 3 * row + column] as number;
          matrix.set(i, j, value);
          matrix.set(j, i, value);
        }
  return matrix;
}

/** Largest vector of three, held coordinates left out. */
function worst(vectors: Float64Array, fixed: Uint8Array): number {
  let square = 0;
  for (let i = 0; i < vectors.length; i += 3) {
    let sum = 0;
    for (let axis = 0; axis < 3; axis++) if (!fixed[i + axis]) sum += (vectors[i + axis] as number) ** 2;
    square = Math.max(square, sum);
  }
  return Math.sqrt(square);
}
