/**
 * Potential energy of a network, its gradient and its exact tangent.
 *
 * A line is straight and elastic: T = EA (l − L0)/L0 where l > L0, else 0; its energy is ½ (EA/L0) (l − L0)²; its
 * tangent (EA/L0) n nᵀ + (T/l) (I − n nᵀ) with n the unit vector along it. Dead loads add −f·x. Bends add a
 * quadratic. Standard structural mechanics, engineering strain on the unstretched length; the lines' part is convex
 * in the node positions, so tensions are unique, slack lines included.
 */
import type { Network } from "./model.ts";
import type { NetworkStructure } from "./structure.ts";

/** Slackness below which a line still counts as taut, over its unstretched length. */
const JUST_TAUT = 1e-12;

/** What a state of the network may differ in from the network itself. */
export interface Actions {
  readonly unstretched: Float64Array;
  readonly loads: Float64Array;
}

/**
 * Energy and gradient at given positions.
 *
 * @param gradient 3n, overwritten with ∂Π/∂x [N], support coordinates included (there it is minus the reaction)
 * @returns the energy, and the sum of its terms' sizes (a measure for round-off) [J]
 */
export function energyAndGradient(
  network: Network,
  actions: Actions,
  x: Float64Array,
  gradient: Float64Array,
): { energy: number; magnitude: number } {
  const { ends, stiffness, bars, bends } = network;
  const { unstretched, loads } = actions;
  let energy = 0;
  let magnitude = 0;
  for (let i = 0; i < x.length; i++) {
    const f = loads[i] as number;
    gradient[i] = -f;
    const work = f * (x[i] as number);
    energy -= work;
    magnitude += Math.abs(work);
  }
  const members = unstretched.length;
  for (let m = 0; m < members; m++) {
    const a = 3 * (ends[2 * m] as number);
    const b = 3 * (ends[2 * m + 1] as number);
    const dx = (x[b] as number) - (x[a] as number);
    const dy = (x[b + 1] as number) - (x[a + 1] as number);
    const dz = (x[b + 2] as number) - (x[a + 2] as number);
    const length = Math.sqrt(dx * dx + dy * dy + dz * dz);
    const rest = unstretched[m] as number;
    const extension = length - rest;
    if (extension <= 0 && bars[m] === 0) continue;
    const rate = (stiffness[m] as number) / rest;
    const stored = 0.5 * rate * extension * extension;
    energy += stored;
    magnitude += stored;
    if (length === 0) continue;
    const q = (rate * extension) / length;
    gradient[a] = (gradient[a] as number) - q * dx;
    gradient[a + 1] = (gradient[a + 1] as number) - q * dy;
    gradient[a + 2] = (gradient[a + 2] as number) - q * dz;
    gradient[b] = (gradient[b] as number) + q * dx;
    gradient[b + 1] = (gradient[b + 1] as number) + q * dy;
    gradient[b + 2] = (gradient[b + 2] as number) + q * dz;
  }
  for (let b = 0; b < bends.stiffness.length; b++) {
    const curvature = bendCurvature(network, b, x) - (bends.rest[b] as number);
    const k = bends.stiffness[b] as number;
    const stored = 0.5 * k * curvature * curvature;
    energy += stored;
    magnitude += stored;
    for (let j = 0; j < 3; j++) {
      const node = 3 * (bends.nodes[3 * b + j] as number);
      const w = (bends.weights[3 * b + j] as number) * k * curvature;
      for (let axis = 0; axis < 3; axis++)
        gradient[node + axis] =
          (gradient[node + axis] as number) + w * (bends.directions[3 * b + axis] as number);
    }
  }
  return { energy, magnitude };
}

