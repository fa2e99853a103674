/** One state of the wing as it is drawn: keeps its batches in step with what is asked, gliding from one to the next. */
import { useThree } from "@react-three/fiber";
import { type RefObject, useEffect, useLayoutEffect, useMemo, useRef } from "react";
import type { Equilibrium } from "../../geometry/model.ts";
import {
  type ColourM,
  type Focus,
  fillLooks,
  LOOK,
  LOOK_SIZE,
  passesFilters,
  unmeasuredFlags,
} from "./look.ts";
import type { Mark } from "./marks.ts";
import type { StageProps, StateView } from "./props.ts";
import { drawnDisplacement } from "./shape.ts";
import type { StageTopology } from "./topology.ts";
import type { LineIndex } from "./trace.ts";
import { makeTween, startTween, stepTween } from "./tween.ts";
import { world as makeWorld, type World } from "./world.ts";

/** What the scene asks of a drawn state. */
export interface Drawn {
  readonly world: World;
  /** 3n displacements that the shape is at or gliding to, exaggerated [m]. */
  readonly shapeTo: Float64Array;
  /** Moves everything to where it is at `nowMs`. Returns whether something is still moving. */
  step(nowMs: number): boolean;
}

/** Glides [ms]: between states, after the exaggeration moved, hover and selection. */
const GLIDE_MS = { state: 480, exaggeration: 140, look: 140 };
const END_MARK_PX = 7;
/** States or exaggerations that follow each other within this time are being slid: each is shown at once [ms]. */
const SLIDING_MS = 260;
/** How much of the plain lines' receding the ghost goes along with. */
const GHOST_RECEDES = 0.85;

export function DrawnWing(props: {
  readonly stage: Pick<StageProps, "model" | "surface" | "exaggeration" | "rows" | "sides" | "scale">;
  readonly topology: StageTopology;
  readonly lines: LineIndex;
  readonly focus: Focus;
  /** As specified under the same rigging: what shape changes are counted from. */
  readonly origin: Equilibrium;
  readonly state: StateView;
  /** A state drawn behind in one pale colour. */
  readonly ghost: StateView | undefined;
  readonly colourM: ColourM;
  /** Says what the colours are of: from one to another they glide. */
  readonly colourOf: string;
  readonly drawn: RefObject<Drawn | undefined>;
}) {
  const { stage, topology, lines, focus, origin, state, ghost, colourM, drawn } = props;
  const { model, surface, exaggeration, rows, sides, scale } = stage;
  const invalidate = useThree((s) => s.invalidate);
  const world = useMemo(() => makeWorld(model, topology, surface), [model, topology, surface]);
  useEffect(() => () => world.dispose(), [world]);

  // Tweens: node displacements; looks; ghost and dash gap.
  const shape = useMemo(() => makeTween(3 * topology.nodes), [topology]);
  const ghostShape = useMemo(() => makeTween(3 * topology.nodes), [topology]);
  const looks = useMemo(() => makeTween(LOOK_SIZE * topology.keys.length), [topology]);
  const shares = useMemo(() => makeTween(2), []);
  // In ink dashes close, they don't vanish: what was dashed stays so until there are colours again.
  const unmeasured = useRef<Uint8Array>(undefined);

  const showing = `${state.id}/${ghost?.id ?? ""}`;

  // Shape. A change of what is shown glides; states that are being slid through are each shown at once.
  const before = useRef<
    { world: unknown; showing: string; solved: unknown; behind: unknown; atMs: number } | undefined
  >(undefined);
  useLayoutEffect(() => {
    const now = performance.now();
    const last = before.current;
    const fresh = last?.world !== world;
    const turned = last?.showing !== showing;
    const solved = last?.solved !== state.solved || last.behind !== ghost?.solved;
    before.current = { world, showing, solved: state.solved, behind: ghost?.solved, atMs: now };
    const to = (solution: Equilibrium, out: Float64Array): void =>
      drawnDisplacement(model.specified, origin, solution, exaggeration, out);
    to(state.solved, shape.to);
    to(ghost?.solved ?? origin, ghostShape.to);
    const sliding = solved || (last !== undefined && now - last.atMs < SLIDING_MS);
    const glideMs =
      fresh || prefersStill() ? 0 : turned ? GLIDE_MS.state : sliding ? 0 : GLIDE_MS.exaggeration;
    startTween(shape, now, glideMs);
    startTween(ghostShape, now, ghost === undefined ? 0 : glideMs);
    invalidate();
  }, [world, model, origin, state, ghost, showing, exaggeration, shape, ghostShape, invalidate]);

  // Looks. A change of state takes its colours along at its own pace.
  const looksBefore = useRef<{ looks: unknown; of: string; colourM: unknown } | undefined>(undefined);
  const hasGhost = ghost !== undefined;
  const of = `${showing}/${props.colourOf}`;
  useLayoutEffect(() => {
    const fresh = looksBefore.current?.looks !== looks;
    const turned = looksBefore.current?.of !== of;
    const solved = looksBefore.current?.colourM !== colourM;
    looksBefore.current = { looks, of, colourM };
    fillLooks({ colourM, rows, sides, scale }, topology, lines, focus, looks.to);
    if (colourM !== undefined || unmeasured.current?.length !== topology.keys.length)
      unmeasured.current = unmeasuredFlags(colourM, topology);
    shares.to[0] = hasGhost ? 1 - GHOST_RECEDES * focus.recede : 0;
    shares.to[1] = colourM === undefined ? 0 : 1;
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
  }, [colourM, of, hasGhost, rows, sides, scale, topology, lines, focus, looks, shares, world, invalidate]);

  useLayoutEffect(() => {
    let fresh = true;
    drawn.current = {
      world,
      shapeTo: shape.to,
      step(nowMs) {
        if (stepTween(shape, nowMs) || fresh) world.setShape(shape.values);
        if (stepTween(ghostShape, nowMs) || fresh) world.setGhost(ghostShape.values);
        const newLooks = stepTween(looks, nowMs);
        const newShares = stepTween(shares, nowMs);
        if ((newLooks || newShares || fresh) && unmeasured.current !== undefined)
          world.setLooks(
            looks.values,
            unmeasured.current,
            shares.values[0] as number,
            shares.values[1] as number,
          );
        fresh = false;
        return shape.running || ghostShape.running || looks.running || shares.running;
      },
    };
    invalidate();
    return () => {
      drawn.current = undefined;
    };
  }, [drawn, world, shape, ghostShape, looks, shares, invalidate]);

  return <primitive object={world.object} />;
}

export function prefersStill(): boolean {
  return window.matchMedia("(prefers-reduced-motion: reduce)").matches;
}
