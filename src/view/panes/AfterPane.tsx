/** Before and after: a check after the work, held against the check before it and against what was done. */
import { useDeferredValue, useMemo } from "react";
import { cautionFull } from "../../diagnosis/caution.ts";
import type { Analysis } from "../../diagnosis/model.ts";
import { sourceOf } from "../../diagnosis/wording.ts";
import type { Wing } from "../../plan/model.ts";
import { longDate, say } from "../../words/index.ts";
import { type Comparison, chosenBy } from "../../workshop/index.ts";
import { WorkPairs } from "../CompareControls.tsx";
import { riggingDifferences } from "../model/riggingText.ts";
import { type Done, measureAgain } from "../model/workshop-recheck.ts";
import {
  angleRows,
  changeRows,
  changesSentence,
  limitRows,
  movedOf,
  pathRows,
  rowsRows,
  shiftSentence,
} from "../model/workshop-recheck-tables.ts";
import { useApp, useBaseAnalysis, useLive } from "../state/app.ts";
import type { Document } from "../state/document.ts";
import { useComparison, useDone } from "../state/recheck.ts";
import styles from "../workshop/Recheck.module.css";
import { BringAfter } from "../workshop/RecheckBring.tsx";
import { ChangeTable, MovedParagraph } from "../workshop/RecheckChanges.tsx";
import { GoOn } from "../workshop/RecheckGoOn.tsx";
import { MeasureList } from "../workshop/RecheckMeasure.tsx";
import { RowsChart, RowsTable } from "../workshop/RecheckRows.tsx";
import { AngleTable, LimitTable, PathTable } from "../workshop/RecheckTables.tsx";
import { CautionLine } from "./Caution.tsx";
import panes from "./Panes.module.css";

export function AfterPane({ analysis }: { readonly analysis: Analysis }) {
  const document = useApp((state) => state.document);
  if (document === undefined) return null;
  return (
    <div className={panes.pane} data-recheck-pane={document.after === undefined ? "before" : "after"}>
      {document.check === undefined ? (
        <p className={panes.note}>{say("recheck.pane.first")}</p>
      ) : document.after === undefined ? (
        <Invitation document={document} wing={analysis.wing} />
      ) : (
        <Checked document={document} />
      )}
      <CautionLine />
    </div>
  );
}

function Invitation({ document, wing }: { readonly document: Document; readonly wing: Wing }) {
  const done = useDone();
  const { book, check } = document;
  const again = useMemo(() => measureAgain(wing, done, book, check?.date), [wing, done, book, check]);
  return (
    <>
      <section className={styles.part}>
        <h2>{say("recheck.pane.bring")}</h2>
        <p>{say("recheck.pane.bring.what", { date: longDate(check?.date ?? "") })}</p>
        <BringAfter />
      </section>
      <MeasureList wing={wing} again={again} />
      <FirstFlight />
    </>
  );
}

/** What follows any change of a wing, in the core's own words; on paper it stands in the pane's last lines anyway. */
function FirstFlight() {
  return (
    <section className={`${styles.part} ${styles.screenOnly}`} data-recheck="caution">
      <h2>{say("recheck.pane.clearance")}</h2>
      {cautionFull()
        .slice(1)
        .map((text) => (
          <p key={text}>{text}</p>
        ))}
    </section>
  );
}

function Checked({ document }: { readonly document: Document }) {
  // Comparing takes more than a frame: a slider that tries a length doesn't wait for it.
  const done = useDeferredValue(useDone());
  const comparison = useComparison(done);
  const before = useBaseAnalysis();
  const after = useApp((state) => state.afterAnalysis);
  const { check } = document;
  if (document.after === undefined || check === undefined) return null;
  return (
    <>
      <section className={styles.part} data-recheck="head">
        <h2>
          {say("recheck.pane.title", {
            after: longDate(document.after.date),
            before: longDate(check.date),
          })}
        </h2>
        <div className={`${styles.pairs} ${styles.screenOnly}`}>
          <WorkPairs />
        </div>
        {document.after.date < check.date ? (
          <p className={panes.warning} role="alert">
            {say("recheck.pane.earlier")}
          </p>
        ) : null}
        {done.length === 0 ? <NothingDone /> : null}
        {comparison === undefined ? <p role="status">{say("recheck.pane.working")}</p> : null}
      </section>
      {comparison === undefined || before === undefined || after === undefined ? null : (
        <Compared comparison={comparison} done={done} before={before} after={after} />
      )}
      {comparison === undefined ? null : <WhatNext document={document} comparison={comparison} done={done} />}
      <FirstFlight />
    </>
  );
}

