/** How much would be taken, from which side, and what looks like a slip. */
import { length, say, signedLength } from "../../words/index.ts";
import { FAR_M, type Preview } from "../model/intake-preview.ts";
import styles from "./Intake.module.css";
import type { CellAt } from "./TablePreview.tsx";

const MOST_FAR = 6;

export function TableSummary(props: {
  readonly preview: Preview;
  readonly wanting: string | undefined;
  readonly onSeek: (at: CellAt) => void;
}) {
  const { preview, wanting, onSeek } = props;
  const { readings, bySide, values, notTaken, far, questions } = preview;
  return (
    <div className={styles.summary} data-summary>
      <p aria-live="polite">
        {questions.length > 0
          ? say("intake.summary.open", { count: questions.length })
          : readings === 0
            ? say("intake.summary.none", { cells: notTaken })
            : say("intake.summary", { readings, ...bySide, cells: notTaken })}
        {readings > 0 && values > readings ? ` ${say("intake.summary.values", { values })}` : ""}
        {wanting === "frame" ? ` ${say("intake.summary.frame")}` : ""}
      </p>
      {far.length === 0 ? null : (
        <div data-far={far.length} className={styles.far}>
          <p>{say("intake.far", { count: far.length, limit: length(FAR_M) })}</p>
          <ul>
            {far.slice(0, MOST_FAR).map(({ row, column, cell, id, side, offM }) => (
              <li key={`${row},${column},${side}`}>
                <button type="button" className={styles.seek} onClick={() => onSeek({ row, column })}>
                  {say("intake.far.item", { cell, id, side, off: signedLength(offM) })}
                </button>
              </li>
            ))}
          </ul>
          {far.length > MOST_FAR ? <p>{say("intake.more", { count: far.length - MOST_FAR })}</p> : null}
        </div>
      )}
    </div>
  );
}
