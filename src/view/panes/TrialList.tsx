/** All lengths and loops that are tried, with the way back: remove one, clear all, undo, redo. */
import { chosenChanges } from "../../workshop/index.ts";
import { counted, signed, signedMm } from "../model/format.ts";
import { pickLine, useApp } from "../state/app.ts";
import type { Step } from "../state/history.ts";
import styles from "./Mechanics.module.css";

/** Trials and corrections share one way back: said where the next step isn't what the list shows. */
function stepText(step: Step | undefined): string | undefined {
  if (step?.of === "book") return "an entry in the bench’s book";
  return step?.of === "readings" ? "a correction of the readings" : undefined;
}

export function TrialList() {
  const trials = useApp(({ choices }) => choices.trials);
  const chosen = useApp(({ choices }) => choices.loops);
  const lineLoops = useApp((state) => state.document?.loops);
  const cascade = useApp((state) => state.document?.cascade);
  const history = useApp((state) => state.history);
  const tryOut = useApp((state) => state.tryOut);
  const undo = useApp((state) => state.undo);
  const redo = useApp((state) => state.redo);
  const unsolved = useApp((state) => state.unsolved);
  const ever = [...history.past, ...history.future].some(({ of }) => of === "trials");
  const loops = chosenChanges(lineLoops ?? [], chosen);
  const nothing = trials.size === 0 && chosen.size === 0;
  if (nothing && !ever) return null;
  const said = [
    ...(trials.size === 0 ? [] : [counted(trials.size, "length")]),
    ...(loops.length === 0 ? [] : [counted(loops.length, "loop")]),
  ].join(", ");
  const nameOf = (key: string): string => {
    const line = cascade?.lines.get(key);
    return line === undefined ? `${key}, not in this plan` : `${line.id} ${line.side}`;
  };
  return (
    <section
      className={styles.trials}
      aria-label="As tried"
      data-trials={trials.size}
      data-tried-loops={loops.length}
    >
      <header className={styles.groupHead}>
        <h2>
          As tried <small>{said === "" ? "nothing now" : said}</small>
        </h2>
        <span className={styles.ways}>
          <button
            type="button"
            className={styles.text}
            disabled={history.past.length === 0}
            title={stepText(history.past.at(-1))}
            onClick={undo}
          >
            Undo
          </button>
          <button
            type="button"
            className={styles.text}
            disabled={history.future.length === 0}
            title={stepText(history.future.at(-1))}
            onClick={redo}
          >
            Redo
          </button>
          <button
            type="button"
            className={styles.text}
            disabled={nothing}
            onClick={() => tryOut({ kind: "clear" })}
          >
            Clear all
          </button>
        </span>
      </header>
      {trials.size + loops.length === 0 ? null : (
        <ul className={styles.trialLines}>
          {[...trials].map(([key, mm]) => {
            const name = nameOf(key);
            return (
              <li key={key} data-trial-line={key}>
                <button type="button" className={styles.text} onClick={() => pickLine(key)}>
                  {name}
                </button>
                <span className="figures">{signed(mm, 0)} mm</span>
                <button
                  type="button"
                  className={styles.remove}
                  aria-label={`Remove ${name}`}
                  onClick={() => tryOut({ kind: "remove", lineKeys: [key] })}
                >
                  ×
                </button>
              </li>
            );
          })}
          {loops.map(({ lineKey, to, changeM }) => {
            const name = nameOf(lineKey);
            return (
              <li key={`loop ${lineKey}`} data-trial-loop={lineKey}>
                <button type="button" className={styles.text} onClick={() => pickLine(lineKey)}>
                  {name}
                </button>
                <span>
                  {to.kind.name} <span className="figures">{signedMm(changeM, 1)} mm</span>
                </span>
                <button
                  type="button"
                  className={styles.remove}
                  aria-label={`Leave the loop of ${name} as it is`}
                  onClick={() => tryOut({ kind: "tie", lineKeys: [lineKey], kindId: undefined })}
                >
                  ×
                </button>
              </li>
            );
          })}
        </ul>
      )}
      {unsolved === undefined ? null : (
        <p role="alert" className={styles.warning}>
          This could not be solved: {unsolved}. The shape is that before it.
        </p>
      )}
      {trials.size + loops.length === 0 ? null : (
        <p className={styles.small}>A calculation, no advice and no clearance to fly.</p>
      )}
    </section>
  );
}