/** Without anything tried, all that the work did counts as moved by itself; the best loops are offered as what was done. */
function NothingDone() {
  const plans = useApp((state) => state.loopPlans);
  const tryOut = useApp((state) => state.tryOut);
  const count = plans?.best.changes.length ?? 0;
  return (
    <div className={styles.told} data-recheck="nothing done">
      <p>{say("recheck.pane.nothing")}</p>
      {plans === undefined || count === 0 ? null : (
        <button
          type="button"
          className={`${panes.button} ${styles.screenOnly}`}
          data-action="take plan"
          onClick={() => tryOut({ kind: "tie all", loops: chosenBy(plans.best) })}
        >
          {say("recheck.pane.take", { count })}
        </button>
      )}
    </div>
  );
}

interface Two {
  readonly comparison: Comparison;
  readonly done: readonly Done[];
}

function Compared(props: Two & { readonly before: Analysis; readonly after: Analysis }) {
  const { comparison, done, before, after } = props;
  const { wing } = before;
  const live = useLive();
  const rigging = useApp(({ choices }) => choices.rigging);
  const changes = changeRows(comparison, done);
  const planned = done.length > 0;
  const rows = rowsRows(comparison, planned);
  const limits = useMemo(() => limitRows(wing, before, after), [wing, before, after]);
  const paths = useMemo(() => pathRows(wing, comparison), [wing, comparison]);
  const angles =
    live?.after === undefined ? [] : angleRows(live.asMeasured, live.asTried, live.after.analysis);
  const rigged = riggingDifferences(wing, rigging).length > 0;
  return (
    <>
      <section className={styles.part} data-recheck="changes">
        <h2>{say("recheck.pane.changes")}</h2>
        {planned ? (
          <>
            <p className={styles.lead} data-recheck="verdict">
              {changesSentence(changes)}
            </p>
            <ChangeTable rows={changes} />
          </>
        ) : null}
        <MovedParagraph moved={movedOf(wing, comparison)} shift={shiftSentence(comparison)} />
      </section>
      {rows.length === 0 ? (
        <p className={panes.note}>{say("recheck.pane.no-path")}</p>
      ) : (
        <section className={styles.part} data-recheck="rows">
          <h2>{say("recheck.pane.rows")}</h2>
          <RowsChart rows={rows} />
          <RowsTable rows={rows} shift={comparison.shiftRemoved} />
        </section>
      )}
      <section className={styles.part} data-recheck="incidence">
        <h2>{say("recheck.pane.incidence")}</h2>
        <AngleTable rows={angles} />
        {rigged ? <p>{say("recheck.pane.rigged")}</p> : null}
      </section>
      {limits.length === 0 ? null : (
        <section className={styles.part} data-recheck="limits">
          <h2>{say("recheck.pane.limits")}</h2>
          <LimitTable rows={limits} />
          <p>{say("recheck.pane.limits.source", { source: sourceOf(wing.tolerances) })}</p>
        </section>
      )}
      <PathTable rows={paths} planned={planned} />
    </>
  );
}

function WhatNext({ document, comparison, done }: Two & { readonly document: Document }) {
  const rows = changeRows(comparison, done);
  return (
    <>
      <GoOn document={document} done={done} rows={rows} />
      <section className={`${styles.part} ${styles.screenOnly}`} data-recheck="another">
        <details>
          <summary className={styles.another}>{say("recheck.pane.another")}</summary>
          <BringAfter />
        </details>
      </section>
    </>
  );
}