/** Curvature of one bend along its direction at given positions [1/m]. */
export function bendCurvature(network: Network, b: number, x: Float64Array): number {
  const { bends } = network;
  let curvature = 0;
  for (let j = 0; j < 3; j++) {
    const node = 3 * (bends.nodes[3 * b + j] as number);
    const along =
      (x[node] as number) * (bends.directions[3 * b] as number) +
      (x[node + 1] as number) * (bends.directions[3 * b + 1] as number) +
      (x[node + 2] as number) * (bends.directions[3 * b + 2] as number);
    curvature += (bends.weights[3 * b + j] as number) * along;
  }
  return curvature;
}

/**
 * Assemble the tangent into the structure's block pattern.
 *
 * @param values nine numbers a block of the pattern, overwritten [N/m]
 * @param convex leave out the (negative) geometric stiffness of compressed bars, so that the result is positive
 *   semi-definite
 * @param forces m member forces to be taken for the geometric stiffness instead of those at the positions; a line with
 *   a force counts as taut, though its ends may be nearer than its length [N]
 * @returns the largest diagonal entry at a free coordinate [N/m]
 */
export function assembleTangent(
  network: Network,
  structure: NetworkStructure,
  actions: Actions,
  x: Float64Array,
  values: Float64Array,
  convex: boolean,
  forces?: Float64Array,
): number {
  const { ends, stiffness, bars, bends } = network;
  const { unstretched } = actions;
  const { memberBlock, bendBlock, diagonalBlock } = structure;
  values.fill(0);
  for (let m = 0; m < unstretched.length; m++) {
    const na = ends[2 * m]!;
    const nb = ends[2 * m + 1]!;
    const a = 3 * na;
    const b = 3 * nb;
    const dx = x[b]! - x[a]!;
    const dy = x[b + 1]! - x[a + 1]!;
    const dz = x[b + 2]! - x[a + 2]!;
    const square = dx * dx + dy * dy + dz * dz;
    const length = Math.sqrt(square);
    const rest = unstretched[m]!;
    const extension = length - rest;
    // A line that is just taut counts as taut, or nothing would hold a net drawn at its unstretched lengths.
    const force = forces ? forces[m]! : 0;
    if ((extension < -JUST_TAUT * rest && bars[m] === 0 && force <= 0) || length === 0) continue;
    const rate = stiffness[m]! / rest;
    let geometric = (forces ? force : rate * extension) / length;
    if (geometric < 0 && (convex || bars[m] === 0)) geometric = 0;
    const axial = (rate - geometric) / square;
    const kxx = axial * dx * dx + geometric;
    const kxy = axial * dx * dy;
    const kxz = axial * dx * dz;
    const kyy = axial * dy * dy + geometric;
    const kyz = axial * dy * dz;
    const kzz = axial * dz * dz + geometric;
    addBlock(values, 9 * diagonalBlock[na]!, 1, kxx, kxy, kxz, kyy, kyz, kzz);
    addBlock(values, 9 * diagonalBlock[nb]!, 1, kxx, kxy, kxz, kyy, kyz, kzz);
    addBlock(values, 9 * memberBlock[m]!, -1, kxx, kxy, kxz, kyy, kyz, kzz);
  }
  for (let b = 0; b < bends.stiffness.length; b++) {
    const k = bends.stiffness[b]!;
    const dx = bends.directions[3 * b]!;
    const dy = bends.directions[3 * b + 1]!;
    const dz = bends.directions[3 * b + 2]!;
    const w0 = bends.weights[3 * b]!;
    const w1 = bends.weights[3 * b + 1]!;
    const w2 = bends.weights[3 * b + 2]!;
    const xx = k * dx * dx;
    const xy = k * dx * dy;
    const xz = k * dx * dz;
    const yy = k * dy * dy;
    const yz = k * dy * dz;
    const zz = k * dz * dz;
    addBlock(values, 9 * diagonalBlock[bends.nodes[3 * b]!]!, w0 * w0, xx, xy, xz, yy, yz, zz);
    addBlock(values, 9 * diagonalBlock[bends.nodes[3 * b + 1]!]!, w1 * w1, xx, xy, xz, yy, yz, zz);
    addBlock(values, 9 * diagonalBlock[bends.nodes[3 * b + 2]!]!, w2 * w2, xx, xy, xz, yy, yz, zz);
    addBlock(values, 9 * bendBlock[3 * b]!, w0 * w1, xx, xy, xz, yy, yz, zz);
    addBlock(values, 9 * bendBlock[3 * b + 1]!, w0 * w2, xx, xy, xz, yy, yz, zz);
    addBlock(values, 9 * bendBlock[3 * b + 2]!, w1 * w2, xx, xy, xz, yy, yz, zz);
  }
  return holdCoordinates(network, structure, values);
}

