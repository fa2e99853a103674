/** The rows as specified, before, as planned and as measured after the work: a small chart, and the same in figures. */
import type { ReactNode } from "react";
import { lengthUnitName, say, signedLengthNumber } from "../../words/index.ts";
import { signedMm } from "../model/format.ts";
import { apartRows, type RowsRow, rowsAxis } from "../model/workshop-recheck-tables.ts";
import { useSize } from "../parts/hooks.ts";
import styles from "./Recheck.module.css";

const LINE = 34;
/** The rows’ names have at least so much room [px]. */
const LEFT = 52;
/** About as wide as a letter of a name is [px]. */
const LETTER = 8.5;
const RIGHT = 14;
const FOOT = 26;

/** Rows that share an axis. */
function Panel({
  rows,
  left,
  width,
  top,
}: {
  readonly rows: readonly RowsRow[];
  readonly left: number;
  readonly width: number;
  readonly top: number;
}) {
  const [low, high] = rowsAxis(rows);
  const x = (valueM: number): number => left + ((valueM - low) / (high - low)) * (width - left - RIGHT);
  const bottom = rows.length * LINE;
  return (
    <g transform={`translate(0 ${top})`}>
      <rect x={left} y={0} width={width - left - RIGHT} height={bottom} fill="var(--paper)" />
      <path d={`M${x(0)} 0V${bottom + 4}`} stroke="var(--ink)" strokeWidth={1.5} />
      {rows.map(({ row, name, beforeM, plannedM, afterM }, index) => {
        const y = (index + 0.5) * LINE;
        return (
          <g key={row}>
            <text x={0} y={y + 5} className={styles.rowName}>
              {name}
            </text>
            <path d={`M${left} ${y}H${width - RIGHT}`} stroke="var(--hair)" />
            {beforeM === undefined || afterM === undefined ? null : (
              <path d={`M${x(beforeM)} ${y}H${x(afterM)}`} stroke="var(--ink)" strokeWidth={2} />
            )}
            {plannedM === undefined ? null : <Planned x={x(plannedM)} y={y} />}
            {beforeM === undefined ? null : <Before x={x(beforeM)} y={y} />}
            {afterM === undefined ? null : <After x={x(afterM)} y={y} />}
          </g>
        );
      })}
      {[low, 0, high]
        .filter((value) => value === 0 || Math.abs(x(value) - x(0)) > 34)
        .map((value) => (
          <text
            key={value}
            x={x(value)}
            y={bottom + 19}
            textAnchor={value === high ? "end" : value === low ? "start" : "middle"}
            className={styles.axis}
          >
            {signedLengthNumber(value)}
          </text>
        ))}
    </g>
  );
}

const Before = ({ x, y }: { readonly x: number; readonly y: number }) => (
  <circle cx={x} cy={y} r={5} fill="var(--panel)" stroke="var(--ink)" strokeWidth={2} />
);
const Planned = ({ x, y }: { readonly x: number; readonly y: number }) => (
  <path
    d={`M${x} ${y - 12}V${y + 12}M${x - 5} ${y - 12}h10M${x - 5} ${y + 12}h10`}
    stroke="var(--ink)"
    strokeWidth={1.75}
    fill="none"
  />
);
const After = ({ x, y }: { readonly x: number; readonly y: number }) => (
  <circle cx={x} cy={y} r={5} fill="var(--ink)" />
);

export function RowsChart({ rows }: { readonly rows: readonly RowsRow[] }) {
  const [ref, { width }] = useSize<HTMLDivElement>();
  const panels = apartRows(rows);
  const left = Math.max(LEFT, ...rows.map(({ name }) => 10 + LETTER * name.length));
  const heights = panels.map((panel) => panel.length * LINE + FOOT);
  const planned = rows.some(({ plannedM }) => plannedM !== undefined);
  const height = heights.reduce((sum, each) => sum + each, 0);
  return (
    <figure className={styles.chart}>
      <div ref={ref}>
        {width < 120 ? null : (
          <svg
            width={width}
            height={height}
            viewBox={`0 0 ${width} ${height}`}
            role="img"
            aria-label={say("recheck.chart.label")}
            data-chart="recheck rows"
          >
            {panels.map((panel, index) => (
              <Panel
                key={panel[0]?.row ?? index}
                rows={panel}
                left={left}
                width={width}
                top={heights.slice(0, index).reduce((sum, each) => sum + each, 0)}
              />
            ))}
          </svg>
        )}
      </div>
      <figcaption>
        <ul className={styles.key}>
          <KeyItem text={say("recheck.chart.specified")}>
            <path d="M11 0V22" stroke="var(--ink)" strokeWidth={1.5} />
          </KeyItem>
          <KeyItem text={say("recheck.chart.before")}>
            <Before x={11} y={11} />
          </KeyItem>
          {planned ? (
            <KeyItem text={say("recheck.chart.planned")}>
              <Planned x={11} y={11} />
            </KeyItem>
          ) : null}
          <KeyItem text={say("recheck.chart.after")}>
            <After x={11} y={11} />
          </KeyItem>
        </ul>
      </figcaption>
    </figure>
  );
}

function KeyItem({ text, children }: { readonly text: string; readonly children: ReactNode }) {
  return (
    <li>
      <svg width={22} height={24} viewBox="0 -1 22 24" aria-hidden="true">
        {children}
      </svg>
      {text}
    </li>
  );
}

/** @param shift whether a shift between the days was told, which is still in these figures */
export function RowsTable(props: { readonly rows: readonly RowsRow[]; readonly shift: boolean }) {
  const { rows, shift } = props;
  const planned = rows.some(({ plannedM }) => plannedM !== undefined);
  return (
    <table className={styles.table} data-table="recheck rows">
      <caption>
        {say("recheck.rows.caption", { unit: lengthUnitName(), shift: shift ? "yes" : "no" })}
      </caption>
      <thead>
        <tr>
          <th scope="col">{say("recheck.head.row")}</th>
          <th scope="col">{say("recheck.head.specified")}</th>
          <th scope="col">{say("recheck.head.before")}</th>
          {planned ? <th scope="col">{say("recheck.head.planned")}</th> : null}
          <th scope="col">{say("recheck.head.after")}</th>
          <th scope="col">{say("recheck.head.change", { from: planned ? "planned" : "before" })}</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => {
          const from = row.plannedM ?? row.beforeM;
          return (
            <tr key={row.row} data-row={row.row}>
              <th scope="row">{row.name}</th>
              <td>0</td>
              <td>{signedMm(row.beforeM, 1)}</td>
              {planned ? <td>{signedMm(row.plannedM, 1)}</td> : null}
              <td>
                <strong>{signedMm(row.afterM, 1)}</strong>
              </td>
              <td>{from === undefined || row.afterM === undefined ? "–" : signedMm(row.afterM - from, 1)}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
