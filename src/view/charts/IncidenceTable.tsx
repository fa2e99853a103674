/** The incidence chart in figures: the means of the sides, and every rib, for reading instead of looking. */
import { useMemo } from "react";
import type { Analysis } from "../../diagnosis/model.ts";
import { say } from "../../words/index.ts";
import { aroundLikely, meanRows, ribRows } from "../model/bandTable.ts";
import { incidenceSeries } from "../model/incidenceSeries.ts";
import { useApp } from "../state/app.ts";
import { useBandsShown } from "../state/recheck.ts";
import styles from "./Charts.module.css";

/** Mean of all ribs and of each side, each with its own interval. */
export function IncidenceMeans({ analysis, title }: { readonly analysis: Analysis; readonly title: string }) {
  const band = useApp((state) => state.band);
  const bands = useBandsShown();
  const rows = meanRows(analysis, band, bands);
  if (rows.length === 0) return null;
  const judged = rows.some(({ between }) => between !== undefined);
  return (
    <table className={styles.means} data-incidence-band={judged ? "95" : undefined}>
      <thead>
        <tr>
          <th scope="col">{title}</th>
          <th scope="col">{say("charts.means.read")}</th>
          <th scope="col">
            {judged
              ? say("charts.means.between")
              : rows.some(({ assumptions }) => assumptions)
                ? say("charts.means.assumptions")
                : ""}
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.name}>
            <th scope="row">{row.name}</th>
            <td>{row.angle}</td>
            <td>{row.between ?? row.assumptions ?? ""}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** @param open shown as a fold in a pane; else for reading by ear, and on paper */
export function IncidenceTable({ analysis, fold }: { readonly analysis: Analysis; readonly fold: boolean }) {
  const band = useApp((state) => state.band);
  const bands = useBandsShown();
  const rows = useMemo(() => ribRows(incidenceSeries(analysis, band, bands)), [analysis, band, bands]);
  if (rows.length === 0) return null;
  const judged = bands !== undefined;
  const between = say(judged ? "charts.means.between" : "charts.ribs.assumptions");
  const table = (
    <table className={styles.ribs} data-table="incidence">
      <caption>
        {[
          say("charts.ribs"),
          ...(judged
            ? [say("charts.ribs.judged"), aroundLikely()]
            : band === undefined
              ? []
              : [say("charts.ribs.early")]),
        ].join(" ")}
      </caption>
      <thead>
        <tr>
          <th scope="col">{say("charts.rib")}</th>
          <th scope="col">{say("charts.left")}</th>
          <th scope="col">{between}</th>
          <th scope="col">{say("charts.right")}</th>
          <th scope="col">{between}</th>
        </tr>
      </thead>
      <tbody>
        {rows.map(({ rib, cells }) => (
          <tr key={rib}>
            <th scope="row">{rib}</th>
            {([cells.left, cells.right] as const).map((cell, place) => [
              <td key={place === 0 ? "left" : "right"}>{cell?.angle ?? "–"}</td>,
              <td key={place === 0 ? "left between" : "right between"}>
                {cell?.between}
                {cell === undefined || cell.readings === "" ? null : (
                  <small>
                    <span className="unseen">, {say("charts.key.readings")} </span>
                    {cell.readings}
                  </small>
                )}
              </td>,
            ])}
          </tr>
        ))}
      </tbody>
    </table>
  );
  return fold ? (
    <details className={styles.fold} data-fold="incidence">
      <summary>{say("charts.ribs.fold")}</summary>
      {table}
    </details>
  ) : (
    <div className={styles.byEar}>{table}</div>
  );
}
