/** The moving part of the stage: keeps the drawn world, the camera and the overlay in step, without React between frames. */
import { useFrame, useThree } from "@react-three/fiber";
import { type RefObject, useEffect, useLayoutEffect, useMemo, useRef } from "react";
import { Matrix4, type PerspectiveCamera, Vector3 } from "three";
import { surfacePositions } from "../../geometry/surface.ts";
import { closeView, presetView, type View } from "./framing.ts";
import { fillLooks, focusOf, LOOK, LOOK_SIZE, passesFilters, unmeasuredFlags } from "./look.ts";
import type { Mark } from "./marks.ts";
import { nearestSegment, projectSegments, REACH_PX } from "./pick.ts";
import type { StageProps } from "./props.ts";
import { type Rig, rig } from "./rig.ts";
import { addDisplacement, drawnDisplacement, drawnStates } from "./shape.ts";
import { stageTopology } from "./topology.ts";
import { lineIndex } from "./trace.ts";
import { makeTween, startTween, stepTween } from "./tween.ts";
import { world as makeWorld } from "./world.ts";

/** What the frame around the canvas may ask of the scene. */
export interface SceneHandle {
  /** The line under a point of the canvas [CSS px], or undefined. */
  pick(xPx: number, yPx: number, pointerType: string): string | undefined;
  turn(rightRad: number, upRad: number): void;
  zoom(factor: number): void;
}

/** Elements of the overlay that the scene moves by itself. */
export interface Overlay {
  readonly host: RefObject<HTMLDivElement | null>;
  readonly tag: RefObject<HTMLDivElement | null>;
  readonly left: RefObject<HTMLDivElement | null>;
  readonly right: RefObject<HTMLDivElement | null>;
  readonly words: RefObject<HTMLDivElement | null>;
}

/** Glides [ms]: between states, after the exaggeration moved, hover and selection, camera presets. */
const GLIDE_MS = { state: 480, exaggeration: 140, look: 140, camera: 620 };
const END_MARK_PX = 7;
const SIDE_BELOW_PX = 22;
/** On pictures narrower than this the caption stands below the wing, on wider ones beside it. */
const CAPTION_BELOW_PX = 640;
/** Least extent that is framed [m]. */
const LEAST_FRAMED_M = 1.2;
/** States or exaggerations that follow each other within this time are being slid: each is shown at once [ms]. */
const SLIDING_MS = 260;
/** How much of the plain lines' receding the ghost goes along with. */
const GHOST_RECEDES = 0.85;

