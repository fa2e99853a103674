/** All lengths that are tried, with the way back: remove one, clear all, undo, redo. */
import { counted, signed } from "../model/format.ts";
import { pickLine, useApp } from "../state/app.ts";
import styles from "./Mechanics.module.css";

export function TrialList() {
  const trials = useApp(({ choices }) => choices.trials);
  const cascade = useApp((state) => state.document?.cascade);
  const history = useApp((state) => state.history);
  const tryOut = useApp((state) => state.tryOut);
  const undo = useApp((state) => state.undo);
  const redo = useApp((state) => state.redo);
  const unsolved = useApp((state) => state.unsolved);
  if (trials.size === 0 && history.past.length === 0 && history.future.length === 0) return null;
  return (
    <section className={styles.trials} aria-label="As tried" data-trials={trials.size}>
      <header className={styles.groupHead}>
        <h2>
          As tried <small>{trials.size === 0 ? "nothing now" : counted(trials.size, "length")}</small>
        </h2>
        <span className={styles.ways}>
          <button type="button" className={styles.text} disabled={history.past.length === 0} onClick={undo}>
            Undo
          </button>
          <button type="button" className={styles.text} disabled={history.future.length === 0} onClick={redo}>
            Redo
          </button>
          <button
            type="button"
            className={styles.text}
            disabled={trials.size === 0}
            onClick={() => tryOut({ kind: "clear" })}
          >
            Clear all
          </button>
        </span>
      </header>
      {trials.size === 0 ? null : (
        <ul className={styles.trialLines}>
          {[...trials].map(([key, mm]) => {
            const line = cascade?.lines.get(key);
            const name = line === undefined ? `${key}, not in this plan` : `${line.id} ${line.side}`;
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
        </ul>
      )}
      {unsolved === undefined ? null : (
        <p role="alert" className={styles.warning}>
          This could not be solved: {unsolved}. The shape is that before it.
        </p>
      )}
      {trials.size === 0 ? null : (
        <p className={styles.small}>A calculation, no advice and no clearance to fly.</p>
      )}
    </section>
  );
}
