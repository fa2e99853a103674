/** The camera: orbit, pan, zoom to the cursor, touch, and glides to preset views. */
import type { PerspectiveCamera } from "three";
import { OrbitControls } from "three/addons/controls/OrbitControls.js";
import { betweenViews, type View } from "./framing.ts";
import { easeInOut } from "./tween.ts";

export interface Rig {
  readonly controls: OrbitControls;
  /** True once the user has turned, moved or zoomed since the last preset. */
  readonly touched: () => boolean;
  /** Where the camera is, or is on its way to. */
  view(): View;
  /** @param range what "nearest" and "farthest" are counted from: the view itself, or the one set before */
  glideTo(view: View, nowMs: number, durationMs: number, range?: "own" | "keep"): void;
  /** Moves the camera to where it is at `nowMs`. Returns whether it is still moving. */
  step(nowMs: number): boolean;
  /** Turns about the target [rad], positive to the right and up. */
  turn(rightRad: number, upRad: number): void;
  /** Above 1 comes nearer. */
  zoom(factor: number): void;
  /**
   * Suits the controls to a picture that fills only part of the canvas.
   *
   * @param heightShare the picture's height over the canvas's. @param whole whether it fills the canvas: only then does
   * the zoom go to the pointer, which the controls know by its place on the canvas.
   */
  suit(heightShare: number, whole: boolean): void;
  distanceM(): number;
  dispose(): void;
}

/** Closest and farthest the camera may come to its target, over the distance of the preset that was framed last. */
const DISTANCE_RANGE = { least: 0.03, most: 3 };

export function rig(camera: PerspectiveCamera, element: HTMLElement, onChange: () => void): Rig {
  camera.up.set(0, 0, 1);
  const controls = new OrbitControls(camera, element);
  controls.enableDamping = true;
  controls.dampingFactor = 0.12;
  controls.zoomToCursor = true;
  controls.rotateSpeed = 0.8;
  let glide:
    | { readonly from: View; readonly to: View; readonly startMs: number; readonly durationMs: number }
    | undefined;
  let touched = false;

  const onStart = () => {
    touched = true;
    glide = undefined;
    controls.enableDamping = true;
  };
  controls.addEventListener("start", onStart);
  controls.addEventListener("change", onChange);

  const current = (): View => ({
    position: camera.position.toArray(),
    target: controls.target.toArray(),
    fovDeg: camera.fov,
  });
  const apply = (view: View): void => {
    camera.position.set(...view.position);
    controls.target.set(...view.target);
    camera.fov = view.fovDeg;
    const distance = controls.getDistance();
    camera.near = distance / 200;
    camera.far = distance * 12;
    camera.updateProjectionMatrix();
  };

  return {
    controls,
    touched: () => touched,
    view: () => glide?.to ?? current(),
    glideTo(view, nowMs, durationMs, range = "own") {
      const reach = Math.hypot(...view.position.map((v, k) => v - (view.target[k] as number)));
      if (range === "own") {
        controls.minDistance = reach * DISTANCE_RANGE.least;
        controls.maxDistance = reach * DISTANCE_RANGE.most;
      }
      touched = false;
      // Without damping the next update drops what is left of a swing.
      controls.enableDamping = false;
      glide = { from: current(), to: view, startMs: nowMs, durationMs };
      onChange();
    },
    step(nowMs) {
      if (glide === undefined) return controls.update();
      const { from, to, startMs, durationMs } = glide;
      const t = durationMs > 0 ? Math.min(1, Math.max(0, (nowMs - startMs) / durationMs)) : 1;
      apply(t >= 1 ? to : betweenViews(from, to, easeInOut(t)));
      controls.update();
      if (t < 1) return true;
      glide = undefined;
      controls.enableDamping = true;
      return false;
    },
    turn(rightRad, upRad) {
      onStart();
      controls.rotateLeft(-rightRad);
      controls.rotateUp(-upRad);
      onChange();
    },
    zoom(factor) {
      onStart();
      controls.dollyIn(1 / factor);
      onChange();
    },
    suit(heightShare, whole) {
      controls.panSpeed = 1 / heightShare;
      controls.zoomToCursor = whole;
    },
    distanceM: () => controls.getDistance(),
    dispose() {
      controls.removeEventListener("start", onStart);
      controls.removeEventListener("change", onChange);
      controls.dispose();
    },
  };
}
