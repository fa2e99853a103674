/** Whether each change did what it promised, and what moved though nothing was done to it. */
import { say, speech } from "../../words/index.ts";
import { shortLength } from "../model/workshop-figures.ts";
import { TYPED_UNCERTAINTY_M } from "../model/workshop-recheck.ts";
import type { ChangeMark, ChangeRow, Moved } from "../model/workshop-recheck-tables.ts";
import { pickLine, usePickBy } from "../state/app.ts";
import styles from "./Recheck.module.css";

/** Told by form: a ring, a half-filled ring, a filled square with a cross, an empty square on its corner. */
export function RecheckMark({ mark }: { readonly mark: ChangeMark }) {
  return (
    <svg width={16} height={16} viewBox="0 0 16 16" aria-hidden="true" data-mark={mark}>
      {mark === "otherwise" ? (
        <>
          <rect x={0.5} y={0.5} width={15} height={15} fill="var(--ink)" />
          <path d="M4.2 4.2l7.6 7.6m0 -7.6l-7.6 7.6" stroke="#fff" strokeWidth={2.2} />
        </>
      ) : mark === "unread" ? (
        <path d="M8 2l6 6l-6 6l-6 -6z" fill="var(--panel)" stroke="var(--ink)" strokeWidth={1.4} />
      ) : (
        <>
          <circle cx={8} cy={8} r={6.4} fill="var(--panel)" stroke="var(--ink)" strokeWidth={1.8} />
          {mark === "open" ? <path d="M8 1.6a6.4 6.4 0 0 0 0 12.8z" fill="var(--ink)" /> : null}
        </>
      )}
    </svg>
  );
}

export function ChangeTable({ rows }: { readonly rows: readonly ChangeRow[] }) {
  return (
    <table className={`${styles.table} ${styles.changes}`} data-table="changes">
      <caption>
        {say("recheck.changes.caption", { unit: speech().unit, typed: shortLength(TYPED_UNCERTAINTY_M) })}
      </caption>
      <thead>
        <tr>
          <th scope="col">{say("loops.head.line")}</th>
          <th scope="col">{say("recheck.head.promised")}</th>
          <th scope="col">{say("recheck.head.did")}</th>
          <th scope="col">±U</th>
          <th scope="col" className={styles.wordsHead}>
            {say("recheck.head.verdict")}
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.lineKey} data-change={row.lineKey} data-mark={row.mark}>
            <th scope="row">
              <button type="button" onClick={() => pickLine(row.lineKey)}>
                {row.name}
              </button>
              <small>{row.what}</small>
            </th>
            <td>{row.promised}</td>
            <td>{row.did}</td>
            <td>{row.known}</td>
            <td className={styles.words}>
              <span className={styles.verdict} data-mark={row.mark}>
                <RecheckMark mark={row.mark} />
                <span>{row.verdict}</span>
              </span>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** @param shift what all untouched paths share, in words */
export function MovedParagraph({ moved, shift }: { readonly moved: Moved; readonly shift: string }) {
  const [by, pickBy] = usePickBy();
  const shown = by === "moved";
  return (
    <div className={styles.told}>
      <p data-recheck="moved">{moved.sentence}</p>
      {moved.count === 0 ? null : (
        <button
          type="button"
          className={`${styles.link} ${styles.screenOnly}`}
          aria-pressed={shown}
          onClick={() => pickBy(shown ? undefined : "moved", shown ? [] : moved.lineKeys)}
        >
          {say("recheck.moved.show", { shown: shown ? "yes" : "no" })}
        </button>
      )}
      <p data-recheck="shift">{shift}</p>
    </div>
  );
}
