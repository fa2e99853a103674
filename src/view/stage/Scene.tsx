/** The moving part of the stage: draws each state in its part of the canvas, without React between frames. */
import { useFrame, useThree } from "@react-three/fiber";
import { type RefObject, useLayoutEffect, useMemo, useRef } from "react";
import { Matrix4, type PerspectiveCamera } from "three";
import { type Fit, useCamera } from "./camera.ts";
import { type Drawn, DrawnWing } from "./DrawnWing.tsx";
import { focusOf, passesFilters } from "./look.ts";
import { footPx, hideWords, type Overlay, placeSides, placeTag, tipNodes } from "./overlay.ts";
import { fromBelow, type Pane, paneAt, panesOf } from "./panes.ts";
import { nearestSegment, projectSegments, REACH_PX } from "./pick.ts";
import { coloursOf, frontOf } from "./picture.ts";
import type { StageProps } from "./props.ts";
import { type Rig, rig } from "./rig.ts";
import { stageTopology } from "./topology.ts";
import { lineIndex } from "./trace.ts";

/** What the frame around the canvas may ask of the scene. */
export interface SceneHandle {
  /** The line under a point of the canvas [CSS px], or undefined. */
  pick(xPx: number, yPx: number, pointerType: string): string | undefined;
  turn(rightRad: number, upRad: number): void;
  zoom(factor: number): void;
}

/** On pictures narrower than this the caption stands below the wing, on wider ones beside it. */
const CAPTION_BELOW_PX = 640;
/** Height of the states' names at the top of two pictures [CSS px]. */
const NAMES_PX = 30;

