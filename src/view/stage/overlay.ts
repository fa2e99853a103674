/** Words that stand at places of the wing: moved by the scene after each frame, without React. */
import type { RefObject } from "react";
import { type PerspectiveCamera, Vector3 } from "three";
import { isInside, type Pane } from "./panes.ts";
import type { StageTopology } from "./topology.ts";

/** Elements that the scene moves in one state's picture. */
export interface PaneWords {
  readonly tag: RefObject<HTMLDivElement | null>;
  readonly left: RefObject<HTMLDivElement | null>;
  readonly right: RefObject<HTMLDivElement | null>;
}

export interface Overlay {
  readonly host: RefObject<HTMLDivElement | null>;
  readonly words: RefObject<HTMLDivElement | null>;
  /** In the order of the states. */
  readonly panes: readonly [PaneWords, PaneWords];
}

const SIDE_BELOW_PX = 22;
const at = new Vector3();

/** A node's place on the canvas [CSS px, origin top left] and its depth (above 1: behind the eye or too far). */
function place(positions: Float64Array, node: number, camera: PerspectiveCamera, { view }: Pane) {
  at.fromArray(positions, 3 * node).project(camera);
  return {
    x: view.x + (0.5 + 0.5 * at.x) * view.width,
    y: view.y + (0.5 - 0.5 * at.y) * view.height,
    depth: at.z,
  };
}

/** "left" and "right" under the tips; seen from the side, only the nearer one. */
export function placeSides(
  words: PaneWords,
  pane: Pane,
  positions: Float64Array,
  tips: Tips,
  camera: PerspectiveCamera,
): void {
  const labels = [
    { element: words.left.current, node: tips.left },
    { element: words.right.current, node: tips.right },
  ].map(({ element, node }) => {
    if (node === undefined) return { element, x: 0, y: 0, depth: 0, inside: false };
    const { x, y: tipY, depth } = place(positions, node, camera, pane);
    const y = tipY + SIDE_BELOW_PX;
    return { element, x, y, depth, inside: depth < 1 && isInside(pane.clip, x, y) };
  });
  for (const [i, { element, x, y, depth, inside }] of labels.entries()) {
    const other = labels[1 - i];
    const covered =
      other?.inside === true &&
      other.depth < depth &&
      Math.abs(other.x - x) < 48 &&
      Math.abs(other.y - y) < 30;
    if (element === null) continue;
    element.style.visibility = inside && !covered ? "visible" : "hidden";
    element.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px) translate(-50%, -50%)`;
  }
}

/** Beside the middle of a line, inside the picture. */
export function placeTag(
  words: PaneWords,
  pane: Pane,
  positions: Float64Array,
  ends: readonly [number, number],
  camera: PerspectiveCamera,
): void {
  const tag = words.tag.current;
  if (tag === null) return;
  const middle = Float64Array.from([0, 1, 2], (axis) =>
    ends.reduce((sum, node) => sum + (positions[3 * node + axis] as number) / 2, 0),
  );
  const { view } = pane;
  const found = place(middle, 0, camera, pane);
  const x = Math.max(Math.min(found.x + 14, view.x + view.width - tag.offsetWidth - 8), view.x + 8);
  const y = Math.min(Math.max(found.y, view.y + 18), view.y + view.height - 18);
  tag.style.visibility = "visible";
  tag.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px) translateY(-50%)`;
}

/** Takes a state's words away: it has no picture now. */
export function hideWords(words: PaneWords, all: boolean): void {
  for (const { current } of all ? [words.tag, words.left, words.right] : [words.tag])
    if (current !== null) current.style.visibility = "hidden";
}

/** The lowest carabiner's place from the canvas's top [CSS px]. */
export function footPx(
  positions: Float64Array,
  topology: StageTopology,
  camera: PerspectiveCamera,
  pane: Pane,
): number {
  let lowest = 0;
  for (let i = 0; i < topology.carabiners.length; i += 2)
    lowest = Math.max(lowest, place(positions, topology.carabiners[i] as number, camera, pane).y);
  return lowest;
}

/** The nodes farthest out on either side. */
export interface Tips {
  readonly left: number | undefined;
  readonly right: number | undefined;
}

export function tipNodes(positions: Float64Array): Tips {
  let left: number | undefined;
  let right: number | undefined;
  const y = (node: number) => positions[3 * node + 1] as number;
  for (let node = 0; node < positions.length / 3; node++) {
    if (left === undefined || y(node) < y(left)) left = node;
    if (right === undefined || y(node) > y(right)) right = node;
  }
  return { left, right };
}
