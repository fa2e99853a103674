/** Where the camera stands: preset directions and the tightest fit of a cloud of points, for any aspect ratio. Pure numbers. */
import type { ViewDirection } from "./props.ts";

export type Vec3 = readonly [number, number, number];

export interface View {
  readonly position: Vec3;
  readonly target: Vec3;
  /** Vertical field of view [degrees]. */
  readonly fovDeg: number;
}

/** Clear border as a share of the half picture: captions stand there. */
const MARGIN = 0.04;

/** From the target towards the camera. x aft, y to the pilot's right, z up; never exactly vertical, so that up is defined. */
const TOWARDS_CAMERA: Readonly<Record<Exclude<ViewDirection, "pilot">, Vec3>> = {
  overview: [-0.8, -0.6, -0.16],
  front: [-1, 0, -0.05],
  side: [0, -1, 0],
  above: [0.02, 0, 1],
};

/** How much more than the lines themselves is held when they are framed. */
const ROOM = 1.12;

const LONG_LENS_DEG = 24;
/** Wide enough for a whole wing from about the carabiners on a landscape screen; wider when upright, within reason. */
const PILOT_LENS_DEG = 62;
const WIDEST_LENS_DEG = 84;
/**
 * From below the carabiners, a little aft: "up" is then the trailing edge and the pilot's right is on the right, as
 * with the head tilted back.
 */
const PILOT_TOWARDS_CAMERA: Vec3 = [0.12, 0, -1];

/**
 * The view of a preset direction.
 *
 * @param points 3n: everything that must be in the picture. @param aspect width over height.
 * @param footShare share of the picture's height kept free at its foot, for the caption. @param headShare at its head.
 */
export function presetView(
  direction: ViewDirection,
  points: ArrayLike<number>,
  aspect: number,
  footShare = 0,
  headShare = 0,
): View {
  if (direction !== "pilot")
    return fitView(points, TOWARDS_CAMERA[direction], LONG_LENS_DEG, aspect, footShare, headShare);
  const widest = aspect < 1 ? 2 * atanDeg(Math.tan(rad(PILOT_LENS_DEG / 2)) / aspect) : PILOT_LENS_DEG;
  return fitView(
    points,
    PILOT_TOWARDS_CAMERA,
    Math.min(widest, WIDEST_LENS_DEG),
    aspect,
    footShare,
    headShare,
  );
}

/**
 * A view of some points from where the camera looks now; a little room is left around them.
 *
 * @param least least extent of what is held [m], so that a short line doesn't fill the picture
 */
export function closeView(
  points: ArrayLike<number>,
  from: View,
  aspect: number,
  least: number,
  footShare = 0,
  headShare = 0,
): View {
  const towards: Vec3 = [
    from.position[0] - from.target[0],
    from.position[1] - from.target[1],
    from.position[2] - from.target[2],
  ];
  const extents = [0, 1, 2].map((axis) => {
    let low = Infinity;
    let high = -Infinity;
    for (let i = axis; i < points.length; i += 3) {
      low = Math.min(low, points[i] as number);
      high = Math.max(high, points[i] as number);
    }
    return { at: (low + high) / 2, size: high - low };
  });
  const held: number[] = [];
  for (let i = 0; i < points.length; i++) {
    const { at } = extents[i % 3] as (typeof extents)[number];
    held.push(at + ROOM * ((points[i] as number) - at));
  }
  if (Math.max(...extents.map(({ size }) => size)) < least)
    for (const axis of [0, 1, 2])
      for (const sign of [-0.5, 0.5])
        extents.forEach(({ at }, other) => {
          held.push(at + (other === axis ? sign * least : 0));
        });
  return fitView(held, towards, from.fovDeg, aspect, footShare, headShare);
}

/**
 * The nearest camera that holds every point, looking along −`towardsCamera` with z up.
 *
 * In the camera's frame (r right, u up, d towards the camera) a camera at (r0, u0, d0) holds a point if
 * |r − r0| ≤ (d0 − d)·tan(half width) and the same for u; each pair of planes gives the smallest d0 in closed form, and
 * the larger of the two is taken. What room is left in the other direction is shared out evenly on the screen.
 */
