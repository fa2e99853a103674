/** What the work did to the incidence and to the limits, and every path in figures. */
import { useState } from "react";
import { signedMm } from "../model/format.ts";
import {
  type AngleRow,
  differenceText,
  type LimitRow,
  type PathColumn,
  type PathRow,
  sortedPaths,
} from "../model/workshop-recheck-tables.ts";
import { pickLine } from "../state/app.ts";
import styles from "./Recheck.module.css";

export function AngleTable({ rows }: { readonly rows: readonly AngleRow[] }) {
  const planned = rows.some((row) => row.planned !== undefined);
  return (
    <table className={styles.table} data-table="recheck incidence">
      <caption>Mean incidence change in the model against the plan, nose up positive.</caption>
      <thead>
        <tr>
          <th scope="col">Ribs</th>
          <th scope="col">Before</th>
          {planned ? <th scope="col">Planned</th> : null}
          <th scope="col">After</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.name} data-angle={row.name}>
            <th scope="row">{row.name}</th>
            <td>{row.before}</td>
            {planned ? <td>{row.planned}</td> : null}
            <td>
              <strong>{row.after}</strong>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Change({ of: [before, after] }: { readonly of: readonly [number, number] }) {
  return (
    <td>
      {before} <span aria-hidden="true">→</span>
      <span className="unseen">, after the work</span> <strong>{after}</strong>
    </td>
  );
}

export function LimitTable({ rows }: { readonly rows: readonly LimitRow[] }) {
  return (
    <table className={styles.table} data-table="recheck limits">
      <caption>How many are held to conform to their limit, before → after the work.</caption>
      <thead>
        <tr>
          <th scope="col">Held against its limit</th>
          <th scope="col">Out</th>
          <th scope="col">Undecided</th>
          <th scope="col">Conforms</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row, index) => (
          <tr key={row.name} data-total={index === rows.length - 1 || undefined} data-limit={row.name}>
            <th scope="row">{row.name}</th>
            <Change of={row.out} />
            <Change of={row.undecided} />
            <Change of={row.conforms} />
          </tr>
        ))}
      </tbody>
    </table>
  );
}

const COLUMN: Readonly<Record<PathColumn, string>> = {
  tab: "Path",
  before: "Before",
  planned: "Planned",
  after: "After",
  difference: "Off promise ±U",
};

/** Sorted by a press on a heading; a second one turns the order round. */
export function PathTable({
  rows,
  planned,
}: {
  readonly rows: readonly PathRow[];
  readonly planned: boolean;
}) {
  const [by, setBy] = useState<PathColumn>("tab");
  const [descending, setDescending] = useState(false);
  const columns = (Object.keys(COLUMN) as PathColumn[]).filter((column) => planned || column !== "planned");
  const label = (column: PathColumn): string =>
    column === "difference" && !planned ? "Moved ±U" : COLUMN[column];
  const sort = (column: PathColumn): void => {
    setDescending(column === by ? !descending : column === "difference");
    setBy(column);
  };
  return (
    <details className={styles.fold} data-fold="recheck paths">
      <summary>All {rows.length} paths</summary>
      <table className={`${styles.table} ${styles.paths}`} data-table="recheck paths">
        <caption>
          Millimetres against the plan. The last column has the shift that all paths share taken out, where it
          is; ■ marks what is beyond its uncertainty, as one in twenty is by chance.
        </caption>
        <thead>
          <tr>
            {columns.map((column) => (
              <th
                key={column}
                scope="col"
                aria-sort={by === column ? (descending ? "descending" : "ascending") : undefined}
              >
                <button type="button" onClick={() => sort(column)}>
                  {label(column)}
                  <span aria-hidden="true">{by === column ? (descending ? " ▾" : " ▴") : ""}</span>
                </button>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {sortedPaths(rows, by, descending).map((row) => (
            <tr key={row.tabKey} data-path={row.tabKey}>
              <th scope="row">
                <button type="button" onClick={() => pickLine(row.lineKey)}>
                  {row.name}
                </button>
              </th>
              <td>{signedMm(row.before, 1)}</td>
              {planned ? <td>{signedMm(row.planned, 1)}</td> : null}
              <td>{signedMm(row.after, 1)}</td>
              <td>
                {row.otherwise ? (
                  <>
                    <span aria-hidden="true">■ </span>
                    <span className="unseen">beyond its uncertainty: </span>
                  </>
                ) : null}
                {differenceText(row)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}
