/** A table that was brought, as it is understood: shown, put right and confirmed before any of it counts as readings. */
import { useEffect, useMemo, useRef, useState } from "react";
import type { Wing } from "../../plan/model.ts";
import { readLengthTable } from "../../readings/tables/length-table.ts";
import { say } from "../../words/index.ts";
import {
  baseTable,
  cellKey,
  changedTable,
  type OpenQuestion,
  type TableDraft,
} from "../model/intake-draft.ts";
import { frameAnswered, frameStart, withoutSettings } from "../model/intake-frame.ts";
import { previewOf } from "../model/intake-preview.ts";
import panes from "../panes/Panes.module.css";
import { OneOf } from "../parts/Choice.tsx";
import { useApp } from "../state/app.ts";
import { changeDraft } from "../state/bring-files.ts";
import { suggestedFrame } from "../state/core.ts";
import { FrameFields } from "./FrameFields.tsx";
import styles from "./Intake.module.css";
import { type CellAt, TablePreview } from "./TablePreview.tsx";
import { TableProblems } from "./TableProblems.tsx";
import { TableQuestions } from "./TableQuestions.tsx";
import { SheetChoice, TableSettings } from "./TableSettings.tsx";
import { TableSummary } from "./TableSummary.tsx";

/** Fewer lengths than this say nothing of what a table is. */
const LEAST_LENGTHS = 4;

/** Where there are readings already, it's asked too whether these take their place or come after the work. */
export function TableForm({ draft, wing }: { readonly draft: TableDraft; readonly wing: Wing }) {
  const present = useApp((state) => state.document?.check !== undefined);
  const takeSheet = useApp((state) => state.takeSheet);
  const dropSheet = useApp((state) => state.dropSheet);
  const [suggested] = useState(() => suggestedFrame(wing, new Date()));
  const [sought, setSought] = useState<CellAt>();
  const body = useRef<HTMLFormElement>(null);
  const head = useRef<HTMLHeadingElement>(null);

  // It stands below what it was brought with. A frame later, as another pane begins at its top.
  useEffect(() => {
    const frame = requestAnimationFrame(() => {
      body.current?.scrollIntoView({ block: "start" });
      head.current?.focus({ preventScroll: true });
    });
    return () => cancelAnimationFrame(frame);
  }, []);

  const { tables, sheet, changes, answers } = draft;
  const { names } = changes;
  const base = useMemo(() => baseTable(tables, sheet, names, wing), [tables, sheet, names, wing]);
  const understood = useMemo(() => changedTable(base, changes), [base, changes]);
  const { found } = understood;
  const start = useMemo(
    () => (found === undefined ? undefined : frameStart(found.table, suggested)),
    [found, suggested],
  );
  const frame = start === undefined ? undefined : frameAnswered(start, answers);
  const preview = useMemo(
    () =>
      found === undefined || start === undefined
        ? undefined
        : previewOf(
            withoutSettings(found.table),
            wing,
            frameAnswered(start, answers),
            start.frame,
            found.recognition,
          ),
    [found, start, answers, wing],
  );
  const isLengths = useMemo(() => {
    if (found === undefined) return false;
    if (found.recognised && found.recognition.holds !== "specified") return false;
    const lengths = readLengthTable(found.table);
    return lengths.ok && lengths.value.lengths.length >= LEAST_LENGTHS;
  }, [found]);

  useEffect(() => {
    if (sought === undefined) return;
    const cell = body.current?.querySelector<HTMLElement>(
      `[data-at="${cellKey(sought.row, sought.column)}"]`,
    );
    cell?.scrollIntoView({ block: "center", inline: "center" });
    cell?.focus({ preventScroll: true });
  }, [sought]);

  const wanting = preview === undefined ? "sheet" : wantingIn(preview.questions, frame !== undefined);
  const canTake = wanting === undefined && preview?.check !== undefined;
  const title = say("intake.table.title", { name: draft.name });

  return (
    <form
      ref={body}
      className={`${panes.sheet} ${styles.form}`}
      aria-label={title}
      data-table-waiting
      onSubmit={(event) => {
        event.preventDefault();
        if (canTake && frame !== undefined) takeSheet(frame);
      }}
    >
      <h3 ref={head} tabIndex={-1}>
        {title}
      </h3>
      <p>{say("intake.table.intro", { wing: wing.name })}</p>
      {present ? (
        <OneOf
          legend={say("intake.as.legend")}
          options={[
            { value: "before", label: say("intake.as.before") },
            { value: "after", label: say("intake.as.after") },
          ]}
          value={draft.as}
          onChange={(as) => changeDraft((waiting) => ({ ...waiting, as }))}
        />
      ) : null}
      {draft.tables.length > 1 ? <SheetChoice draft={draft} index={found?.index} /> : null}
      {understood.found === undefined ? (
        <ul className={styles.plain}>
          {understood.problems.map((problem) => (
            <li key={problem.message}>
              {problem.message} {problem.remedy}
            </li>
          ))}
        </ul>
      ) : null}
      {isLengths ? <LengthsHint /> : null}
      {found === undefined || preview === undefined || start === undefined ? null : (
        <>
          {found.recognised ? (
            <p className={styles.why}>{found.recognition.why.join(" ")}</p>
          ) : (
            <p className={panes.warning}>{say("intake.table.unrecognised")}</p>
          )}
          <TableQuestions questions={preview.questions} turned={preview.grid.turned} />
          <TableSettings draft={draft} found={found} />
          <TableSummary preview={preview} wanting={wanting} onSeek={setSought} />
          <TablePreview found={found} preview={preview} wing={wing} sought={sought} />
          <TableProblems preview={preview} frameProblems={start.problems} onSeek={setSought} />
          <h4>{say("intake.frame.title")}</h4>
          <FrameFields start={start} answers={answers} />
        </>
      )}
      <div className={`${panes.actions} ${styles.actions}`}>
        <button type="submit" className={panes.button} disabled={!canTake} aria-describedby="table-wanting">
          {say("intake.table.take")}
        </button>
        <button type="button" className={panes.textButton} onClick={dropSheet}>
          {say("intake.leave")}
        </button>
        <p id="table-wanting" className={styles.wanting}>
          {canTake ? "" : say("intake.table.wanting", { what: wanting ?? "readings" })}
        </p>
      </div>
    </form>
  );
}

/** What must be answered first; undefined where nothing is open. */
function wantingIn(questions: readonly OpenQuestion[], isFramed: boolean): string | undefined {
  return questions[0]?.kind ?? (isFramed ? undefined : "frame");
}

/** A maker's table of lengths isn't one of readings; a plan can be built from it. */
function LengthsHint() {
  const choose = useApp((state) => state.choose);
  return (
    <div className={panes.warning} data-hint="lengths">
      <p>{say("intake.lengths.hint")}</p>
      <button
        type="button"
        className={panes.textButton}
        onClick={() => choose({ pane: "plan", planPart: "build" })}
      >
        {say("intake.lengths.build")}
      </button>
    </div>
  );
}
