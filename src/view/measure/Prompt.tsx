/** Which line is next, to be read across the hall: its name, and its side in colour, in a word and by where it stands. */
import type { CSSProperties } from "react";
import type { Side } from "../../plan/model.ts";
import type { TargetState } from "../../readings/session/index.ts";
import { keyOfTarget, type Step } from "../../readings/session/index.ts";
import { type Key, say } from "../../words/index.ts";
import styles from "./Prompt.module.css";

export type Asking = "first" | "again" | "put off" | "once more";

const ASKING: Readonly<Record<Asking, Key | undefined>> = {
  first: undefined,
  again: "measure.prompt.again",
  "put off": "measure.prompt.putOff",
  "once more": "measure.prompt.onceMore",
};

export function askingOf(state: TargetState | undefined, isRepeating: boolean): Asking {
  if (isRepeating || state?.status === "read") return "once more";
  if (state?.status === "doubtful") return "again";
  return state !== undefined && state.skips > 0 ? "put off" : "first";
}

export function SideMark({ side }: { readonly side: Side }) {
  return (
    <span className={styles.side} data-side={side}>
      <svg viewBox="0 0 24 24" width="28" height="28" aria-hidden="true">
        <path d={side === "left" ? "M16 3L6 12L16 21Z" : "M8 3L18 12L8 21Z"} fill="currentColor" />
      </svg>
      {say("measure.side", { side })}
    </span>
  );
}

export function Prompt(props: {
  readonly step: Step;
  readonly asking: Asking;
  readonly isKnown: boolean;
  readonly notes: readonly string[];
}) {
  const { step, asking, isKnown, notes } = props;
  const { target, row } = step;
  const more = ASKING[asking];
  const what = say("measure.prompt.what", { kind: target.kind, row });
  return (
    <h2
      className={styles.prompt}
      aria-live="polite"
      aria-atomic="true"
      data-prompt={keyOfTarget(target)}
      data-side={target.side}
      data-asking={asking}
      style={{ "--chars": Math.max(2, [...target.id].length) } as CSSProperties}
    >
      <SideMark side={target.side} />
      <span className={styles.name}>{target.id}</span>
      <span className={styles.what}>
        {more === undefined ? null : <strong>{say(more)} </strong>}
        {isKnown ? what : say("measure.prompt.unknown")}
        {notes.length > 0 ? <em> {notes.join("; ")}</em> : null}
      </span>
    </h2>
  );
}
