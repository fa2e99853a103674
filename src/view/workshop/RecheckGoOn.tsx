/** What comes next: going on from the check after the work, or letting go of it. */
import { Children, useState } from "react";
import { longDate, say, sayParts } from "../../words/index.ts";
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
      <h2>{say("recheck.on.title")}</h2>
      <p>
        {say("recheck.on.what", { date: longDate(after.date), loops: loops.length === 0 ? "none" : "some" })}
      </p>
      {loops.length === 0 ? null : (
        <fieldset className={styles.ticks}>
          <legend>{say("recheck.on.loops")}</legend>
          {loops.map((change) => (
            <label key={change.lineKey}>
              <input
                type="checkbox"
                checked={isDone(change.lineKey)}
                data-done={change.lineKey}
                onChange={({ target }) => setSaid(new Map(said).set(change.lineKey, target.checked))}
              />
              <span>
                {Children.toArray(
                  sayParts("recheck.on.loop", {
                    line: <strong>{change.name}</strong>,
                    what: change.what,
                    undone: rowOf.get(change.lineKey)?.looksUndone ? "yes" : "no",
                  }),
                )}
              </span>
            </label>
          ))}
        </fieldset>
      )}
      {check === undefined || beforeFile === undefined ? null : (
        <p>
          {say("recheck.on.leaves", { date: longDate(check.date) })}{" "}
          <button
            type="button"
            className={`${styles.link} ${styles.screenOnly}`}
            onClick={() => offerFile(beforeFile.name, beforeFile.text, "text/plain")}
          >
            {say("recheck.on.take")}
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
          {loops.length === 0 ? say("recheck.on.title") : say("recheck.on.go", { count: doneKeys.size })}
        </button>
      </div>
      <p className={`${panes.actions} ${styles.screenOnly}`}>
        {afterFile === undefined ? null : (
          <button
            type="button"
            className={panes.textButton}
            onClick={() => offerFile(afterFile.name, afterFile.text, "text/plain")}
          >
            {say("recheck.on.file")}
          </button>
        )}
        <button type="button" className={panes.textButton} data-action="drop after" onClick={drop}>
          {say("recheck.on.drop")}
        </button>
      </p>
    </section>
  );
}
