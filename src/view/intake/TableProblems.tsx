/** What is wrong in the table, by cell: what was found, what was expected, what to do. */
import type { Problem } from "../../plan/model.ts";
import { say } from "../../words/index.ts";
import { withName } from "../model/intake-draft.ts";
import type { ListedProblem, Preview } from "../model/intake-preview.ts";
import panes from "../panes/Panes.module.css";
import { changeDraft } from "../state/bring-files.ts";
import styles from "./Intake.module.css";
import type { CellAt } from "./TablePreview.tsx";

/** More at once helps no one: where so many are wrong, something else is. */
const MOST_LISTED = 30;

export function TableProblems(props: {
  readonly preview: Preview;
  /** Of what the table states of its day and set-up. */
  readonly frameProblems: readonly Problem[];
  readonly onSeek: (at: CellAt) => void;
}) {
  const { preview, frameProblems, onSeek } = props;
  const all: readonly ListedProblem[] = [
    ...frameProblems.map((problem) => ({
      problem,
      row: undefined,
      column: undefined,
      cell: undefined,
      near: [],
    })),
    ...preview.problems,
  ];
  // Cells first: they are what can be put right in the table.
  const sorted = [
    ...all.filter(({ cell }) => cell !== undefined),
    ...all.filter(({ cell }) => cell === undefined),
  ];
  if (sorted.length === 0) return null;
  return (
    <div data-table-problems={sorted.length}>
      <h4>{say("intake.problems.title", { count: sorted.length })}</h4>
      <ol className={`${panes.problems} ${styles.problems}`}>
        {sorted.slice(0, MOST_LISTED).map((listed, place) => (
          <Item
            // biome-ignore lint/suspicious/noArrayIndexKey: made anew as a whole
            key={place}
            listed={listed}
            turned={preview.grid.turned}
            onSeek={onSeek}
          />
        ))}
      </ol>
      {sorted.length > MOST_LISTED ? (
        <p>{say("intake.more", { count: sorted.length - MOST_LISTED })}</p>
      ) : null}
    </div>
  );
}

function Item(props: {
  readonly listed: ListedProblem;
  readonly turned: boolean;
  readonly onSeek: (at: CellAt) => void;
}) {
  const { problem, row, column, cell, near } = props.listed;
  const at = row === undefined || column === undefined ? undefined : { row, column };
  return (
    <li data-listed={cell ?? ""} data-problem-kind={problem.severity}>
      <p className={panes.where}>
        {at === undefined || cell === undefined ? (
          problem.where
        ) : (
          <button type="button" className={styles.seek} onClick={() => props.onSeek(at)}>
            {cell}
          </button>
        )}
        {problem.subject === undefined ? "" : ` · ${problem.subject}`}
      </p>
      <p>{problem.message}</p>
      {near.length === 0 || at === undefined ? (
        <p className={panes.remedy}>{problem.remedy}</p>
      ) : (
        <p className={styles.near}>
          {say("intake.near")}{" "}
          {near.map((name) => (
            <button
              key={name}
              type="button"
              className={styles.answer}
              aria-label={say("intake.near.as", { cell: cell ?? "", name })}
              onClick={() => {
                // Names stand where the table has them, also where it is turned.
                const [down, across] = props.turned ? [at.column, at.row] : [at.row, at.column];
                changeDraft((draft) => withName(draft, down, across, name));
              }}
            >
              {name}
            </button>
          ))}
        </p>
      )}
    </li>
  );
}
