/** Before there is a check after the work: what to read again, as a list and as a sheet to take along. */
import type { Wing } from "../../plan/model.ts";
import { counted } from "../model/format.ts";
import { type MeasureAgain, sheetFor } from "../model/workshop-recheck.ts";
import panes from "../panes/Panes.module.css";
import { offerFile } from "../parts/hooks.ts";
import { pickLine } from "../state/app.ts";
import styles from "./Recheck.module.css";

export function MeasureList({ wing, again }: { readonly wing: Wing; readonly again: MeasureAgain }) {
  const { lines, tabIds, otherIds } = again;
  const whole = [...new Set(wing.tabs.map(({ id }) => id))];
  const take = (name: string, ids: readonly string[]): void =>
    offerFile(`${name} ${wing.name}.csv`, sheetFor(wing, ids), "text/csv");
  if (lines.length === 0)
    return (
      <section className={styles.part} data-recheck="measure">
        <h2>What to read again</h2>
        <p>
          No loop or length is tried and no replaced line is noted, so there is nothing yet that another check
          could be held to. Two checks can be compared all the same.
        </p>
      </section>
    );
  return (
    <section className={styles.part} data-recheck="measure">
      <h2>What to read again</h2>
      <p>
        Every path above a changed line, and some that nothing was done to: only from those can a shift
        between the two days be told from the work. The whole wing is best.
      </p>
      <table className={styles.table}>
        <thead>
          <tr>
            <th scope="col">Line</th>
            <th scope="col" className={styles.wordsHead}>
              What is done
            </th>
            <th scope="col" className={styles.wordsHead}>
              Tabs above
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
          For the shift between the days: <strong>{otherIds.join(", ")}</strong>, both sides.
        </p>
      )}
      <p className={`${panes.actions} ${styles.screenOnly}`}>
        <button
          type="button"
          className={panes.textButton}
          onClick={() => take("recheck", [...tabIds, ...otherIds])}
        >
          Empty sheet for these {counted(2 * (tabIds.length + otherIds.length), "reading")} (CSV)
        </button>
        <button type="button" className={panes.textButton} onClick={() => take("recheck whole", whole)}>
          Empty sheet for the whole wing (CSV)
        </button>
      </p>
    </section>
  );
}
