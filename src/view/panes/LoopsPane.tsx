/** The loops at the maillons: the short answer, the changes, what they leave; the person's choices, and the bench's book. */
import { useApp } from "../state/app.ts";
import { useLoopDesk, useLoopReports } from "../state/loops.ts";
import styles from "../workshop/Loops.module.css";
import { LoopsAnswer } from "../workshop/LoopsAnswer.tsx";
import { LoopsByHand } from "../workshop/LoopsByHand.tsx";
import { LoopsChanges } from "../workshop/LoopsChanges.tsx";
import { LoopsChoices } from "../workshop/LoopsChoices.tsx";
import { LoopsCompare } from "../workshop/LoopsCompare.tsx";
import { LoopsLeft } from "../workshop/LoopsLeft.tsx";
import { LoopsPresent } from "../workshop/LoopsPresent.tsx";
import { LoopsTakeUps } from "../workshop/LoopsTakeUps.tsx";
import { CautionLine } from "./Caution.tsx";
import panes from "./Panes.module.css";

export function LoopsPane() {
  const desk = useLoopDesk();
  const unplanned = useApp((state) => state.unplanned);
  const unsolved = useApp((state) => state.unsolved);
  const reports = useLoopReports(desk);
  if (desk === undefined) return null;
  const { document, analysis, plans } = desk;
  if (document.loops.length === 0)
    return (
      <div className={panes.pane}>
        <p className={panes.note}>
          No line of this wing hangs on a maillon, so there is no loop to change. Brake lines hang on a
          pulley: they are set at the handle.
        </p>
        <CautionLine />
      </div>
    );
  const above = new Set(document.loops.flatMap(({ row, tabs }) => (row === "brake" ? [] : tabs)));
  const read = analysis.deviations.paths.some(
    ({ deviationM }, tab) => deviationM !== undefined && above.has(tab),
  );
  return (
    <div
      className={`${panes.pane} ${styles.loops}`}
      data-loops-pane={!read ? "no readings" : plans === undefined ? "at work" : "planned"}
    >
      {!read ? (
        <p className={panes.note}>
          {analysis.check === undefined
            ? "Without readings there is no plan. Loops can be changed by hand below, to see what they do to the wing."
            : "No path above a line on a maillon was read, so there is no plan. Loops can be changed by hand below."}
        </p>
      ) : unplanned !== undefined ? (
        <p className={styles.alert} role="alert">
          The best loops could not be worked out: {unplanned} Look through the choices below.
        </p>
      ) : plans === undefined ? (
        <p className={panes.note} role="status">
          Working out the best loops …
        </p>
      ) : (
        <LoopsAnswer desk={desk} summary={reports?.after.summary} />
      )}
      <nav className={styles.jumps} aria-label="In this pane">
        {JUMPS.filter(([name]) => name !== "left" || reports !== undefined).map(([name, label]) => (
          <button key={name} type="button" onClick={() => jump(name)}>
            {label}
          </button>
        ))}
      </nav>
      {unsolved === undefined ? null : (
        <p className={styles.alert} role="alert">
          This could not be solved: {unsolved}. The shape is that before it.
        </p>
      )}
      <LoopsChanges desk={desk} />
      {read ? <LoopsCompare desk={desk} /> : null}
      <LoopsByHand desk={desk} />
      {read && plans !== undefined && reports !== undefined ? (
        <LoopsLeft desk={desk} before={reports.before} after={reports.after} />
      ) : null}
      <LoopsChoices desk={desk} />
      <LoopsPresent desk={desk} />
      <LoopsTakeUps desk={desk} />
      <CautionLine />
    </div>
  );
}

const JUMPS = [
  ["hand", "By hand"],
  ["left", "What is left"],
  ["choices", "Choices"],
  ["present", "As they are"],
  ["take-ups", "Take-ups"],
] as const;

/** A part that is folded is opened on the way. */
function jump(name: string): void {
  const part = document.querySelector<HTMLElement>(`[data-loops-part="${name}"]`);
  if (part instanceof HTMLDetailsElement) part.open = true;
  part?.scrollIntoView();
}