export function Scene(props: {
  readonly stage: StageProps;
  readonly overlay: Overlay;
  readonly handle: RefObject<SceneHandle | undefined>;
}) {
  const { stage, overlay, handle } = props;
  const { analysis, surface, model, states } = stage;
  const gl = useThree((s) => s.gl);
  const scene = useThree((s) => s.scene);
  const camera = useThree((s) => s.camera) as PerspectiveCamera;
  const size = useThree((s) => s.size);
  const invalidate = useThree((s) => s.invalidate);

  const topology = useMemo(() => stageTopology(model), [model]);
  const lines = useMemo(() => lineIndex(analysis.wing.lines), [analysis.wing]);
  const world = useMemo(() => makeWorld(model, topology, surface), [model, topology, surface]);
  useEffect(() => () => world.dispose(), [world]);

  // Tweens: node displacements; looks; ghost and dash gap.
  const shape = useMemo(() => makeTween(3 * topology.nodes), [topology]);
  const ghostShape = useMemo(() => makeTween(3 * topology.nodes), [topology]);
  const looks = useMemo(() => makeTween(LOOK_SIZE * topology.keys.length), [topology]);
  const shares = useMemo(() => makeTween(2), []);
  const unmeasured = useMemo(() => unmeasuredFlags(analysis, topology), [analysis, topology]);
  const focus = useMemo(
    () => focusOf(lines, stage.selected, stage.hovered),
    [lines, stage.selected, stage.hovered],
  );

  const camRig = useRef<Rig | undefined>(undefined);
  useLayoutEffect(() => {
    const made = rig(camera, gl.domElement, invalidate);
    camRig.current = made;
    return () => made.dispose();
  }, [camera, gl, invalidate]);

  // Shape. A change of what is shown glides; states that are being slid through are each shown at once.
  const before = useRef<{ world: unknown; shown: string; states: unknown; atMs: number } | undefined>(
    undefined,
  );
  useLayoutEffect(() => {
    const now = performance.now();
    const last = before.current;
    const fresh = last?.world !== world;
    const turned = last?.shown !== stage.shown;
    const solved = last?.states !== states;
    before.current = { world, shown: stage.shown, states, atMs: now };
    const { front, ghost } = drawnStates(states, stage.shown);
    const to = (state: typeof front, out: Float64Array): void =>
      drawnDisplacement(model.specified, states.specified, state, stage.exaggeration, out);
    to(front, shape.to);
    to(ghost ?? states.specified, ghostShape.to);
    const sliding = solved || (last !== undefined && now - last.atMs < SLIDING_MS);
    const glideMs =
      fresh || prefersStill() ? 0 : turned ? GLIDE_MS.state : sliding ? 0 : GLIDE_MS.exaggeration;
    startTween(shape, now, glideMs);
    startTween(ghostShape, now, ghost === undefined ? 0 : glideMs);
    invalidate();
  }, [world, model, states, stage.shown, stage.exaggeration, shape, ghostShape, invalidate]);

  // Looks. A change of state takes its colours along at its own pace.
  const looksBefore = useRef<{ looks: unknown; shown: string; analysis: unknown } | undefined>(undefined);
  const { shown, rows, sides, rangeM } = stage;
  useLayoutEffect(() => {
    const fresh = looksBefore.current?.looks !== looks;
    const turned = looksBefore.current?.shown !== shown;
    const solved = looksBefore.current?.analysis !== analysis;
    looksBefore.current = { looks, shown, analysis };
    fillLooks({ analysis, shown, rows, sides, rangeM }, topology, lines, focus, looks.to);
    const ghost = drawnStates(states, shown).ghost;
    shares.to[0] = ghost !== undefined ? 1 - GHOST_RECEDES * focus.recede : 0;
    shares.to[1] = shown === "specified" ? 0 : 1;
    const glideMs = fresh || prefersStill() ? 0 : turned ? GLIDE_MS.state : solved ? 0 : GLIDE_MS.look;
    startTween(looks, performance.now(), glideMs);
    startTween(shares, performance.now(), glideMs);
    world.setMarks(
      focus.marked.flatMap((key): Mark[] => {
        const place = topology.place.get(key);
        if (place === undefined || !passesFilters(lines, key, rows, sides)) return [];
        const o = LOOK_SIZE * place;
        const colour = {
          r: looks.to[o + LOOK.r] as number,
          g: looks.to[o + LOOK.g] as number,
          b: looks.to[o + LOOK.b] as number,
        };
        const hollow = focus.standing.get(key) === "twin";
        return [0, 1].map((end) => ({
          node: topology.lineEnds[2 * place + end] as number,
          colour,
          diameterPx: END_MARK_PX,
          hollow,
        }));
      }),
    );
    invalidate();
  }, [
    analysis,
    states,
    shown,
    rows,
    sides,
    rangeM,
    topology,
    lines,
    focus,
    looks,
    shares,
    world,
    invalidate,
  ]);

  /** Where the camera was before it came near to some lines. */
  const former = useRef<View | undefined>(undefined);

  // Camera presets: on request, for another wing, and after a resize as long as the user hasn't moved the camera.
  const framed = useMemo(() => everythingOf(model.specified.positions, surface.rest), [model, surface]);
  const framedBefore = useRef<{ framed: unknown; request: number; name: string } | undefined>(undefined);
  const { name, request } = stage.direction;
  useLayoutEffect(() => {
    const made = camRig.current;
    if (made === undefined || size.width === 0 || size.height === 0) return;
    const last = framedBefore.current;
    const asked = last !== undefined && (last.request !== request || last.name !== name);
    const another = last?.framed !== framed;
    if (!asked && !another && made.touched()) return;
    framedBefore.current = { framed, request, name };
    // With room for the shape as it is drawn now.
    const nodes = new Float64Array(shape.to.length);
    addDisplacement(model.specified.positions, shape.to, nodes);
    const canopy = new Float32Array(surface.rest.length);
    surfacePositions(surface, shape.to, canopy);
    const drawn = [framed, nodes, canopy].flatMap((points) => [...points]);
    const view = presetView(name, drawn, size.width / size.height, footShareOf(overlay, size));
    former.current = undefined;
    made.glideTo(view, performance.now(), asked && !prefersStill() ? GLIDE_MS.camera : 0);
  }, [framed, model, surface, shape, name, request, overlay, size]);

  // Coming near to some lines, and back to where the camera was once they are let go.
  const framedLines = useRef<string | undefined>(undefined);
  const { frame } = stage;
  const released = frame === undefined && stage.selected.size === 0;
  useLayoutEffect(() => {
    const made = camRig.current;
    if (made === undefined || size.width === 0 || size.height === 0) return;
    const glideMs = prefersStill() ? 0 : GLIDE_MS.camera;
    if (frame === undefined) {
      framedLines.current = undefined;
      if (!released || former.current === undefined) return;
      made.glideTo(former.current, performance.now(), glideMs, "keep");
      former.current = undefined;
      return;
    }
    const points = [...frame.keys].flatMap((key) => {
      const place = topology.place.get(key);
      if (place === undefined) return [];
      return [0, 1].flatMap((end) => {
        const node = 3 * (topology.lineEnds[2 * place + end] as number);
        return [0, 1, 2].map(
          (axis) => (model.specified.positions[node + axis] as number) + (shape.to[node + axis] as number),
        );
      });
    });
    if (points.length === 0 || framedLines.current === frame.request) return;
    framedLines.current = frame.request;
    former.current ??= made.view();
    const view = closeView(
      points,
      former.current,
      size.width / size.height,
      LEAST_FRAMED_M,
      footShareOf(overlay, size),
    );
    made.glideTo(view, performance.now(), glideMs, "keep");
  }, [frame, released, model, topology, shape, overlay, size]);

  // Picking.
  const projected = useMemo(() => new Float64Array(6 * topology.keys.length), [topology]);
  useLayoutEffect(() => {
    const matrix = new Matrix4();
    handle.current = {
      pick(xPx, yPx, pointerType) {
        matrix.multiplyMatrices(camera.projectionMatrix, camera.matrixWorldInverse);
        const { positions } = world;
        projectSegments(positions, topology.lineEnds, matrix.elements, size.width, size.height, projected);
        const reach = REACH_PX[pointerType] ?? REACH_PX.mouse;
        const found = nearestSegment(projected, xPx, yPx, reach as number, (i) =>
          passesFilters(lines, topology.keys[i] as string, rows, sides),
        );
        return found === undefined ? undefined : topology.keys[found];
      },
      turn: (right, up) => camRig.current?.turn(right, up),
      zoom: (factor) => camRig.current?.zoom(factor),
    };
    return () => {
      handle.current = undefined;
    };
  }, [handle, camera, world, topology, lines, rows, sides, size.width, size.height, projected]);

  // One frame. Priority 1: this draws, not the library, so that the count of draw calls can be told afterwards.
  const at = useMemo(() => new Vector3(), []);
  const tips = useMemo(() => tipNodes(model.specified.positions), [model]);
  const stale = useRef<unknown>(undefined);
  useFrame(() => {
    const made = camRig.current;
    if (made === undefined) return;
    const now = performance.now();
    const fresh = stale.current !== world;
    stale.current = world;
    let moving = made.step(now);
    if (stepTween(shape, now) || fresh) world.setShape(shape.values);
    if (stepTween(ghostShape, now) || fresh) world.setGhost(ghostShape.values);
    const newLooks = stepTween(looks, now);
    const newShares = stepTween(shares, now);
    if (newLooks || newShares || fresh) {
      world.setLooks(looks.values, unmeasured, shares.values[0] as number, shares.values[1] as number);
    }
    moving ||= shape.running || ghostShape.running || looks.running || shares.running;
    world.face(camera, made.distanceM(), size.width, size.height, gl.getPixelRatio());
    gl.render(scene, camera);

    placeSides();
    placeTag();
    const host = overlay.host.current;
    if (host !== null) {
      host.dataset.drawCalls = String(gl.info.render.calls);
      host.dataset.stageReady = "true";
      host.dataset.moving = String(moving);
      // A tip's place as drawn, the camera's distance and where the risers end, for whoever watches from outside.
      host.dataset.tipZ = tipHeight(world.positions, tips.left);
      host.dataset.distance = made.distanceM().toFixed(2);
      host.dataset.foot = footPx().toFixed(0);
    }
    if (moving) invalidate();
  }, 1);

  /** The lowest carabiner's place from the picture's top [CSS px]. */
  function footPx(): number {
    let lowest = 0;
    for (let i = 0; i < topology.carabiners.length; i += 2) {
      at.fromArray(world.positions, 3 * (topology.carabiners[i] as number)).project(camera);
      lowest = Math.max(lowest, (0.5 - 0.5 * at.y) * size.height);
    }
    return lowest;
  }

  /** "left" and "right" under the tips; seen from the side, only the nearer one. */
  function placeSides(): void {
    const labels = [
      { element: overlay.left.current, node: tips.left },
      { element: overlay.right.current, node: tips.right },
    ].map(({ element, node }) => {
      if (node !== undefined) at.fromArray(world.positions, 3 * node).project(camera);
      const x = (0.5 + 0.5 * at.x) * size.width;
      const y = (0.5 - 0.5 * at.y) * size.height + SIDE_BELOW_PX;
      const inside = node !== undefined && at.z < 1 && x > 0 && x < size.width && y > 0 && y < size.height;
      return { element, x, y, depth: at.z, inside };
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

  /** Beside the middle of the line under the pointer, inside the picture. */
  function placeTag(): void {
    const tag = overlay.tag.current;
    if (tag === null) return;
    const place = stage.hovered === undefined ? undefined : topology.place.get(stage.hovered);
    if (place === undefined) return;
    const [a, b] = [0, 1].map((end) => 3 * (topology.lineEnds[2 * place + end] as number)) as [
      number,
      number,
    ];
    const p = world.positions;
    at.set(
      ((p[a] as number) + (p[b] as number)) / 2,
      ((p[a + 1] as number) + (p[b + 1] as number)) / 2,
      ((p[a + 2] as number) + (p[b + 2] as number)) / 2,
    ).project(camera);
    const width = tag.offsetWidth;
    const x = Math.min(Math.max((0.5 + 0.5 * at.x) * size.width + 14, 8), size.width - width - 8);
    const y = Math.min(Math.max((0.5 - 0.5 * at.y) * size.height, 18), size.height - 18);
    tag.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px) translateY(-50%)`;
  }

  return <primitive object={world.object} />;
}

/** Share of the picture's height that the caption needs below the wing. */
function footShareOf(overlay: Overlay, size: { readonly width: number; readonly height: number }): number {
  if (size.width >= CAPTION_BELOW_PX || size.height === 0) return 0;
  return ((overlay.words.current?.offsetHeight ?? 0) + 14) / size.height;
}

function prefersStill(): boolean {
  return window.matchMedia("(prefers-reduced-motion: reduce)").matches;
}

function tipHeight(positions: Float64Array, node: number | undefined): string {
  return node === undefined ? "" : (positions[3 * node + 2] as number).toFixed(4);
}

/** All points that a preset must hold: nodes and canopy. */
function everythingOf(nodes: Float64Array, canopy: Float32Array): Float64Array {
  const all = new Float64Array(nodes.length + canopy.length);
  all.set(nodes);
  all.set(canopy, nodes.length);
  return all;
}

/** The nodes farthest out on either side. */
function tipNodes(positions: Float64Array): {
  readonly left: number | undefined;
  readonly right: number | undefined;
} {
  let left: number | undefined;
  let right: number | undefined;
  const y = (node: number) => positions[3 * node + 1] as number;
  for (let node = 0; node < positions.length / 3; node++) {
    if (left === undefined || y(node) < y(left)) left = node;
    if (right === undefined || y(node) > y(right)) right = node;
  }
  return { left, right };
}
