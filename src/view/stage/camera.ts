/** Where the camera goes by itself: to a preset direction, near to some lines, and back. */
import { type RefObject, useLayoutEffect, useMemo, useRef } from "react";
import { surfacePositions } from "../../geometry/surface.ts";
import type { Drawn } from "./DrawnWing.tsx";
import { prefersStill } from "./DrawnWing.tsx";
import { closeView, presetView, type View } from "./framing.ts";
import type { StageProps } from "./props.ts";
import type { Rig } from "./rig.ts";
import { addDisplacement } from "./shape.ts";
import type { StageTopology } from "./topology.ts";

const GLIDE_MS = 620;
/** Least extent that is framed [m]. */
const LEAST_FRAMED_M = 1.2;

/** The picture that a view has to fit. */
export interface Fit {
  readonly width: number;
  readonly height: number;
  /** Shares of its height that are kept free for words. */
  readonly foot: () => number;
  readonly head: number;
}

export function useCamera(
  stage: Pick<StageProps, "model" | "surface" | "direction" | "frame" | "selected">,
  topology: StageTopology,
  camRig: RefObject<Rig | undefined>,
  drawn: readonly RefObject<Drawn | undefined>[],
  fit: Fit,
): void {
  const { model, surface, frame } = stage;

  /** Where the camera was before it came near to some lines. */
  const former = useRef<View | undefined>(undefined);

  // Presets: on request, for another wing, and after a resize as long as the user hasn't moved the camera.
  const framed = useMemo(() => everythingOf(model.specified.positions, surface.rest), [model, surface]);
  const before = useRef<{ framed: unknown; request: number; name: string } | undefined>(undefined);
  const { name, request } = stage.direction;
  useLayoutEffect(() => {
    const made = camRig.current;
    if (made === undefined || fit.width === 0 || fit.height === 0) return;
    const last = before.current;
    const asked = last !== undefined && (last.request !== request || last.name !== name);
    const another = last?.framed !== framed;
    if (!asked && !another && made.touched()) return;
    before.current = { framed, request, name };
    // With room for the shapes as they are drawn now.
    const shapes = drawn.flatMap(({ current }) => {
      if (current === undefined) return [];
      const nodes = new Float64Array(current.shapeTo.length);
      addDisplacement(model.specified.positions, current.shapeTo, nodes);
      const canopy = new Float32Array(surface.rest.length);
      surfacePositions(surface, current.shapeTo, canopy);
      return [...nodes, ...canopy];
    });
    const view = presetView(name, [...framed, ...shapes], fit.width / fit.height, fit.foot(), fit.head);
    former.current = undefined;
    made.glideTo(view, performance.now(), asked && !prefersStill() ? GLIDE_MS : 0);
  }, [framed, model, surface, drawn, name, request, fit, camRig]);

  // Coming near to some lines, and back to where the camera was once they are let go.
  const framedLines = useRef<string | undefined>(undefined);
  const released = frame === undefined && stage.selected.size === 0;
  useLayoutEffect(() => {
    const made = camRig.current;
    if (made === undefined || fit.width === 0 || fit.height === 0) return;
    const glideMs = prefersStill() ? 0 : GLIDE_MS;
    if (frame === undefined) {
      framedLines.current = undefined;
      if (!released || former.current === undefined) return;
      made.glideTo(former.current, performance.now(), glideMs, "keep");
      former.current = undefined;
      return;
    }
    const points = drawn.flatMap(({ current }) =>
      current === undefined ? [] : pointsOf(frame.keys, topology, model.specified.positions, current.shapeTo),
    );
    if (points.length === 0 || framedLines.current === frame.request) return;
    framedLines.current = frame.request;
    former.current ??= made.view();
    const aspect = fit.width / fit.height;
    const view = closeView(points, former.current, aspect, LEAST_FRAMED_M, fit.foot(), fit.head);
    made.glideTo(view, performance.now(), glideMs, "keep");
  }, [frame, released, model, topology, drawn, fit, camRig]);
}

/** Both ends of some lines as they are drawn, x y z each [m]. */
function pointsOf(
  keys: ReadonlySet<string>,
  topology: StageTopology,
  base: Float64Array,
  displacement: Float64Array,
): number[] {
  return [...keys].flatMap((key) => {
    const place = topology.place.get(key);
    if (place === undefined) return [];
    return [0, 1].flatMap((end) => {
      const node = 3 * (topology.lineEnds[2 * place + end] as number);
      return [0, 1, 2].map((axis) => (base[node + axis] as number) + (displacement[node + axis] as number));
    });
  });
}

/** All points that a preset must hold: nodes and canopy. */
function everythingOf(nodes: Float64Array, canopy: Float32Array): Float64Array {
  const all = new Float64Array(nodes.length + canopy.length);
  all.set(nodes);
  all.set(canopy, nodes.length);
  return all;
}
