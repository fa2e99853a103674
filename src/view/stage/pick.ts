/** Which line is under the pointer: segments projected to the screen, the nearest within reach, ties by depth. */

/** Reach of the pointer by its kind [CSS px]. */
export const REACH_PX: Readonly<Record<string, number>> = { mouse: 7, pen: 11, touch: 22 };

/** Lines whose distance from the pointer differs by less than this are tied, and the one nearer to the eye wins [CSS px]. */
const TIE_PX = 1.5;
/** Clip-space w below which a point counts as behind the eye [m]. */
const NEAR_W = 1e-3;

/**
 * Projects both ends of every segment to screen coordinates.
 *
 * A segment that crosses the eye's plane is cut there; one wholly behind it gets NaN.
 *
 * @param positions 3n points [m]. @param ends 2s point indices.
 * @param viewProjection column-major 4 × 4: projection × view.
 * @param out 6s: x, y [CSS px, origin top left, y down], w (distance along the view axis [m]) of both ends.
 */
export function projectSegments(
  positions: ArrayLike<number>,
  ends: ArrayLike<number>,
  viewProjection: ArrayLike<number>,
  widthPx: number,
  heightPx: number,
  out: Float64Array,
): void {
  const m = viewProjection;
  const clip = (row: number, p: number) =>
    (m[row] as number) * (positions[p] as number) +
    (m[row + 4] as number) * (positions[p + 1] as number) +
    (m[row + 8] as number) * (positions[p + 2] as number) +
    (m[row + 12] as number);
  for (let s = 0; s < ends.length / 2; s++) {
    const a = 3 * (ends[2 * s] as number);
    const b = 3 * (ends[2 * s + 1] as number);
    let [ax, ay, aw] = [clip(0, a), clip(1, a), clip(3, a)];
    let [bx, by, bw] = [clip(0, b), clip(1, b), clip(3, b)];
    if (aw < NEAR_W && bw < NEAR_W) {
      out.fill(Number.NaN, 6 * s, 6 * s + 6);
      continue;
    }
    if (aw < NEAR_W) {
      const t = (NEAR_W - aw) / (bw - aw);
      [ax, ay, aw] = [ax + t * (bx - ax), ay + t * (by - ay), NEAR_W];
    } else if (bw < NEAR_W) {
      const t = (NEAR_W - bw) / (aw - bw);
      [bx, by, bw] = [bx + t * (ax - bx), by + t * (ay - by), NEAR_W];
    }
    out[6 * s] = (0.5 + (0.5 * ax) / aw) * widthPx;
    out[6 * s + 1] = (0.5 - (0.5 * ay) / aw) * heightPx;
    out[6 * s + 2] = aw;
    out[6 * s + 3] = (0.5 + (0.5 * bx) / bw) * widthPx;
    out[6 * s + 4] = (0.5 - (0.5 * by) / bw) * heightPx;
    out[6 * s + 5] = bw;
  }
}

/**
 * The segment under the pointer.
 *
 * @param projected 6s, as from `projectSegments`. @param reachPx largest distance that counts.
 * @param pickable segments that may be picked (others are filtered away); all without it.
 * @returns index of the segment, or undefined where none is within reach.
 */
export function nearestSegment(
  projected: Float64Array,
  xPx: number,
  yPx: number,
  reachPx: number,
  pickable?: (segment: number) => boolean,
): number | undefined {
  let best: number | undefined;
  let bestDistance = Infinity;
  let bestDepth = Infinity;
  const candidates: [segment: number, distance: number, depth: number][] = [];
  for (let s = 0; s < projected.length / 6; s++) {
    if (pickable !== undefined && !pickable(s)) continue;
    const ax = projected[6 * s] as number;
    const ay = projected[6 * s + 1] as number;
    const dx = (projected[6 * s + 3] as number) - ax;
    const dy = (projected[6 * s + 4] as number) - ay;
    const length2 = dx * dx + dy * dy;
    const along = length2 > 0 ? ((xPx - ax) * dx + (yPx - ay) * dy) / length2 : 0;
    const t = Math.min(1, Math.max(0, along));
    const distance = Math.hypot(ax + t * dx - xPx, ay + t * dy - yPx);
    if (!(distance <= reachPx)) continue;
    const aw = projected[6 * s + 2] as number;
    const bw = projected[6 * s + 5] as number;
    // 1/w, not w, runs linearly along a segment on the screen.
    candidates.push([s, distance, 1 / ((1 - t) / aw + t / bw)]);
    bestDistance = Math.min(bestDistance, distance);
  }
  for (const [segment, distance, depth] of candidates) {
    if (distance > bestDistance + TIE_PX || depth >= bestDepth) continue;
    best = segment;
    bestDepth = depth;
  }
  return best;
}
