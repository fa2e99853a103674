/** The same potential given to a general-purpose minimiser: fmin's nonlinear conjugate gradients. */
import { conjugateGradient } from "fmin/index.js";
import { assembleTangent, energyAndGradient } from "../../src/geometry/energy.ts";
import type { Network } from "../../src/geometry/model.ts";
import type { NetworkStructure } from "../../src/geometry/structure.ts";

export interface MinimiserResult {
  readonly positions: Float64Array;
  readonly evaluations: number;
  /** Least of the largest out-of-balance forces that it came to [N]. */
  readonly residualN: number;
}

/**
 * Coordinates are scaled by the root of the tangent's diagonal, without which its line search finds no step short enough
 * for stiff lines.
 *
 * @param residualN where to stop: no node is off by more than this [N]
 * @param mostEvaluations of energy and gradient
 */
export function minimise(
  network: Network,
  structure: NetworkStructure,
  unstretched: Float64Array,
  residualN: number,
  mostEvaluations: number,
): MinimiserResult {
  const actions = { unstretched, loads: network.loads };
  const free = Int32Array.from(network.positions.keys()).filter((i) => !network.fixed[i]);
  assembleTangent(network, structure, actions, network.positions, structure.tangent, true);
  const unit = Float64Array.from(free, (i) => {
    const block = structure.diagonalBlock[Math.floor(i / 3)] as number;
    return 1 / Math.sqrt(structure.tangent[9 * block + 4 * (i % 3)] as number);
  });
  const x = Float64Array.from(network.positions);
  const whole = new Float64Array(x.length);
  const best = { residual: Infinity, positions: Float64Array.from(x) };
  let evaluations = 0;
  const f = (variables: Float64Array, gradient: Float64Array): number => {
    evaluations++;
    for (let k = 0; k < free.length; k++)
      x[free[k] as number] = (variables[k] as number) * (unit[k] as number);
    const { energy } = energyAndGradient(network, actions, x, whole);
    for (let k = 0; k < free.length; k++)
      gradient[k] = (whole[free[k] as number] as number) * (unit[k] as number);
    const residual = largestAtFreeNode(network, whole);
    if (residual < best.residual) {
      best.residual = residual;
      best.positions.set(x);
    }
    // It stops by itself only at a fixed gradient norm.
    if (residual <= residualN || evaluations >= mostEvaluations) throw STOP;
    return energy;
  };
  try {
    conjugateGradient(
      f,
      Float64Array.from(free, (i, k) => (network.positions[i] as number) / (unit[k] as number)),
      { maxIterations: mostEvaluations },
    );
  } catch (reason) {
    if (reason !== STOP) throw reason;
  }
  return { positions: best.positions, evaluations, residualN: best.residual };
}

const STOP = Symbol("stop");

function largestAtFreeNode(network: Network, gradient: Float64Array): number {
  let square = 0;
  for (let i = 0; i < gradient.length; i += 3) {
    if (network.fixed[i]) continue;
    square = Math.max(
      square,
      (gradient[i] as number) ** 2 + (gradient[i + 1] as number) ** 2 + (gradient[i + 2] as number) ** 2,
    );
  }
  return Math.sqrt(square);
}
