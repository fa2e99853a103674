/** The table as it was found, over each column what it is taken for, and in each cell what becomes of it. */
import { useState } from "react";
import type { Wing } from "../../plan/model.ts";
import { columnLetter, gridOf } from "../../readings/tables/cells.ts";
import type { RecognisedColumn } from "../../readings/tables/recognition.ts";
import { type Key, say } from "../../words/index.ts";
import {
  chosenMeaning,
  columnChoices,
  columnValue,
  hasSide,
  SIDE_VALUES,
  sideLabel,
} from "../model/intake-columns.ts";
import { cellKey, type DraftTable, withColumn } from "../model/intake-draft.ts";
import { addressIn, type CellState, type Preview, rowNumber } from "../model/intake-preview.ts";
import { shownRows } from "../model/intake-rows.ts";
import panes from "../panes/Panes.module.css";
import { changeDraft } from "../state/bring-files.ts";
import styles from "./Intake.module.css";

/** Columns beyond what has headings hold nothing that counts. */
const MOST_SHOWN_COLUMNS = 60;

export interface CellAt {
  readonly row: number;
  readonly column: number;
}

export function TablePreview(props: {
  readonly found: DraftTable;
  readonly preview: Preview;
  readonly wing: Wing;
  readonly sought: CellAt | undefined;
}) {
  const { found, preview, sought } = props;
  const { cells, problems, far } = preview;
  // As it was found: with the settings that stand in the form.
  const grid = gridOf(found.table, preview.grid.turned);
  const [all, setAll] = useState(false);
  const wanted = new Set([...problems.flatMap(({ row }) => row ?? []), ...far.map(({ row }) => row)]);
  const width = Math.min(grid.width, MOST_SHOWN_COLUMNS);
  const columns = Array.from({ length: width }, (_, column) => column);
  const isEmpty = (row: number): boolean => columns.every((column) => grid.text(row, column) === "");
  const shown = shownRows(grid.height, found.recognition, wanted, all, isEmpty);
  const farAt = new Set(far.map(({ row, column }) => cellKey(row, column)));
  const rowLabel = (row: number): string =>
    grid.turned ? columnLetter(row) : String(rowNumber(grid.table, row));

  return (
    <div>
      <section
        className={styles.scroll}
        aria-label={say("intake.preview.label")}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls, by the keyboard too
        tabIndex={0}
      >
        <table className={styles.table} data-preview={found.recognition.layout}>
          <tbody>
            {shown.map((each) => {
              if (each.kind === "heads")
                return <Heads key={`h${each.section}`} {...props} section={each.section} width={width} />;
              if (each.kind === "gap")
                return (
                  <tr key={`g${each.from}`} className={styles.gap}>
                    <td colSpan={width + 1}>
                      <span>{say("intake.preview.gap", { count: each.count })}</span>
                    </td>
                  </tr>
                );
              const { row, section } = each;
              const title =
                section === undefined ? onlyFilled(columns, (column) => grid.text(row, column)) : undefined;
              const head = found.recognition.sections.some(({ headerRow }) => headerRow === row);
              return (
                <tr key={row} data-row-kind={section === undefined ? (head ? "head" : "around") : "row"}>
                  <th scope="row">{rowLabel(row)}</th>
                  {columns.map((column) => {
                    const isRest = title !== undefined && column > title;
                    if (isRest) return null;
                    const key = cellKey(row, column);
                    const state = cells.get(key);
                    const isFar = farAt.has(key);
                    return (
                      <td
                        key={column}
                        colSpan={column === title ? width - column : undefined}
                        data-at={key}
                        data-cell={addressIn(grid, row, column)}
                        data-state={state}
                        data-far={isFar || undefined}
                        data-sought={(sought?.row === row && sought.column === column) || undefined}
                        tabIndex={-1}
                      >
                        {grid.text(row, column)}
                        <CellWord state={state} isFar={isFar} />
                      </td>
                    );
                  })}
                </tr>
              );
            })}
          </tbody>
        </table>
      </section>
      <p className={styles.legend}>
        <span data-state="taken">{say("intake.cell.taken")}</span>
        <span data-state="problem">{say("intake.cell.problem")}</span>
        <span data-state="left out">{say("intake.cell.leftOut")}</span>
        {far.length > 0 ? <span data-far>{say("intake.cell.far")}</span> : null}
      </p>
      {all || !shown.some(({ kind }) => kind === "gap") ? null : (
        <button type="button" className={panes.textButton} onClick={() => setAll(true)}>
          {say("intake.preview.all")}
        </button>
      )}
    </div>
  );
}

