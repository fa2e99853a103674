/** Three-component vectors, as few operations as the geometry needs. */
export type Vector = [number, number, number];
export type ReadonlyVector = readonly [number, number, number];

export function add(a: ReadonlyVector, b: ReadonlyVector, factor = 1): Vector {
  return [a[0] + factor * b[0], a[1] + factor * b[1], a[2] + factor * b[2]];
}

export function dot(a: ReadonlyVector, b: ReadonlyVector): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

export function distance(a: ReadonlyVector, b: ReadonlyVector): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}

/** Unit vector from a to b; straight up where they coincide. */
export function towards(a: ReadonlyVector, b: ReadonlyVector): Vector {
  const length = distance(a, b);
  return length > 0 ? [(b[0] - a[0]) / length, (b[1] - a[1]) / length, (b[2] - a[2]) / length] : [0, 0, 1];
}

/** Turn about the y axis, x towards z: positive lifts what lies aft. */
export function pitched(a: ReadonlyVector, angleRad: number): Vector {
  const cos = Math.cos(angleRad);
  const sin = Math.sin(angleRad);
  return [cos * a[0] - sin * a[2], a[1], sin * a[0] + cos * a[2]];
}

export function at(positions: Float64Array, node: number): Vector {
  return [
    positions[3 * node] as number,
    positions[3 * node + 1] as number,
    positions[3 * node + 2] as number,
  ];
}

export function put(positions: Float64Array, node: number, value: ReadonlyVector): void {
  positions[3 * node] = value[0];
  positions[3 * node + 1] = value[1];
  positions[3 * node + 2] = value[2];
}
