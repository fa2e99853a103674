/**
 * Loads of steady flight on the model's nodes: pressure at the tabs, drag and weight of the lines; balanced about the
 * carabiners and turned so that their resultant is vertical.
 */
import type { RibFrame } from "./outline.ts";
import { add, at, distance, dot, pitched, type ReadonlyVector, type Vector } from "./vector.ts";

export const GRAVITY = 9.80665;
/** Trim lift coefficient on the flat area and glide ratio: typical of published polars (Belloc 2015 near trim). */
const TRIM_LIFT = 0.6;
const TRIM_GLIDE = 8;
/** Cross-flow drag coefficient of a line (about 1: Babinsky 1999 and others). */
const LINE_DRAG = 1;

/** A line member for drag and weight. */
export interface LineBody {
  readonly ends: readonly [number, number];
  readonly diameterM: number;
  readonly massPerLengthKgM: number;
}

export interface FlightLoads {
  /** 3n dead loads [N]. */
  readonly loads: Float64Array;
  /** Turn about the y axis that makes the resultant vertical [rad]. */
  readonly pitchRad: number;
  /** 3n positions turned by it [m]. */
  readonly positions: Float64Array;
  /** Tangential over normal load that balances the moment about the carabiners. */
  readonly tangentialShare: number;
  readonly dynamicPressurePa: number;
}

/**
 * @param positions 3n, origin midway between the carabiners [m]
 * @param pressed tabs that the pressure pulls at: node, relative load and the rib's frame
 * @param weightN all-up weight, the vertical sum of the loads
 * @param flatAreaM2 for the dynamic pressure of level trim, W/(S·C_L)
 */
export function flightLoads(
  positions: Float64Array,
  held: (node: number) => boolean,
  pressed: readonly { readonly node: number; readonly weight: number; readonly frame: RibFrame }[],
  lines: readonly LineBody[],
  weightN: number,
  flatAreaM2: number,
): FlightLoads {
  const dynamicPressurePa = weightN / (flatAreaM2 * TRIM_LIFT);
  let pitchRad = 0;
  let turned = Float64Array.from(positions);
  let loads: Float64Array<ArrayBufferLike> = new Float64Array(positions.length);
  let tangentialShare = 0;
  for (let round = 0; round < 30; round++) {
    loads = lineLoads(turned, lines, dynamicPressurePa);
    // The support takes what falls on held nodes; it has no part in the wing's balance.
    const fromLines = resultant(turned, loads, held);
    const normal = pressureSum(turned, pressed, pitchRad, 0);
    const along = pressureSum(turned, pressed, pitchRad, 1);
    // p (N + τ T) + L: vertical sum W, no moment about the carabiners' axis. Two equations, linear in p and p τ.
    const determinant = normal.force[2] * along.momentY - along.force[2] * normal.momentY;
    const lift = weightN - fromLines.force[2];
    const p = (lift * along.momentY + along.force[2] * fromLines.momentY) / determinant;
    const pTau = (-normal.force[2] * fromLines.momentY - lift * normal.momentY) / determinant;
    tangentialShare = pTau / p;
    for (const { node, weight, frame } of pressed) {
      const n = pitched(frame.normal, pitchRad);
      const t = pitched(frame.chordDirection, pitchRad);
      for (let axis = 0; axis < 3; axis++)
        loads[3 * node + axis] =
          (loads[3 * node + axis] as number) +
          weight * (p * (n[axis] as number) + pTau * (t[axis] as number));
    }
    const total = resultant(turned, loads, held).force;
    // A resultant that points aft is made vertical by turning the wing nose-down about the carabiners.
    const correction = Math.atan2(total[0], total[2]);
    if (Math.abs(correction) < 1e-10) break;
    pitchRad += correction;
    turned = rotated(positions, pitchRad);
  }
  return { loads, pitchRad, positions: turned, tangentialShare, dynamicPressurePa };
}

/** Weight and cross-flow drag ½ρV²·d·C_d·l·sin²-projected, half to each end. */
function lineLoads(
  positions: Float64Array,
  lines: readonly LineBody[],
  dynamicPressurePa: number,
): Float64Array {
  const loads = new Float64Array(positions.length);
  const slope = Math.hypot(TRIM_GLIDE, 1);
  const flow: Vector = [TRIM_GLIDE / slope, 0, 1 / slope];
  for (const { ends, diameterM, massPerLengthKgM } of lines) {
    const a = at(positions, ends[0]);
    const b = at(positions, ends[1]);
    const length = distance(a, b);
    if (length === 0) continue;
    const direction: Vector = [(b[0] - a[0]) / length, (b[1] - a[1]) / length, (b[2] - a[2]) / length];
    const across = add(flow, direction, -dot(flow, direction));
    const size = Math.hypot(...across);
    const drag = dynamicPressurePa * diameterM * LINE_DRAG * length * size;
    for (const node of ends) {
      for (let axis = 0; axis < 3; axis++)
        loads[3 * node + axis] = (loads[3 * node + axis] as number) + 0.5 * drag * (across[axis] as number);
      loads[3 * node + 2] = (loads[3 * node + 2] as number) - 0.5 * massPerLengthKgM * length * GRAVITY;
    }
  }
  return loads;
}

function pressureSum(
  positions: Float64Array,
  pressed: readonly { readonly node: number; readonly weight: number; readonly frame: RibFrame }[],
  pitchRad: number,
  which: 0 | 1,
): { force: Vector; momentY: number } {
  let force: Vector = [0, 0, 0];
  let momentY = 0;
  for (const { node, weight, frame } of pressed) {
    const direction = pitched(which === 0 ? frame.normal : frame.chordDirection, pitchRad);
    force = add(force, direction, weight);
    const x = at(positions, node);
    momentY += weight * (x[2] * direction[0] - x[0] * direction[2]);
  }
  return { force, momentY };
}

function resultant(
  positions: Float64Array,
  loads: Float64Array,
  held: (node: number) => boolean,
): { force: Vector; momentY: number } {
  let force: Vector = [0, 0, 0];
  let momentY = 0;
  for (let node = 0; node < positions.length / 3; node++) {
    if (held(node)) continue;
    const f: ReadonlyVector = at(loads, node);
    const x = at(positions, node);
    force = add(force, f);
    momentY += x[2] * f[0] - x[0] * f[2];
  }
  return { force, momentY };
}

function rotated(positions: Float64Array, angleRad: number): Float64Array<ArrayBuffer> {
  const out = new Float64Array(positions.length);
  for (let node = 0; node < positions.length / 3; node++) {
    const [x, y, z] = pitched(at(positions, node), angleRad);
    out[3 * node] = x;
    out[3 * node + 1] = y;
    out[3 * node + 2] = z;
  }
  return out;
}
