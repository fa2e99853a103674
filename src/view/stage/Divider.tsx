/** The line that parts two states in one picture: drawn along by mouse or finger, or moved by the arrow keys. */
import type { KeyboardEvent, PointerEvent } from "react";
import { say } from "../../words/index.ts";
import styles from "./Divider.module.css";
import { clampWipe } from "./panes.ts";
import type { StateView } from "./props.ts";
import { within } from "./words.ts";

/** Shares of the width. */
const STEPS: Readonly<Record<string, number>> = {
  ArrowLeft: -0.02,
  ArrowDown: -0.02,
  ArrowRight: 0.02,
  ArrowUp: 0.02,
  PageDown: -0.1,
  PageUp: 0.1,
  Home: -1,
  End: 1,
};

export function Divider(props: {
  readonly first: StateView;
  readonly second: StateView;
  readonly at: number;
  readonly onMove: (share: number) => void;
}) {
  const { first, second, at, onMove } = props;
  const move = (share: number): void => onMove(Math.round(1000 * clampWipe(share)) / 1000);
  const onKeyDown = (event: KeyboardEvent): void => {
    const step = STEPS[event.key];
    if (step === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    event.stopPropagation();
    move(at + step);
  };
  const onPointer = (event: PointerEvent<HTMLDivElement>): void => {
    event.stopPropagation();
    if (event.type === "pointerdown") event.currentTarget.setPointerCapture(event.pointerId);
    const box = event.currentTarget.parentElement?.getBoundingClientRect();
    if (box === undefined || box.width === 0) return;
    if (event.currentTarget.hasPointerCapture(event.pointerId)) move((event.clientX - box.left) / box.width);
  };
  const names = { first: within(first), second: within(second) };
  return (
    <div
      className={styles.divider}
      style={{ left: `${100 * at}%` }}
      role="slider"
      tabIndex={0}
      aria-label={say("stage.divider", names)}
      aria-orientation="horizontal"
      aria-valuemin={0}
      aria-valuemax={100}
      aria-valuenow={Math.round(100 * at)}
      aria-valuetext={say("stage.divider.at", { ...names, percent: Math.round(100 * at) })}
      data-divider={at.toFixed(3)}
      onKeyDown={onKeyDown}
      onPointerDown={onPointer}
      onPointerMove={onPointer}
      onPointerUp={(event) => event.stopPropagation()}
    >
      <span className={styles.grip} aria-hidden="true" />
    </div>
  );
}
