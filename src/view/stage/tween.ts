/** Numbers that glide from where they are to where they should be: plain arrays, a clock passed in. */

export interface Tween {
  /** Current values; the array itself never changes. */
  readonly values: Float64Array;
  readonly from: Float64Array;
  readonly to: Float64Array;
  startMs: number;
  durationMs: number;
  running: boolean;
}

export function makeTween(length: number): Tween {
  return {
    values: new Float64Array(length),
    from: new Float64Array(length),
    to: new Float64Array(length),
    startMs: 0,
    durationMs: 0,
    running: false,
  };
}

/** Glides from the present values to `to` (already written by the caller); a duration of 0 jumps at the next step. */
export function startTween(tween: Tween, nowMs: number, durationMs: number): void {
  tween.from.set(tween.values);
  tween.startMs = nowMs;
  tween.durationMs = durationMs;
  tween.running = true;
}

/** Moves the values to where they are at `nowMs`. Returns whether they changed. */
export function stepTween(tween: Tween, nowMs: number): boolean {
  if (!tween.running) return false;
  const t = tween.durationMs > 0 ? Math.min(1, Math.max(0, (nowMs - tween.startMs) / tween.durationMs)) : 1;
  if (t >= 1) {
    tween.values.set(tween.to);
    tween.running = false;
    return true;
  }
  const e = easeInOut(t);
  for (let i = 0; i < tween.values.length; i++) {
    const from = tween.from[i] as number;
    tween.values[i] = from + e * ((tween.to[i] as number) - from);
  }
  return true;
}

/** Cubic ease in and out: 0 → 0, ½ → ½, 1 → 1, flat at both ends. */
export function easeInOut(t: number): number {
  return t < 0.5 ? 4 * t ** 3 : 1 - (2 - 2 * t) ** 3 / 2;
}
