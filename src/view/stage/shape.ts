/** Node positions as drawn: what the rigging does in true size, what the lines' lengths do multiplied. */
import type { Equilibrium } from "../../geometry/model.ts";

/**
 * Displacement to draw at every node, counted from the reference state [m]:
 * (specified under the rigging − reference) + exaggeration · (state − specified under the rigging).
 *
 * @param out 3n, overwritten.
 */
export function drawnDisplacement(
  reference: Equilibrium,
  specified: Equilibrium,
  state: Equilibrium,
  exaggeration: number,
  out: Float64Array,
): void {
  for (let i = 0; i < out.length; i++) {
    const base = specified.positions[i] as number;
    out[i] =
      base - (reference.positions[i] as number) + exaggeration * ((state.positions[i] as number) - base);
  }
}

/** positions = base + displacement, 3n each; `out` is overwritten. */
export function addDisplacement(base: Float64Array, displacement: Float64Array, out: Float64Array): void {
  for (let i = 0; i < out.length; i++) out[i] = (base[i] as number) + (displacement[i] as number);
}

/**
 * Copies both ends of every segment: `ends` holds two point indices per segment, `out` gets x y z x y z per segment.
 *
 * @param offset first segment of `out` to write.
 */
export function fillSegments(
  points: ArrayLike<number>,
  ends: ArrayLike<number>,
  out: Float32Array,
  offset = 0,
): void {
  let o = 6 * offset;
  for (let e = 0; e < ends.length; e++) {
    const p = 3 * (ends[e] as number);
    out[o++] = points[p] as number;
    out[o++] = points[p + 1] as number;
    out[o++] = points[p + 2] as number;
  }
}

/** Length of each segment [m]; `segments` as from `fillSegments`. */
export function fillLengths(segments: Float32Array, out: Float32Array): void {
  for (let i = 0; i < out.length; i++) {
    const s = 6 * i;
    out[i] = Math.hypot(
      (segments[s + 3] as number) - (segments[s] as number),
      (segments[s + 4] as number) - (segments[s + 1] as number),
      (segments[s + 5] as number) - (segments[s + 2] as number),
    );
  }
}

/**
 * Unit normals at the vertices of a triangle mesh, weighted by area; vertices of no triangle get +z.
 *
 * @param positions 3v. @param triangles 3t vertex indices. @param out 3v, overwritten.
 */
export function vertexNormals(positions: Float32Array, triangles: Uint32Array, out: Float32Array): void {
  out.fill(0);
  for (let t = 0; t < triangles.length; t += 3) {
    const a = 3 * (triangles[t] as number);
    const b = 3 * (triangles[t + 1] as number);
    const c = 3 * (triangles[t + 2] as number);
    const ax = positions[a] as number;
    const ay = positions[a + 1] as number;
    const az = positions[a + 2] as number;
    const ux = (positions[b] as number) - ax;
    const uy = (positions[b + 1] as number) - ay;
    const uz = (positions[b + 2] as number) - az;
    const vx = (positions[c] as number) - ax;
    const vy = (positions[c + 1] as number) - ay;
    const vz = (positions[c + 2] as number) - az;
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    for (const v of [a, b, c]) {
      out[v] = (out[v] as number) + nx;
      out[v + 1] = (out[v + 1] as number) + ny;
      out[v + 2] = (out[v + 2] as number) + nz;
    }
  }
  for (let v = 0; v < out.length; v += 3) {
    const length = Math.hypot(out[v] as number, out[v + 1] as number, out[v + 2] as number);
    if (length === 0) out[v + 2] = 1;
    else for (let k = 0; k < 3; k++) out[v + k] = (out[v + k] as number) / length;
  }
}
