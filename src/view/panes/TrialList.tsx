/** All lengths and loops that are tried, with the way back: remove one, clear all, undo, redo. */
import { say, signedLength } from "../../words/index.ts";
import { chosenChanges, kindName } from "../../workshop/index.ts";
import { sidedName } from "../model/format.ts";
import { pickLine, useApp } from "../state/app.ts";
import type { Step } from "../state/history.ts";
import styles from "./Mechanics.module.css";

/** Trials and corrections share one way back: said where the next step isn't what the list shows. */
function stepText(step: Step | undefined): string | undefined {
  if (step?.of === "book") return say("panes.trials.step.book");
  return step?.of === "readings" ? say("panes.trials.step.readings") : undefined;
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
    ...(trials.size === 0 ? [] : [say("panes.trials.lengths", { count: trials.size })]),
    ...(loops.length === 0 ? [] : [say("panes.trials.loops", { count: loops.length })]),
  ].join(", ");
  const nameOf = (key: string): string => {
    const line = cascade?.lines.get(key);
    return line === undefined ? say("panes.trials.unknown", { key }) : sidedName(line.id, line.side);
  };
  return (
    <section
      className={styles.trials}
      aria-label={say("panes.trials")}
      data-trials={trials.size}
      data-tried-loops={loops.length}
    >
      <header className={styles.groupHead}>
        <h2>
          {say("panes.trials")} <small>{said === "" ? say("panes.trials.none") : said}</small>
        </h2>
        <span className={styles.ways}>
          <button
            type="button"
            className={styles.text}
            disabled={history.past.length === 0}
            title={stepText(history.past.at(-1))}
            onClick={undo}
          >
            {say("judging.undo")}
          </button>
          <button
            type="button"
            className={styles.text}
            disabled={history.future.length === 0}
            title={stepText(history.future.at(-1))}
            onClick={redo}
          >
            {say("panes.trials.redo")}
          </button>
          <button
            type="button"
            className={styles.text}
            disabled={nothing}
            onClick={() => tryOut({ kind: "clear" })}
          >
            {say("panes.trials.clear")}
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
                <span className="figures">{signedLength(mm / 1000)}</span>
                <button
                  type="button"
                  className={styles.remove}
                  aria-label={say("panes.trials.remove", { name })}
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
                  {kindName(to.kind)} <span className="figures">{signedLength(changeM, 1)}</span>
                </span>
                <button
                  type="button"
                  className={styles.remove}
                  aria-label={say("panes.trials.leave", { name })}
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
          {say("panes.trials.unsolved", { why: unsolved })}
        </p>
      )}
      {trials.size + loops.length === 0 ? null : (
        <p className={styles.small}>{say("panes.trials.caution")}</p>
      )}
    </section>
  );
}
