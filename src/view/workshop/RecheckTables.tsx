/** What the work did to the incidence and to the limits, and every path in figures. */
import { useState } from "react";
import { type Key, say, speech } from "../../words/index.ts";
import { signedMm } from "../model/format.ts";
import {
  type AngleRow,
  differenceText,
  type LimitRow,
  PATH_COLUMNS,
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
      <caption>{say("recheck.angles.caption")}</caption>
      <thead>
        <tr>
          <th scope="col">{say("recheck.head.ribs")}</th>
          <th scope="col">{say("recheck.head.before")}</th>
          {planned ? <th scope="col">{say("recheck.head.planned")}</th> : null}
          <th scope="col">{say("recheck.head.after")}</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.id} data-angle={row.id}>
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
      <span className="unseen">{say("recheck.limits.after")}</span> <strong>{after}</strong>
    </td>
  );
}

export function LimitTable({ rows }: { readonly rows: readonly LimitRow[] }) {
  return (
    <table className={styles.table} data-table="recheck limits">
      <caption>{say("recheck.limits.caption")}</caption>
      <thead>
        <tr>
          <th scope="col">{say("recheck.head.limit")}</th>
          <th scope="col">{say("recheck.head.out")}</th>
          <th scope="col">{say("recheck.head.undecided")}</th>
          <th scope="col">{say("recheck.head.conforms")}</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row, index) => (
          <tr key={row.name} data-total={index === rows.length - 1 || undefined} data-limit={index}>
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

const COLUMN: Readonly<Record<Exclude<PathColumn, "difference">, Key>> = {
  tab: "recheck.head.path",
  before: "recheck.head.before",
  planned: "recheck.head.planned",
  after: "recheck.head.after",
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
  const columns = PATH_COLUMNS.filter((column) => planned || column !== "planned");
  const label = (column: PathColumn): string =>
    column === "difference"
      ? say("recheck.head.off", { planned: planned ? "yes" : "no" })
      : say(COLUMN[column]);
  const sort = (column: PathColumn): void => {
    setDescending(column === by ? !descending : column === "difference");
    setBy(column);
  };
  return (
    <details className={styles.fold} data-fold="recheck paths">
      <summary>{say("recheck.paths.all", { count: rows.length })}</summary>
      <table className={`${styles.table} ${styles.paths}`} data-table="recheck paths">
        <caption>{say("recheck.paths.caption", { unit: speech().unit })}</caption>
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
                    <span className="unseen">{say("recheck.paths.beyond")} </span>
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
