/** The rows beside each other, each with its tabs as marks on a tape. */
import { Fragment } from "react";
import type { Analysis } from "../../diagnosis/model.ts";
import { sourceOf } from "../../diagnosis/wording.ts";
import { length, say, speech } from "../../words/index.ts";
import { rowName, signedMm } from "../model/format.ts";
import { rowEntries } from "../model/rowTable.ts";
import { MarkTape } from "../parts/MarkTape.tsx";
import { useApp, usePickedLines, useRangeM } from "../state/app.ts";
import { CautionLine } from "./Caution.tsx";
import styles from "./Panes.module.css";

export function RowsPane({ analysis }: { readonly analysis: Analysis }) {
  const picked = useApp(({ choices }) => choices.picked);
  const choose = useApp((state) => state.choose);
  const lines = usePickedLines();
  const rangeM = useRangeM();
  const entries = rowEntries(analysis);
  const toleranceM = analysis.wing.tolerances.pathM;
  return (
    <div className={styles.pane}>
      <table className={styles.rows} data-table="rows">
        <caption>
          {say("panes.rows.caption", {
            unit: say(speech().unit === "in" ? "units.inches" : "units.millimetres"),
            limit: length(toleranceM),
            source: sourceOf(analysis.wing.tolerances),
          })}
        </caption>
        <thead>
          <tr>
            <th scope="col">{say("panes.rows.row")}</th>
            <th scope="col">{say("panes.rows.mean")}</th>
            <th scope="col">{say("charts.left")}</th>
            <th scope="col">{say("charts.right")}</th>
            <th scope="col">{say("panes.rows.difference")}</th>
            <th scope="col">{say("panes.rows.worst")}</th>
            <th scope="col">{say("panes.rows.out")}</th>
          </tr>
        </thead>
        <tbody>
          {entries.map((entry) => {
            const isPicked = picked.kind === "row" && picked.row === entry.row;
            const extentM = Math.max(rangeM, Math.abs(entry.worstM ?? 0));
            return (
              <Fragment key={entry.row}>
                <tr data-row={entry.row} data-picked={isPicked || undefined}>
                  <th scope="row">
                    <button
                      type="button"
                      aria-pressed={isPicked}
                      onClick={() =>
                        choose({ picked: isPicked ? { kind: "none" } : { kind: "row", row: entry.row } })
                      }
                    >
                      {rowName(entry.row)}
                    </button>
                  </th>
                  <td>
                    <strong>{signedMm(entry.meanM)}</strong>
                  </td>
                  <td>{signedMm(entry.leftM)}</td>
                  <td>{signedMm(entry.rightM)}</td>
                  <td>{signedMm(entry.leftMinusRightM)}</td>
                  <td>
                    {signedMm(entry.worstM)}
                    {entry.worstAt === undefined ? null : <small>{entry.worstAt}</small>}
                  </td>
                  <td>
                    {entry.measured === 0 ? "–" : `${entry.outOfTolerance}/${entry.measured}`}
                    {entry.measured < entry.total ? (
                      <small>{say("panes.rows.of", { count: entry.total })}</small>
                    ) : null}
                  </td>
                </tr>
                <tr className={styles.tapeRow}>
                  <td colSpan={7}>
                    <MarkTape
                      marks={entry.marks.map((mark) => ({
                        key: mark.tabKey,
                        side: mark.side,
                        deviationM: mark.deviationM,
                        strong: lines.has(mark.lineKey),
                      }))}
                      extentM={extentM}
                      toleranceM={toleranceM}
                      meanM={entry.meanM}
                      height={26}
                    />
                    <span className={styles.tapeEnds}>
                      <span>{signedMm(-extentM)}</span>
                      <span>{say("panes.rows.ends")}</span>
                      <span>{signedMm(extentM)}</span>
                    </span>
                  </td>
                </tr>
              </Fragment>
            );
          })}
        </tbody>
      </table>
      <CautionLine />
    </div>
  );
}
