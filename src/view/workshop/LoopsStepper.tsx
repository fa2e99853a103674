/** One line's loop: the next looser or tighter one, and what it takes up. */
import { say, signedLength } from "../../words/index.ts";
import { kindName } from "../../workshop/index.ts";
import { sidedName } from "../model/format.ts";
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
  const name = sidedName(line.name, line.side);
  return (
    <div
      className={styles.stepper}
      data-loop-of={line.lineKey}
      data-loop={state.kind.id}
      data-changed={changed || undefined}
      role="group"
      aria-label={say("loops.stepper.of", { line: name })}
    >
      <button
        type="button"
        disabled={less === undefined}
        aria-label={
          less === undefined
            ? say("loops.stepper.least", { line: name })
            : say("loops.stepper.less", { line: name, loop: kindName(less.kind) })
        }
        title={less === undefined ? undefined : kindName(less.kind)}
        onClick={() => onTie(now - 1)}
      >
        ‹
      </button>
      <output aria-live="polite">
        <strong>{kindName(state.kind)}</strong>
        <small>
          {changed
            ? say("loops.stepper.was", {
                change: signedLength(was.takeUpM - state.takeUpM, 1),
                loop: kindName(was.kind),
              })
            : takeUpText(state)}
        </small>
      </output>
      <button
        type="button"
        disabled={more === undefined}
        aria-label={
          more === undefined
            ? say("loops.stepper.most", { line: name })
            : say("loops.stepper.more", { line: name, loop: kindName(more.kind) })
        }
        title={more === undefined ? undefined : kindName(more.kind)}
        onClick={() => onTie(now + 1)}
      >
        ›
      </button>
    </div>
  );
}
