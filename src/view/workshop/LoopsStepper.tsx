/** One line's loop: the next looser or tighter one, and what it takes up. */
import { signedMm } from "../model/format.ts";
import { takeUpText } from "../model/workshop-loops.ts";
import type { HandLine } from "../model/workshop-loops-hand.ts";
import styles from "./LoopsStepper.module.css";

export function LoopsStepper({
  line,
  onTie,
}: {
  readonly line: HandLine;
  /** @param to index among the line's states */
  readonly onTie: (to: number) => void;
}) {
  const { states, now, present } = line;
  const state = states[now];
  const was = states[present];
  if (state === undefined || was === undefined) return null;
  const changed = now !== present;
  const [less, more] = [states[now - 1], states[now + 1]];
  const name = `${line.name} ${line.side}`;
  return (
    <div
      className={styles.stepper}
      data-loop-of={line.lineKey}
      data-loop={state.kind.id}
      data-changed={changed || undefined}
      role="group"
      aria-label={`Loop of ${name}`}
    >
      <button
        type="button"
        disabled={less === undefined}
        aria-label={less === undefined ? `${name}: no looser loop` : `${name}: looser, ${less.kind.name}`}
        title={less?.kind.name}
        onClick={() => onTie(now - 1)}
      >
        ‹
      </button>
      <output aria-live="polite">
        <strong>{state.kind.name}</strong>
        <small>
          {changed
            ? `${signedMm(was.takeUpM - state.takeUpM, 1)} mm; was ${was.kind.name}`
            : takeUpText(state)}
        </small>
      </output>
      <button
        type="button"
        disabled={more === undefined}
        aria-label={more === undefined ? `${name}: no tighter loop` : `${name}: tighter, ${more.kind.name}`}
        title={more?.kind.name}
        onClick={() => onTie(now + 1)}
      >
        ›
      </button>
    </div>
  );
}
