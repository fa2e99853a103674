/** All that is the matter with the plan; each goes to its cell. */
import { useState } from "react";
import type { Problem } from "../../../plan/model.ts";
import { say } from "../../../words/index.ts";
import type { CellPlace, PlacedProblem } from "../../model/edit-problems.ts";
import styles from "./Edit.module.css";
import { editor } from "./editor.ts";
import { Mark } from "./GridTable.tsx";

const AT_FIRST = 8;

/** Shows a cell, whichever table it is in, and gives it the focus. */
export function goTo(place: CellPlace): void {
  const { settle, show, activate, half } = editor.getState();
  settle();
  show({ table: place.table, half: place.half ?? half });
  activate({ grid: place.grid, row: place.row, col: place.col }, true);
}

export function EditProblems({
  problems,
  errors,
  warnings,
}: {
  readonly problems: readonly PlacedProblem[];
  readonly errors: number;
  readonly warnings: number;
}) {
  const [all, setAll] = useState(false);
  const shown = all ? problems : problems.slice(0, AT_FIRST);
  return (
    <section className={styles.part} data-problems={problems.length}>
      <h2>{say("edit.problems.title", { count: problems.length })}</h2>
      {problems.length === 0 ? null : <p>{say("edit.problems.counts", { errors, warnings })}</p>}
      <ol className={styles.problems}>
        {shown.map(({ problem, place }, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a list that is made anew each time
          <li key={index} data-problem={problem.severity}>
            <ProblemText problem={problem} />
            {place === undefined ? null : (
              <button type="button" data-goto={place.at} onClick={() => goTo(place)}>
                {say("edit.problem.go")}
              </button>
            )}
          </li>
        ))}
      </ol>
      {problems.length > shown.length ? (
        <button type="button" className={styles.textButton} onClick={() => setAll(true)}>
          {say("edit.changes.more", { count: problems.length - shown.length })}
        </button>
      ) : null}
    </section>
  );
}

export function ProblemText({ problem }: { readonly problem: Problem }) {
  return (
    <span className={styles.problem}>
      <Mark severity={problem.severity} />
      <span>
        {problem.subject === undefined ? null : <strong>{problem.subject} </strong>}
        {problem.message} <span className={styles.remedy}>{problem.remedy}</span>
      </span>
    </span>
  );
}
