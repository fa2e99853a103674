/** Where on the canvas each of two states is drawn, and which of them is under the pointer. Pure numbers, CSS px. */
import type { How } from "./props.ts";

/** From the canvas's top left corner, y down [CSS px]. */
export interface Rect {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A part of the canvas with one state in it. */
export interface Pane {
  /** 0: the first state, 1: the second. */
  readonly state: 0 | 1;
  /** What the camera's picture fills. */
  readonly view: Rect;
  /** What of it is drawn. */
  readonly clip: Rect;
}

/**
 * Whether two states stand one above the other instead of side by side: on upright canvases. A wing with its lines is about
 * as wide as high, so the cut that leaves the halves nearer to a square shows both larger.
 */
export function isStacked(width: number, height: number): boolean {
  return width < height;
}

/** A divider's place as a share of the width, 0 to 1; what isn't a number is the middle. */
export function clampWipe(share: number): number {
  return Number.isFinite(share) ? Math.min(1, Math.max(0, share)) : 0.5;
}

/**
 * The canvas's parts, in the order of the states. One over the other is a single part: that of the state in front, whose
 * number is 1 if there are two.
 *
 * @param wipeAt share of the width left of the divider, for "wipe".
 */
export function panesOf(how: How, two: boolean, wipeAt: number, width: number, height: number): Pane[] {
  const whole = { x: 0, y: 0, width, height };
  if (!two || how === "over") return [{ state: two ? 1 : 0, view: whole, clip: whole }];
  if (how === "wipe") {
    const at = clampWipe(wipeAt) * width;
    return [
      { state: 0, view: whole, clip: { ...whole, width: at } },
      { state: 1, view: whole, clip: { ...whole, x: at, width: width - at } },
    ];
  }
  const halves = isStacked(width, height)
    ? [0, height / 2].map((y) => ({ x: 0, y, width, height: height / 2 }))
    : [0, width / 2].map((x) => ({ x, y: 0, width: width / 2, height }));
  return halves.map((half, state) => ({ state: state === 0 ? 0 : 1, view: half, clip: half }));
}

export function isInside(rect: Rect, x: number, y: number): boolean {
  return x >= rect.x && x < rect.x + rect.width && y >= rect.y && y < rect.y + rect.height;
}

/** The part under a point of the canvas, and the point within that part's picture. */
export function paneAt(
  panes: readonly Pane[],
  x: number,
  y: number,
): { readonly pane: Pane; readonly x: number; readonly y: number } | undefined {
  const pane = panes.find(({ clip }) => isInside(clip, x, y));
  return pane === undefined ? undefined : { pane, x: x - pane.view.x, y: y - pane.view.y };
}

/** The same rectangle counted from the bottom left corner, y up: what the renderer takes. */
export function fromBelow(rect: Rect, canvasHeight: number): Rect {
  return { ...rect, y: canvasHeight - rect.y - rect.height };
}