function addBlock(
  values: Float64Array,
  at: number,
  factor: number,
  xx: number,
  xy: number,
  xz: number,
  yy: number,
  yz: number,
  zz: number,
): void {
  values[at] = values[at]! + factor * xx;
  values[at + 1] = values[at + 1]! + factor * xy;
  values[at + 2] = values[at + 2]! + factor * xz;
  values[at + 3] = values[at + 3]! + factor * xy;
  values[at + 4] = values[at + 4]! + factor * yy;
  values[at + 5] = values[at + 5]! + factor * yz;
  values[at + 6] = values[at + 6]! + factor * xz;
  values[at + 7] = values[at + 7]! + factor * yz;
  values[at + 8] = values[at + 8]! + factor * zz;
}

/**
 * Held coordinates stay in the pattern, uncoupled, with a diagonal of ordinary size.
 *
 * @returns the largest diagonal entry at a free coordinate [N/m]
 */
function holdCoordinates(network: Network, structure: NetworkStructure, values: Float64Array): number {
  const { fixed } = network;
  const { order, diagonalBlock, factor } = structure;
  const { size, starts, rows } = factor.pattern;
  let largest = 0;
  for (let node = 0; node < size; node++) {
    const d = 9 * diagonalBlock[node]!;
    for (let axis = 0; axis < 3; axis++)
      if (!fixed[3 * node + axis]) largest = Math.max(largest, values[d + 4 * axis]!);
  }
  for (let p = 0; p < size; p++) {
    const later = 3 * order[p]!;
    const laterHeld = fixed[later]! + fixed[later + 1]! + fixed[later + 2]! > 0;
    for (let q = starts[p]!; q < starts[p + 1]!; q++) {
      const earlier = 3 * order[rows[q]!]!;
      if (!laterHeld && fixed[earlier]! + fixed[earlier + 1]! + fixed[earlier + 2]! === 0) continue;
      for (let row = 0; row < 3; row++)
        for (let column = 0; column < 3; column++)
          if (fixed[earlier + row] || fixed[later + column])
            values[9 * q + 3 * row + column] = earlier === later && row === column ? largest || 1 : 0;
    }
  }
  return largest;
}

/** Member forces at given positions, tension positive; 0 in a slack line [N]. */
export function memberForces(network: Network, unstretched: Float64Array, x: Float64Array): Float64Array {
  const forces = new Float64Array(unstretched.length);
  memberForcesInto(network, unstretched, x, forces);
  return forces;
}

/** The same, into a given array of m. */
export function memberForcesInto(
  network: Network,
  unstretched: Float64Array,
  x: Float64Array,
  forces: Float64Array,
): void {
  const { ends, stiffness, bars } = network;
  for (let m = 0; m < forces.length; m++) {
    const length = memberLength(ends, m, x);
    const rest = unstretched[m] as number;
    const force = ((stiffness[m] as number) * (length - rest)) / rest;
    forces[m] = force > 0 || bars[m] === 1 ? force : 0;
  }
}

/** Distance between a member's ends [m]. */
export function memberLength(ends: Int32Array, m: number, x: Float64Array): number {
  const a = 3 * (ends[2 * m] as number);
  const b = 3 * (ends[2 * m + 1] as number);
  const dx = x[b]! - x[a]!;
  const dy = x[b + 1]! - x[a + 1]!;
  const dz = x[b + 2]! - x[a + 2]!;
  return Math.sqrt(dx * dx + dy * dy + dz * dz);
}
