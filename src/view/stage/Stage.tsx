/** The wing in 3D: one component that takes an analysis and choices, and tells back what the pointer is on. */
import { Canvas, type RootState } from "@react-three/fiber";
import {
  Component,
  Fragment,
  type PointerEvent,
  type ReactNode,
  useCallback,
  useEffect,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
} from "react";
import { GROUND_HEX } from "../../diagnosis/colour.ts";
import { say } from "../../words/index.ts";
import { useSize } from "../parts/hooks.ts";
import { Divider } from "./Divider.tsx";
import type { Overlay } from "./overlay.ts";
import { clampWipe, isStacked } from "./panes.ts";
import type { StageProps } from "./props.ts";
import { Scene, type SceneHandle } from "./Scene.tsx";
import styles from "./Stage.module.css";
import { lineTags, stageCaption } from "./words.ts";

export type { StagePicture, StageProps, StateView, ViewDirection } from "./props.ts";

/** A press that moves farther [CSS px] or lasts longer [ms] is a turn of the camera, not a tap. */
const TAP = { movePx: 6, lastsMs: 600 };
/** One press of an arrow key: 6° to the right and up. */
const TURN_RAD = (6 * Math.PI) / 180;
const KEY_TURNS: Readonly<Record<string, readonly [rightRad: number, upRad: number]>> = {
  ArrowLeft: [-TURN_RAD, 0],
  ArrowRight: [TURN_RAD, 0],
  ArrowUp: [0, TURN_RAD],
  ArrowDown: [0, -TURN_RAD],
};
const KEY_ZOOMS: Readonly<Record<string, number>> = { "+": 1.15, "=": 1.15, "-": 1 / 1.15 };

export function Stage(stage: StageProps) {
  const host = useRef<HTMLDivElement>(null);
  const words = useRef<HTMLDivElement>(null);
  const one = usePaneWords();
  const other = usePaneWords();
  const overlay = useMemo<Overlay>(() => ({ host, words, panes: [one, other] }), [one, other]);
  const handle = useRef<SceneHandle>(undefined);
  const canDraw = useMemo(hasWebGl, []);
  const [lost, setLost] = useState(false);

  const { analysis, hovered, onHover, onSelect, picture } = stage;
  const { first, second, how } = picture;
  const caption = stageCaption(picture, stage.exaggeration, stage.rigged);
  const tags = useMemo(
    () => (hovered === undefined ? undefined : lineTags(analysis, hovered, picture, stage.colouredBy)),
    [analysis, hovered, picture, stage.colouredBy],
  );
  const parted = second !== undefined && how !== "over";
  const wipeAt = clampWipe(stage.wipeAt);

  // Pointer. Touch has no hover: a tap selects, in a wider reach.
  const press = useRef<{ x: number; y: number; at: number; moved: boolean; pointers: number } | undefined>(
    undefined,
  );
  const told = useRef<string | undefined>(undefined);
  const tellHover = useCallback(
    (key: string | undefined) => {
      if (told.current === key) return;
      told.current = key;
      onHover(key);
    },
    [onHover],
  );
  const pickAt = (event: PointerEvent): string | undefined => {
    const box = host.current?.getBoundingClientRect();
    if (box === undefined) return undefined;
    return handle.current?.pick(event.clientX - box.left, event.clientY - box.top, event.pointerType);
  };
  const onPointerDown = (event: PointerEvent): void => {
    const pointers = event.isPrimary ? 1 : (press.current?.pointers ?? 0) + 1;
    press.current = {
      x: event.clientX,
      y: event.clientY,
      at: event.timeStamp,
      moved: pointers > 1,
      pointers,
    };
  };
  const onPointerMove = (event: PointerEvent): void => {
    const from = press.current;
    if (from !== undefined && Math.hypot(event.clientX - from.x, event.clientY - from.y) > TAP.movePx)
      from.moved = true;
    if (event.pointerType !== "touch" && event.buttons === 0) tellHover(pickAt(event));
  };
  const onPointerUp = (event: PointerEvent): void => {
    const from = press.current;
    if (!event.isPrimary || from === undefined) return;
    press.current = undefined;
    const tapped = !from.moved && event.timeStamp - from.at < TAP.lastsMs && event.button === 0;
    if (tapped) onSelect(pickAt(event));
  };

  const onKeyDown = (event: React.KeyboardEvent): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const turn = KEY_TURNS[event.key];
    const zoom = KEY_ZOOMS[event.key];
    if (turn === undefined && zoom === undefined) return;
    event.preventDefault();
    if (turn !== undefined) handle.current?.turn(...turn);
    if (zoom !== undefined) handle.current?.zoom(zoom);
  };

  // The context can be taken away (sleep, another tab's load); the renderer rebuilds itself when it comes back.
  const [root, setRoot] = useState<RootState>();
  useEffect(() => {
    if (root === undefined) return;
    const canvas = root.gl.domElement;
    const onLost = (event: Event) => {
      event.preventDefault();
      setLost(true);
    };
    const onRestored = () => {
      root.gl.setClearColor(GROUND_HEX, 1);
      setLost(false);
      root.invalidate();
    };
    canvas.addEventListener("webglcontextlost", onLost);
    canvas.addEventListener("webglcontextrestored", onRestored);
    return () => {
      canvas.removeEventListener("webglcontextlost", onLost);
      canvas.removeEventListener("webglcontextrestored", onRestored);
    };
  }, [root]);

  const label = say("stage.label", {
    wing: analysis.wing.name,
    state: caption.state,
    scale: caption.scale ?? "none",
  });
  const unavailable = (
    <div className={styles.message} role="status" data-stage-unavailable="true">
      <p>{say("stage.unavailable")}</p>
      <p>{say("stage.unavailable.else")}</p>
    </div>
  );
  if (!canDraw) return <div className={styles.stage}>{unavailable}</div>;

  return (
    <div
      ref={host}
      className={styles.stage}
      role="application"
      aria-label={label}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: as above
      tabIndex={0}
      data-stage-ready="false"
      data-hovered={hovered ?? ""}
      onPointerDown={onPointerDown}
      onPointerMove={onPointerMove}
      onPointerUp={onPointerUp}
      onPointerCancel={() => {
        press.current = undefined;
      }}
      onPointerLeave={() => tellHover(undefined)}
      onKeyDown={onKeyDown}
    >
      <Fallback instead={unavailable}>
        <Canvas
          frameloop="demand"
          flat
          dpr={[1, 2]}
          gl={{ antialias: true, alpha: false, powerPreference: "high-performance" }}
          camera={{ fov: 24, near: 0.1, far: 400, position: [-20, -15, 3] }}
          onCreated={(created) => {
            created.gl.setClearColor(GROUND_HEX, 1);
            setRoot(created);
          }}
        >
          <Scene stage={stage} overlay={overlay} handle={handle} />
        </Canvas>
        {overlay.panes.map((pane, state) => (
          <Fragment key={state === 0 ? "first" : "second"}>
            <div ref={pane.left} className={`${styles.over} ${styles.side}`} aria-hidden="true">
              {say("frame.side", { side: "left" })}
            </div>
            <div ref={pane.right} className={`${styles.over} ${styles.side}`} aria-hidden="true">
              {say("frame.side", { side: "right" })}
            </div>
            <div
              ref={pane.tag}
              className={`${styles.over} ${styles.tag}`}
              hidden={tags === undefined}
              data-stage-tag={state}
            >
              {tags?.[state]}
            </div>
          </Fragment>
        ))}
        {second !== undefined && how === "beside" && <Halves names={[first.name, second.name]} />}
        {second !== undefined && how === "wipe" && (
          <>
            <WipeNames names={[first.name, second.name]} at={wipeAt} />
            <Divider first={first} second={second} at={wipeAt} onMove={stage.onWipe} />
          </>
        )}
        <div ref={words} className={styles.caption} data-stage-caption="true">
          <div className={parted ? "unseen" : styles.state}>{caption.state}</div>
          {caption.scale !== undefined && <div className={styles.scale}>{caption.scale}</div>}
        </div>
        {lost && (
          <div className={styles.message} role="status">
            <p>{say("stage.lost")}</p>
            <p>{say("stage.lost.back")}</p>
          </div>
        )}
      </Fallback>
    </div>
  );
}

