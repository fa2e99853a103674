/** The loops at the maillons: the short answer, the changes, what they leave; the person's choices, and the bench's book. */
import { type Key, say } from "../../words/index.ts";
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
        <p className={panes.note}>{say("loops.pane.none")}</p>
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
          {analysis.check === undefined ? say("loops.pane.no-readings") : say("loops.pane.not-read")}
        </p>
      ) : unplanned !== undefined ? (
        <p className={styles.alert} role="alert">
          {say("loops.pane.failed", { why: unplanned })}
        </p>
      ) : plans === undefined ? (
        <p className={panes.note} role="status">
          {say("loops.pane.working")}
        </p>
      ) : (
        <LoopsAnswer desk={desk} summary={reports?.after.summary} />
      )}
      <nav className={styles.jumps} aria-label={say("loops.pane.jumps")}>
        {JUMPS.filter(([name]) => name !== "left" || reports !== undefined).map(([name, key]) => (
          <button key={name} type="button" onClick={() => jump(name)}>
            {say(key)}
          </button>
        ))}
      </nav>
      {unsolved === undefined ? null : (
        <p className={styles.alert} role="alert">
          {say("loops.pane.unsolved", { why: unsolved })}
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

const JUMPS: readonly (readonly [name: string, label: Key])[] = [
  ["hand", "loops.hand.title"],
  ["left", "loops.left.title"],
  ["choices", "loops.jump.choices"],
  ["present", "loops.jump.present"],
  ["take-ups", "loops.take-ups.title"],
];

/** A part that is folded is opened on the way. */
function jump(name: string): void {
  const part = document.querySelector<HTMLElement>(`[data-loops-part="${name}"]`);
  if (part instanceof HTMLDetailsElement) part.open = true;
  part?.scrollIntoView();
}