export function fitView(
  points: ArrayLike<number>,
  towardsCamera: Vec3,
  fovDeg: number,
  aspect: number,
  footShare = 0,
  headShare = 0,
): View {
  const d = normalised(towardsCamera);
  const right = normalised(cross([0, 0, 1], d));
  const up = cross(d, right);
  const tanUp = Math.tan(rad(fovDeg / 2)) * (1 - Math.max(MARGIN, 2 * headShare));
  const tanDown = Math.tan(rad(fovDeg / 2)) * (1 - Math.max(MARGIN, 2 * footShare));
  const tanRight = Math.tan(rad(fovDeg / 2)) * aspect * (1 - MARGIN);
  let rightMost = -Infinity;
  let leftMost = -Infinity;
  let topMost = -Infinity;
  let bottomMost = -Infinity;
  let depthLow = Infinity;
  let depthHigh = -Infinity;
  for (let i = 0; i + 2 < points.length; i += 3) {
    const p: Vec3 = [points[i] as number, points[i + 1] as number, points[i + 2] as number];
    const depth = dot(p, d);
    const r = dot(p, right);
    const u = dot(p, up);
    rightMost = Math.max(rightMost, depth + r / tanRight);
    leftMost = Math.max(leftMost, depth - r / tanRight);
    topMost = Math.max(topMost, depth + u / tanUp);
    bottomMost = Math.max(bottomMost, depth - u / tanDown);
    depthLow = Math.min(depthLow, depth);
    depthHigh = Math.max(depthHigh, depth);
  }
  if (depthHigh === -Infinity) return { position: [-20, 0, 0], target: [0, 0, 0], fovDeg };
  const upright = (topMost * tanUp + bottomMost * tanDown) / (tanUp + tanDown);
  const d0 = Math.max((rightMost + leftMost) / 2, upright, depthHigh + 0.5);
  const r0 = balanced(points, right, d, d0, [(rightMost - d0) * tanRight, (d0 - leftMost) * tanRight], 0);
  const u0 = balanced(
    points,
    up,
    d,
    d0,
    [(topMost - d0) * tanUp, (d0 - bottomMost) * tanDown],
    tanUp - tanDown,
  );
  const at = (depth: number): Vec3 => [
    r0 * right[0] + u0 * up[0] + depth * d[0],
    r0 * right[1] + u0 * up[1] + depth * d[1],
    r0 * right[2] + u0 * up[2] + depth * d[2],
  ];
  return { position: at(d0), target: at((depthLow + depthHigh) / 2), fovDeg };
}

/**
 * The camera's place along `axis`, within the bounds, that leaves the same room on the screen on both sides: there the
 * largest and the smallest (p − place)/(distance) add up to `sum`. They fall as the place moves up, so bisection finds it.
 */
function balanced(
  points: ArrayLike<number>,
  axis: Vec3,
  d: Vec3,
  d0: number,
  bounds: readonly [low: number, high: number],
  sum: number,
): number {
  const lean = (place: number): number => {
    let most = -Infinity;
    let least = Infinity;
    for (let i = 0; i + 2 < points.length; i += 3) {
      const p: Vec3 = [points[i] as number, points[i + 1] as number, points[i + 2] as number];
      const slope = (dot(p, axis) - place) / (d0 - dot(p, d));
      most = Math.max(most, slope);
      least = Math.min(least, slope);
    }
    return most + least;
  };
  let [from, to] = bounds;
  for (let i = 0; i < 24; i++) {
    const middle = (from + to) / 2;
    if (lean(middle) > sum) from = middle;
    else to = middle;
  }
  return (from + to) / 2;
}

/** A view on the way from one to another, t in 0 to 1: turning about the target the short way, never through it. */
export function betweenViews(from: View, to: View, t: number): View {
  const a = spherical(from);
  const b = spherical(to);
  let turn = b.azimuth - a.azimuth;
  turn -= 2 * Math.PI * Math.round(turn / (2 * Math.PI));
  const azimuth = a.azimuth + t * turn;
  const elevation = a.elevation + t * (b.elevation - a.elevation);
  const radius = a.radius ** (1 - t) * b.radius ** t;
  const target: Vec3 = [
    from.target[0] + t * (to.target[0] - from.target[0]),
    from.target[1] + t * (to.target[1] - from.target[1]),
    from.target[2] + t * (to.target[2] - from.target[2]),
  ];
  return {
    target,
    position: [
      target[0] + radius * Math.cos(elevation) * Math.cos(azimuth),
      target[1] + radius * Math.cos(elevation) * Math.sin(azimuth),
      target[2] + radius * Math.sin(elevation),
    ],
    fovDeg: from.fovDeg + t * (to.fovDeg - from.fovDeg),
  };
}

function spherical(view: View): {
  readonly azimuth: number;
  readonly elevation: number;
  readonly radius: number;
} {
  const x = view.position[0] - view.target[0];
  const y = view.position[1] - view.target[1];
  const z = view.position[2] - view.target[2];
  const radius = Math.hypot(x, y, z) || 1;
  return { azimuth: Math.atan2(y, x), elevation: Math.asin(Math.max(-1, Math.min(1, z / radius))), radius };
}

const rad = (degrees: number) => (degrees * Math.PI) / 180;
const atanDeg = (x: number) => (Math.atan(x) * 180) / Math.PI;
const dot = (a: Vec3, b: Vec3) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
function normalised(a: Vec3): Vec3 {
  const length = Math.hypot(...a) || 1;
  return [a[0] / length, a[1] / length, a[2] / length];
}
