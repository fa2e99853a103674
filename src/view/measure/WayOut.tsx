/** What becomes of a session: its readings handed on, its journal saved, left for later, or let go of. */
import { useState } from "react";
import type { Progress } from "../../readings/session/index.ts";
import { say } from "../../words/index.ts";
import panes from "../panes/Panes.module.css";
import { offerFile } from "../parts/hooks.ts";
import type { KeptSession } from "../state/measure.ts";
import { handOn, journalFile, measure } from "../state/measure-app.ts";
import styles from "./Overview.module.css";

export function saveJournal(kept: KeptSession): void {
  const { name, text } = journalFile(kept);
  offerFile(name, text, "application/x-ndjson");
}

export function WayOut({ kept, progress }: { readonly kept: KeptSession; readonly progress: Progress }) {
  const [asks, setAsks] = useState(false);
  const { total, read, doubtful } = progress;
  const { takenMs } = kept.card;
  const counting = [...kept.session.state.targets.values()].filter(({ acceptedM }) => acceptedM.length > 0);
  return (
    <section className={styles.out} data-way-out>
      <h3>{say(read === total ? "measure.out.done" : "measure.out.title")}</h3>
      <p>
        {say("measure.out.take.what", {
          read: counting.length,
          open: total - read,
          doubtful: doubtful.length,
        })}
      </p>
      <p className={styles.line}>
        <button
          type="button"
          className={panes.button}
          data-action="hand on"
          disabled={counting.length === 0}
          onClick={() => void handOn(kept)}
        >
          {say("measure.out.take")}
        </button>
        <button
          type="button"
          className={styles.button}
          data-action="save journal"
          onClick={() => saveJournal(kept)}
        >
          {say("measure.out.save")}
        </button>
        <button
          type="button"
          className={styles.button}
          data-action="leave"
          onClick={() => measure.getState().leave()}
        >
          {say("measure.out.leave")}
        </button>
      </p>
      <p className={styles.caution}>{say("measure.out.caution")}</p>
      {takenMs === undefined ? null : <p>{say("measure.out.taken")}</p>}
      {asks ? (
        <div className={styles.asks} role="alert">
          <p>{say("measure.out.letGo.asks", { count: counting.length })}</p>
          <p className={styles.line}>
            <button
              type="button"
              className={styles.button}
              data-action="let go, sure"
              onClick={() => void measure.getState().letGo(kept.card.id)}
            >
              {say("measure.out.letGo.sure")}
            </button>
            <button type="button" className={panes.button} onClick={() => setAsks(false)}>
              {say("measure.cancel")}
            </button>
          </p>
        </div>
      ) : (
        <p>
          <button
            type="button"
            className={panes.textButton}
            data-action="let go"
            onClick={() => setAsks(true)}
          >
            {say("measure.out.letGo")}
          </button>
        </p>
      )}
    </section>
  );
}
