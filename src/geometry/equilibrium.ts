/**
 * Equilibrium of a network: Newton's method on the potential with the exact tangent and a sparse factorisation whose
 * symbolic part is made once.
 */
import { outerBalance } from "./balance.ts";
import { descend } from "./descent.ts";
import { type Actions, assembleTangent, memberForces } from "./energy.ts";
import type { Equilibrium, Network } from "./model.ts";
import { factorise } from "./sparse/ldl.ts";
import { analyseNetwork, type NetworkStructure } from "./structure.ts";

export interface EquilibriumOptions {
  /** 3n start positions; the network's own if left out [m]. */
  readonly start?: Float64Array;
  /**
   * m member forces of the state that the start positions come from, tension positive [N]. With them a warm start under
   * other lengths takes far fewer iterations; what it comes to doesn't depend on them but where there are several minima.
   */
  readonly startForces?: Float64Array;
  /** m unstretched lengths instead of the network's [m]. */
  readonly unstretched?: Float64Array;
  /** 3n loads instead of the network's [N]. */
  readonly loads?: Float64Array;
  /** The analysed topology, to be reused between solves of the same network. */
  readonly structure?: NetworkStructure;
  readonly maxIterations?: number;
  /** Converged when the largest out-of-balance force is below this times the largest load or member force. */
  readonly tolerance?: number;
}

const DEFAULT_TOLERANCE = 1e-11;
const DEFAULT_ITERATIONS = 400;
/** Iterations after which a plain descent is given up for one that starts softly. */
const PATIENCE = 40;

/**
 * Solve for the positions that minimise Π(x) = Σ lines + Σ bars + Σ bends − Σ f·x.
 *
 * Never diverges: a mechanism, an unbalanced loose node or an unbounded problem ends with `converged: false` and the
 * nodes named in `loose`. Results don't depend on numbering beyond round-off.
 *
 * @throws RangeError on a size mismatch, a non-finite number, a length or stiffness that isn't positive
 */
export function solveEquilibrium(network: Network, options: EquilibriumOptions = {}): Equilibrium {
  const structure = options.structure ?? analyseNetwork(network);
  const actions: Actions = {
    unstretched: options.unstretched ?? network.unstretched,
    loads: options.loads ?? network.loads,
  };
  const x = Float64Array.from(options.start ?? network.positions);
  checkArguments(network, actions, x, options.startForces);
  // Held coordinates stay where the network has them, whatever the start.
  for (let i = 0; i < x.length; i++) if (network.fixed[i]) x[i] = network.positions[i] as number;

  const tolerance = options.tolerance ?? DEFAULT_TOLERANCE;
  const maxIterations = options.maxIterations ?? DEFAULT_ITERATIONS;
  const start = Float64Array.from(x);
  // Without bars the potential is convex: any way down leads to the one set of tensions. With bars the nearest minimum counts.
  const convex = !network.bars.includes(1);
  const patience = convex ? Math.min(PATIENCE, maxIterations) : maxIterations;
  let descent = descend(network, structure, actions, x, tolerance, patience, options.startForces);
  let iterations = descent.iterations;
  if (convex && !descent.converged && iterations < maxIterations) {
    // Long slack chains are stiff along and loose across: elastic as rubber first, then ever stiffer.
    x.set(start);
    for (const softening of softenings(network, actions)) {
      const soft: Network = { ...network, stiffness: network.stiffness.map((ea) => ea * softening) };
      const stageTolerance = softening < 1 ? 1e-3 : tolerance;
      descent = descend(soft, structure, actions, x, stageTolerance, maxIterations - iterations);
      iterations += descent.iterations;
      if (iterations >= maxIterations) break;
    }
    if (iterations >= maxIterations) descent = descend(network, structure, actions, x, tolerance, 0);
  }
  const { converged, gradient, energy, residual } = descent;
  const reactionsN = new Float64Array(x.length);
  for (let i = 0; i < x.length; i++) if (network.fixed[i]) reactionsN[i] = gradient[i] as number;
  const tensionsN = memberForces(network, actions.unstretched, x);
  const slack: number[] = [];
  for (let m = 0; m < tensionsN.length; m++) if (network.bars[m] === 0 && tensionsN[m] === 0) slack.push(m);
  const loose = descent.firm ? [] : looseNodes(network, structure, actions, x);
  return {
    converged,
    iterations,
    residualN: residual,
    positions: x,
    tensionsN,
    reactionsN,
    slack,
    loose,
    energyJ: energy,
    balance: outerBalance(actions.loads, reactionsN, x),
  };
}

/**
 * Factors on the stiffnesses, from one at which the loads stretch the network by a fair part of its size up to 1.
 */
function softenings(network: Network, actions: Actions): number[] {
  let total = 0;
  for (const load of actions.loads) total += Math.abs(load);
  const stiffest = largest(network.stiffness);
  const factors: number[] = [];
  for (let factor = total / stiffest; factor > 0 && factor < 1; factor *= 8) factors.push(factor);
  return [...factors, 1];
}

/** Nodes whose degrees of freedom have no stiffness at the given positions: the tangent's vanishing pivots, one by one. */
function looseNodes(
  network: Network,
  structure: NetworkStructure,
  actions: Actions,
  x: Float64Array,
): number[] {
  const { factor, order, diagonalBlock, tangent: values } = structure;
  const stiffest = assembleTangent(network, structure, actions, x, values, true) || 1;
  const found = new Set<number>();
  for (;;) {
    const pivot = factorise(factor, values, 0, 1e-11 * stiffest);
    if (pivot === x.length) return [...found].sort((a, b) => a - b);
    const node = order[Math.floor(pivot / 3)] as number;
    found.add(node);
    const diagonal = 9 * (diagonalBlock[node] as number) + 4 * (pivot % 3);
    values[diagonal] = (values[diagonal] as number) + stiffest;
  }
}

function largest(values: Float64Array): number {
  let result = 0;
  for (const value of values) result = Math.max(result, value);
  return result;
}

function checkArguments(
  network: Network,
  actions: Actions,
  x: Float64Array,
  startForces: Float64Array | undefined,
): void {
  const count = network.positions.length;
  const members = network.ends.length / 2;
  const sizes: [string, number, number][] = [
    ["fixed", network.fixed.length, count],
    ["loads", actions.loads.length, count],
    ["start", x.length, count],
    ["unstretched", actions.unstretched.length, members],
    ["stiffness", network.stiffness.length, members],
    ["bars", network.bars.length, members],
    ["startForces", startForces?.length ?? members, members],
  ];
  for (const [name, found, expected] of sizes)
    if (found !== expected) throw new RangeError(`${name} has ${found} entries, expected ${expected}`);
  for (const [name, list] of [
    ["position", x],
    ["load", actions.loads],
  ] as const)
    list.forEach((value, i) => {
      if (!Number.isFinite(value)) throw new RangeError(`${name} of node ${Math.floor(i / 3)} is ${value}`);
    });
  for (let m = 0; m < members; m++) {
    const rest = actions.unstretched[m] as number;
    const ea = network.stiffness[m] as number;
    if (!(rest > 0 && Number.isFinite(rest)))
      throw new RangeError(`unstretched length of member ${m} is ${rest}, expected a positive number`);
    if (!(ea > 0 && Number.isFinite(ea)))
      throw new RangeError(`stiffness EA of member ${m} is ${ea}, expected a positive number`);
  }
}
