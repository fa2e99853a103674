/** Before there is a check after the work: what to read again, as a list and as a sheet to take along. */

import { Children } from "react";
import type { Wing } from "../../plan/model.ts";
import { say, sayParts } from "../../words/index.ts";
import { type MeasureAgain, sheetFor } from "../model/workshop-recheck.ts";
import panes from "../panes/Panes.module.css";
import { offerFile } from "../parts/hooks.ts";
import { pickLine } from "../state/app.ts";
import styles from "./Recheck.module.css";

export function MeasureList({ wing, again }: { readonly wing: Wing; readonly again: MeasureAgain }) {
  const { lines, tabIds, otherIds } = again;
  const whole = [...new Set(wing.tabs.map(({ id }) => id))];
  const take = (name: "recheck" | "recheck whole", ids: readonly string[]): void =>
    offerFile(`${name} ${wing.name}.csv`, sheetFor(wing, ids), "text/csv");
  if (lines.length === 0)
    return (
      <section className={styles.part} data-recheck="measure">
        <h2>{say("recheck.measure.title")}</h2>
        <p>{say("recheck.measure.none")}</p>
      </section>
    );
  return (
    <section className={styles.part} data-recheck="measure">
      <h2>{say("recheck.measure.title")}</h2>
      <p>{say("recheck.measure.what")}</p>
      <table className={styles.table}>
        <thead>
          <tr>
            <th scope="col">{say("loops.head.line")}</th>
            <th scope="col" className={styles.wordsHead}>
              {say("recheck.head.what")}
            </th>
            <th scope="col" className={styles.wordsHead}>
              {say("recheck.measure.tabs")}
            </th>
          </tr>
        </thead>
        <tbody>
          {lines.map((line) => (
            <tr key={line.lineKey} data-measure={line.lineKey}>
              <th scope="row">
                <button type="button" onClick={() => pickLine(line.lineKey)}>
                  {line.name}
                </button>
              </th>
              <td className={styles.words}>{line.what}</td>
              <td className={styles.words}>{line.tabIds.join(", ")}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {otherIds.length === 0 ? null : (
        <p>
          {Children.toArray(
            sayParts("recheck.measure.others", { tabs: <strong>{otherIds.join(", ")}</strong> }),
          )}
        </p>
      )}
      <p className={`${panes.actions} ${styles.screenOnly}`}>
        <button
          type="button"
          className={panes.textButton}
          onClick={() => take("recheck", [...tabIds, ...otherIds])}
        >
          {say("recheck.measure.sheet", { count: 2 * (tabIds.length + otherIds.length) })}
        </button>
        <button type="button" className={panes.textButton} onClick={() => take("recheck whole", whole)}>
          {say("recheck.measure.sheet.whole")}
        </button>
      </p>
    </section>
  );
}