/** The one filled cell of a row such as a title's; undefined where there are more. */
function onlyFilled(columns: readonly number[], text: (column: number) => string): number | undefined {
  const filled = columns.filter((column) => text(column) !== "");
  return filled.length === 1 ? filled[0] : undefined;
}

const WORDS: Partial<Record<CellState, Key>> = {
  problem: "intake.cell.problem",
  "left out": "intake.cell.leftOut",
};

/** For those who don't see the marks. */
function CellWord({ state, isFar }: { readonly state: CellState | undefined; readonly isFar: boolean }) {
  const key = (state && WORDS[state]) ?? (isFar ? "intake.cell.far" : undefined);
  return key === undefined ? null : <span className="unseen"> ({say(key)})</span>;
}

function Heads(props: {
  readonly found: DraftTable;
  readonly preview: Preview;
  readonly wing: Wing;
  readonly section: number;
  readonly width: number;
}) {
  const { found, preview, wing, section, width } = props;
  const { layout, sections } = found.recognition;
  const { turned, table } = preview.grid;
  const choices = columnChoices(layout, wing);
  const known = new Map(sections[section]?.columns.map((column) => [column.index, column]));
  return (
    <tr className={styles.heads} data-heads={section}>
      <td />
      {Array.from({ length: width }, (_, index) => {
        const column = known.get(index);
        const label = turned ? String(rowNumber(table, index)) : columnLetter(index);
        return (
          <th key={label} scope="col" data-role={column?.role}>
            <span className={styles.letter}>{label}</span>
            {column === undefined ? null : (
              <Head
                column={column}
                layout={layout}
                choices={choices}
                name={turned ? say("intake.row", { name: label }) : say("intake.column", { name: label })}
                section={section}
              />
            )}
          </th>
        );
      })}
    </tr>
  );
}

function Head(props: {
  readonly column: RecognisedColumn;
  readonly layout: DraftTable["recognition"]["layout"];
  readonly choices: ReturnType<typeof columnChoices>;
  readonly name: string;
  readonly section: number;
}) {
  const { column, layout, choices, name, section } = props;
  const { index, side, role, row } = column;
  const value = columnValue(column, layout);
  const given = choices.some((choice) => choice.value === value)
    ? choices
    : [{ value, label: column.title || value }, ...choices];
  return (
    <>
      <select
        aria-label={say("intake.head.is", { name })}
        data-column={index}
        value={value}
        onChange={(event) => {
          const meaning = chosenMeaning(event.target.value, column);
          changeDraft((draft) => withColumn(draft, section, index, meaning));
        }}
      >
        {given.map((choice) => (
          <option key={choice.value} value={choice.value}>
            {choice.label}
          </option>
        ))}
      </select>
      {hasSide(column, layout) ? (
        <select
          aria-label={say("intake.head.side", { name })}
          data-side-of={index}
          data-open={side === undefined || undefined}
          value={side ?? ""}
          onChange={(event) => {
            const chosen = SIDE_VALUES.find((each) => each === event.target.value);
            changeDraft((draft) => withColumn(draft, section, index, { role, row, side: chosen }));
          }}
        >
          {side === undefined ? <option value="">{say("intake.side.open")}</option> : null}
          {SIDE_VALUES.map((each) => (
            <option key={each} value={each}>
              {sideLabel(each)}
            </option>
          ))}
        </select>
      ) : null}
    </>
  );
}