export function Scene(props: {
  readonly stage: StageProps;
  readonly overlay: Overlay;
  readonly handle: RefObject<SceneHandle | undefined>;
}) {
  const { stage, overlay, handle } = props;
  const { analysis, model, picture, rows, sides, wipeAt } = stage;
  const gl = useThree((s) => s.gl);
  const scene = useThree((s) => s.scene);
  const camera = useThree((s) => s.camera) as PerspectiveCamera;
  const size = useThree((s) => s.size);
  const invalidate = useThree((s) => s.invalidate);

  const topology = useMemo(() => stageTopology(model), [model]);
  const lines = useMemo(() => lineIndex(analysis.wing.lines), [analysis.wing]);
  const focus = useMemo(
    () => focusOf(lines, stage.selected, stage.hovered, stage.withoutTwins),
    [lines, stage.selected, stage.hovered, stage.withoutTwins],
  );
  const colours = useMemo(() => coloursOf(picture), [picture]);
  const { first, second, how } = picture;
  const parted = second !== undefined && how !== "over";

  // The state in front keeps its batches from one picture to another; the other one has some only in a picture of its own.
  const front = useRef<Drawn>(undefined);
  const other = useRef<Drawn>(undefined);
  const drawn = useMemo(() => [front, other], []);
  const drawnAs = (state: 0 | 1): Drawn | undefined =>
    parted && state === 0 ? other.current : front.current;

  const panes = useMemo(
    () => panesOf(how, second !== undefined, wipeAt, size.width, size.height),
    [how, second, wipeAt, size.width, size.height],
  );
  useLayoutEffect(() => {
    if (panes.length > 0) invalidate();
  }, [panes, invalidate]);
  const { width, height } = (panes[0] as Pane).view;

  const camRig = useRef<Rig | undefined>(undefined);
  useLayoutEffect(() => {
    const made = rig(camera, gl.domElement, invalidate);
    camRig.current = made;
    return () => made.dispose();
  }, [camera, gl, invalidate]);
  useLayoutEffect(() => {
    if (height > 0)
      camRig.current?.suit(height / size.height, height === size.height && width === size.width);
  }, [width, height, size]);

  const fit = useMemo(
    (): Fit => ({
      width,
      height,
      foot: () =>
        width >= CAPTION_BELOW_PX || size.width >= CAPTION_BELOW_PX || height === 0
          ? 0
          : ((overlay.words.current?.offsetHeight ?? 0) + 14) / height,
      head: parted && height > 0 ? NAMES_PX / height : 0,
    }),
    [width, height, size.width, parted, overlay],
  );
  useCamera(stage, topology, camRig, drawn, fit);

  // Picking. In one picture that is parted, the state last pointed at is the one whose line is named.
  const pointed = useRef<0 | 1>(0);
  const projected = useMemo(() => new Float64Array(6 * topology.keys.length), [topology]);
  useLayoutEffect(() => {
    const matrix = new Matrix4();
    handle.current = {
      pick(xPx, yPx, pointerType) {
        const under = paneAt(panes, xPx, yPx);
        const inside = under === undefined ? undefined : drawnAs(under.pane.state);
        if (under === undefined || inside === undefined) return undefined;
        pointed.current = under.pane.state;
        matrix.multiplyMatrices(camera.projectionMatrix, camera.matrixWorldInverse);
        projectSegments(
          inside.world.positions,
          topology.lineEnds,
          matrix.elements,
          under.pane.view.width,
          under.pane.view.height,
          projected,
        );
        const reach = REACH_PX[pointerType] ?? REACH_PX.mouse;
        const found = nearestSegment(projected, under.x, under.y, reach as number, (i) =>
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
  });

  // One frame. Priority 1: this draws, not the library: each state in its part, and the draw calls counted.
  const tips = useMemo(() => tipNodes(model.specified.positions), [model]);
  useFrame(() => {
    const made = camRig.current;
    if (made === undefined || front.current === undefined || width === 0 || height === 0) return;
    const now = performance.now();
    if (Math.abs(camera.aspect - width / height) > 1e-6) {
      camera.aspect = width / height;
      camera.updateProjectionMatrix();
    }
    let moving = made.step(now);
    for (const { current } of drawn) if (current?.step(now)) moving = true;

    let calls = 0;
    for (const pane of panes) {
      const shown = drawnAs(pane.state);
      if (shown === undefined || pane.clip.width < 0.5) continue;
      for (const { current } of drawn)
        if (current !== undefined) current.world.object.visible = current === shown;
      shown.world.face(camera, made.distanceM(), width, height, gl.getPixelRatio());
      const view = fromBelow(pane.view, size.height);
      const clip = fromBelow(pane.clip, size.height);
      gl.setViewport(view.x, view.y, view.width, view.height);
      gl.setScissor(clip.x, clip.y, clip.width, clip.height);
      gl.setScissorTest(panes.length > 1);
      gl.render(scene, camera);
      calls += gl.info.render.calls;
    }

    placeWords();
    const host = overlay.host.current;
    if (host !== null) {
      const { positions } = front.current.world;
      host.dataset.drawCalls = String(calls);
      host.dataset.stageReady = "true";
      host.dataset.moving = String(moving);
      host.dataset.panes = String(panes.length);
      // A tip's place as drawn, the camera's distance and bearing and where the risers end, for whoever watches from outside.
      host.dataset.tipZ = tips.left === undefined ? "" : (positions[3 * tips.left + 2] as number).toFixed(4);
      host.dataset.distance = made.distanceM().toFixed(2);
      host.dataset.bearing = ((180 / Math.PI) * made.controls.getAzimuthalAngle()).toFixed(1);
      host.dataset.foot = footPx(positions, topology, camera, panes[panes.length - 1] as Pane).toFixed(0);
    }
    if (moving) invalidate();
  }, 1);

  function placeWords(): void {
    const place = stage.hovered === undefined ? undefined : topology.place.get(stage.hovered);
    for (const [state, words] of overlay.panes.entries()) {
      const pane = panes.find((each) => each.state === state);
      const shown = pane === undefined ? undefined : drawnAs(pane.state);
      if (pane === undefined || shown === undefined) {
        hideWords(words, true);
        continue;
      }
      const { positions } = shown.world;
      placeSides(words, pane, positions, tips, camera);
      const tagged = panes.length === 1 || how === "beside" || pointed.current === state;
      if (place === undefined || !tagged) hideWords(words, false);
      else {
        const ends = [0, 1].map((end) => topology.lineEnds[2 * place + end] as number) as [number, number];
        placeTag(words, pane, positions, ends, camera);
      }
    }
  }

  const common = { stage, topology, lines, focus, origin: picture.origin, colourOf: picture.colourOf };
  return (
    <>
      <DrawnWing
        {...common}
        state={frontOf(picture)}
        ghost={second !== undefined && !parted ? first : undefined}
        colourM={second === undefined ? colours[0] : colours[1]}
        drawn={front}
      />
      {parted ? (
        <DrawnWing {...common} state={first} ghost={undefined} colourM={colours[0]} drawn={other} />
      ) : null}
    </>
  );
}
