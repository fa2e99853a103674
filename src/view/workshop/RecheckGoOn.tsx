/** What comes next: going on from the check after the work, or letting go of it. */
import { useState } from "react";
import { counted, dateText } from "../model/format.ts";
import { bookAfterWork, type Done } from "../model/workshop-recheck.ts";
import type { ChangeRow } from "../model/workshop-recheck-tables.ts";
import panes from "../panes/Panes.module.css";
import { offerFile } from "../parts/hooks.ts";
import { useApp } from "../state/app.ts";
import type { Document } from "../state/document.ts";
import styles from "./Recheck.module.css";

export function GoOn(props: {
  readonly document: Document;
  readonly done: readonly Done[];
  readonly rows: readonly ChangeRow[];
}) {
  const { document, done, rows } = props;
  const goOn = useApp((state) => state.goOnFromAfter);
  const drop = useApp((state) => state.dropAfter);
  // Ticked as the readings say, until the person says otherwise.
  const [said, setSaid] = useState<ReadonlyMap<string, boolean>>(new Map());
  const rowOf = new Map(rows.map((row) => [row.lineKey, row]));
  const loops = done.filter(({ kindId }) => kindId !== undefined);
  const isDone = (lineKey: string): boolean => said.get(lineKey) ?? !rowOf.get(lineKey)?.looksUndone;
  const doneKeys = new Set(loops.filter(({ lineKey }) => isDone(lineKey)).map(({ lineKey }) => lineKey));
  const { after, files, book, check } = document;
  const [afterFile, beforeFile] = [files.after, files.readings];
  if (after === undefined) return null;
  return (
    <section className={styles.part} data-recheck="go on">
      <h2>Go on from here</h2>
      <p>
        The check of {dateText(after.date)} becomes the readings that everything else here works from
        {loops.length === 0 ? "" : ", and the loops ticked here the present ones in the bench’s book"}. What
        is tried is cleared: the new readings have it in them.
      </p>
      {loops.length === 0 ? null : (
        <fieldset className={styles.ticks}>
          <legend>Loops that were changed: untick those that weren’t</legend>
          {loops.map((change) => (
            <label key={change.lineKey}>
              <input
                type="checkbox"
                checked={isDone(change.lineKey)}
                data-done={change.lineKey}
                onChange={({ target }) => setSaid(new Map(said).set(change.lineKey, target.checked))}
              />
              <span>
                <strong>{change.name}</strong> {change.what}
                {rowOf.get(change.lineKey)?.looksUndone ? " (looks not done)" : ""}
              </span>
            </label>
          ))}
        </fieldset>
      )}
      {check === undefined || beforeFile === undefined ? null : (
        <p>
          The check of {dateText(check.date)} leaves this screen then.{" "}
          <button
            type="button"
            className={`${styles.link} ${styles.screenOnly}`}
            onClick={() => offerFile(beforeFile.name, beforeFile.text, "text/plain")}
          >
            Take its file along first
          </button>
        </p>
      )}
      <div className={`${panes.actions} ${styles.screenOnly}`}>
        <button
          type="button"
          className={panes.button}
          data-action="go on"
          onClick={() => goOn(bookAfterWork(book, done, doneKeys))}
        >
          Go on from here
          {loops.length === 0 ? "" : `, ${counted(doneKeys.size, "loop")} changed`}
        </button>
      </div>
      <p className={`${panes.actions} ${styles.screenOnly}`}>
        {afterFile === undefined ? null : (
          <button
            type="button"
            className={panes.textButton}
            onClick={() => offerFile(afterFile.name, afterFile.text, "text/plain")}
          >
            Take this check’s file along
          </button>
        )}
        <button type="button" className={panes.textButton} data-action="drop after" onClick={drop}>
          Let go of this check
        </button>
      </p>
    </section>
  );
}