function usePaneWords(): Overlay["panes"][number] {
  const tag = useRef<HTMLDivElement>(null);
  const left = useRef<HTMLDivElement>(null);
  const right = useRef<HTMLDivElement>(null);
  return useMemo(() => ({ tag, left, right }), []);
}

/** The states' names at the head of either half, and the line between the halves. */
function Halves({ names }: { readonly names: readonly [string, string] }) {
  const [ref, size] = useSize<HTMLDivElement>();
  return (
    <div ref={ref} className={styles.halves} data-stacked={isStacked(size.width, size.height)}>
      {names.map((name) => (
        <div key={name} className={styles.half} data-half={name}>
          {name}
        </div>
      ))}
    </div>
  );
}

/** The states' names on either side of the divider, kept inside the picture. */
function WipeNames({ names, at }: { readonly names: readonly [string, string]; readonly at: number }) {
  const ref = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const plate = ref.current;
    const room = plate?.parentElement?.clientWidth ?? 0;
    if (plate === null || room === 0) return;
    // The gap between the names stands on the divider as long as both names fit.
    const left = (plate.firstElementChild as HTMLElement).offsetWidth;
    const x = Math.min(Math.max(at * room - left, 4), Math.max(4, room - plate.offsetWidth - 4));
    plate.style.transform = `translateX(${x.toFixed(1)}px)`;
  });
  return (
    <div ref={ref} className={styles.wipeNames} data-wipe-names="true">
      <span>{names[0]}</span>
      <span>{names[1]}</span>
    </div>
  );
}

function hasWebGl(): boolean {
  try {
    const context = document.createElement("canvas").getContext("webgl2");
    context?.getExtension("WEBGL_lose_context")?.loseContext();
    return context !== null;
  } catch {
    return false;
  }
}

/** Shows something else where the picture can't be made: creating the renderer can still fail after a probe succeeded. */
class Fallback extends Component<
  { readonly instead: ReactNode; readonly children: ReactNode },
  { failed: boolean }
> {
  override state = { failed: false };
  static getDerivedStateFromError() {
    return { failed: true };
  }
  override render() {
    return this.state.failed ? this.props.instead : this.props.children;
  }
}
