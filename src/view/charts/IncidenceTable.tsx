/** The incidence chart in figures: the means of the sides, and every rib, for reading instead of looking. */
import { useMemo } from "react";
import type { Analysis } from "../../diagnosis/model.ts";
import { AROUND_LIKELY, meanRows, ribRows } from "../model/bandTable.ts";
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
          <th scope="col">as read</th>
          <th scope="col">
            {judged ? "95 % between" : rows.some(({ assumptions }) => assumptions) ? "assumptions" : ""}
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
  const known = judged ? "95 %" : "assumptions";
  const table = (
    <table className={styles.ribs} data-table="incidence">
      <caption>
        Incidence change by rib, nose up positive.{" "}
        {judged
          ? `Between: 95 %, readings and assumptions together, and below it the readings alone. ${AROUND_LIKELY}`
          : band === undefined
            ? ""
            : "Between: what the model’s assumptions alone leave."}
      </caption>
      <thead>
        <tr>
          <th scope="col">Rib</th>
          <th scope="col">Left</th>
          <th scope="col">{known} between</th>
          <th scope="col">Right</th>
          <th scope="col">{known} between</th>
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
                    <span className="unseen">, readings alone </span>
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
      <summary>Incidence rib by rib, in figures</summary>
      {table}
    </details>
  ) : (
    <div className={styles.byEar}>{table}</div>
  );
}
