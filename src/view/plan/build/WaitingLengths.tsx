/** A table of lengths seen cell by cell, mended, and taken into the draft. */
import { useMemo } from "react";
import { type Draft, parseDraft } from "../../../plan/draft/index.ts";
import { listed, say } from "../../../words/index.ts";
import { withTable } from "../../model/build-lengths.ts";
import { previewOf, type TableUnit } from "../../model/build-table.ts";
import type { TableOf } from "../../model/build-table-shape.ts";
import type { WaitingTable } from "../../state/build.ts";
import styles from "./Build.module.css";
import { builder } from "./builder.ts";

const MOST_NAMES = 12;
const TABLE_OF: readonly TableOf[] = ["total", "lower", "middle", "third", "upper"];
const UNITS: readonly TableUnit[] = ["mm", "cm", "m", "in"];
const OF_LABEL = {
  total: "build.lengths.of.total",
  lower: "build.lengths.of.lower",
  middle: "build.lengths.of.middle",
  third: "build.lengths.of.third",
  upper: "build.lengths.of.upper",
} as const satisfies Readonly<Record<TableOf, string>>;

export function WaitingLengths(props: {
  readonly table: WaitingTable;
  readonly draft: Draft;
  readonly onSaid: (text: string) => void;
}) {
  const { table, draft, onSaid } = props;
  const { cells, settings } = table;
  const preview = useMemo(() => previewOf(cells, draft, settings), [cells, draft, settings]);
  const change = (now: Partial<WaitingTable>): void => builder.getState().setTable({ ...table, ...now });
  const faulty = preview.cells.flatMap((row, at) =>
    row.flatMap((cell, column) => (cell.problem === undefined ? [] : [{ ...cell, at, column }])),
  );
  const width = Math.max(0, ...cells.map((row) => row.length));
  const { missing } = preview;
  const names =
    missing.length <= MOST_NAMES
      ? listed(missing)
      : say("build.lengths.andMore", {
          names: missing.slice(0, MOST_NAMES).join(", "),
          count: missing.length - MOST_NAMES,
        });
  const place = (at: number, column: number, name: string | undefined): string =>
    say("build.lengths.cell", {
      row: at + 1,
      column: column + 1,
      known: name === undefined ? "no" : "yes",
      name: name ?? "",
    });
  const rows = [...new Set(preview.table.totals.map(({ row }) => row))];
  return (
    <div
      className={styles.waiting}
      data-waiting-table
      data-matched={preview.matched}
      data-faults={faulty.length}
    >
      <h3>{table.name}</h3>
      <div className={styles.settings}>
        <label>
          <span>{say("build.lengths.of")}</span>
          <select
            value={settings.of}
            data-setting="of"
            onChange={(event) => change({ settings: { ...settings, of: event.target.value as TableOf } })}
          >
            {TABLE_OF.map((of) => (
              <option key={of} value={of}>
                {say(OF_LABEL[of])}
              </option>
            ))}
          </select>
        </label>
        <label>
          <span>{say("build.lengths.unit")}</span>
          <select
            value={settings.unit}
            data-setting="unit"
            onChange={(event) => change({ settings: { ...settings, unit: event.target.value as TableUnit } })}
          >
            {UNITS.map((unit) => (
              <option key={unit} value={unit}>
                {unit}
              </option>
            ))}
          </select>
        </label>
      </div>
      <div className={styles.tableBox}>
        <table className={styles.cells}>
          <tbody>
            {preview.cells.map((row, at) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: rows are their numbers
              <tr key={at}>
                {Array.from({ length: width }, (_, column) => {
                  const cell = row[column];
                  return (
                    <td
                      // biome-ignore lint/suspicious/noArrayIndexKey: columns are their numbers
                      key={column}
                      data-role={cell?.role}
                      data-matched={cell?.subject}
                      data-problem={cell?.problem === undefined ? undefined : true}
                    >
                      <input
                        value={cell?.text ?? ""}
                        size={Math.max(4, Math.min(12, cell?.text.length ?? 0))}
                        spellCheck={false}
                        autoComplete="off"
                        aria-label={place(at, column, cell?.subject)}
                        aria-invalid={cell?.problem !== undefined}
                        title={cell?.problem?.message ?? cell?.subject}
                        data-cell={`${at} ${column}`}
                        onChange={(event) =>
                          change({
                            cells: cells.map((each, index) =>
                              index === at
                                ? Array.from({ length: Math.max(each.length, column + 1) }, (_, c) =>
                                    c === column ? event.target.value : (each[c] ?? ""),
                                  )
                                : each,
                            ),
                          })
                        }
                      />
                    </td>
                  );
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <div aria-live="polite" className={styles.tableSaid}>
        <p>
          {say("build.lengths.matched", { count: preview.matched })}{" "}
          {say("build.lengths.faults", { count: faulty.length })}
        </p>
        {preview.ordered ? <p>{say("build.lengths.ordered", { rows: listed(rows) })}</p> : null}
        {missing.length === 0 ? null : <p>{say("build.lengths.missing", { names })}</p>}
      </div>
      {faulty.length + preview.problems.length === 0 ? null : (
        <ul className={styles.problemList} data-table-problems>
          {faulty.slice(0, MOST_NAMES).map(({ problem, at, column, subject }) => (
            <li key={`${at} ${column}`}>
              <b className={styles.severity}>!</b>
              <span>
                <strong>{place(at, column, subject)}</strong> {problem?.message}{" "}
                <span className={styles.remedy}>{problem?.remedy}</span>
              </span>
            </li>
          ))}
          {preview.problems.map(({ message, remedy }) => (
            <li key={message}>
              <b className={styles.severity}>!</b>
              <span>
                {message} <span className={styles.remedy}>{remedy}</span>
              </span>
            </li>
          ))}
        </ul>
      )}
      <div className={styles.buttons}>
        <button
          type="button"
          className={styles.main}
          disabled={preview.matched === 0}
          data-do="take-lengths"
          onClick={() => {
            const state = builder.getState();
            const now = parseDraft(state.text);
            state.write(withTable(state.text, now, preview.table), `table ${Date.now()}`);
            state.setTable(undefined);
            onSaid(say("build.lengths.taken", { count: preview.matched }));
          }}
        >
          {say("build.lengths.take")}
        </button>
        <button type="button" data-do="drop-table" onClick={() => builder.getState().setTable(undefined)}>
          {say("build.lengths.drop")}
        </button>
      </div>
    </div>
  );
}
