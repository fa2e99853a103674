/** Before and after: a check after the work, held against the check before it and against what was done. */
import { useDeferredValue, useMemo } from "react";
import { CAUTION_FULL } from "../../diagnosis/caution.ts";
import type { Analysis } from "../../diagnosis/model.ts";
import type { Wing } from "../../plan/model.ts";
import { type Comparison, chosenBy } from "../../workshop/index.ts";
import { WorkPairs } from "../CompareControls.tsx";
import { counted, dateText } from "../model/format.ts";
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
        <p className={panes.note}>
          Once there are readings, a check after the work can be held against them here.
        </p>
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
        <h2>Read the wing again after the work</h2>
        <p>
          Bring the check that was made after the work: this pane then says whether each change did what it
          promised, what else has moved, and what is left. It is held against the check of{" "}
          {check === undefined ? "" : dateText(check.date)}; read it the same way.
        </p>
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
      <h2>No clearance to fly</h2>
      {CAUTION_FULL.slice(1).map((text) => (
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
          {dateText(document.after.date)} against {dateText(check.date)}
        </h2>
        <div className={`${styles.pairs} ${styles.screenOnly}`}>
          <WorkPairs />
        </div>
        {document.after.date < check.date ? (
          <p className={panes.warning} role="alert">
            This check is dated before the one it is held against.
          </p>
        ) : null}
        {done.length === 0 ? <NothingDone /> : null}
        {comparison === undefined ? (
          <p role="status">Calculating the wing as it was read after the work …</p>
        ) : null}
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
      <p>
        Nothing is said to have been done: try the loops or lengths that were changed, and each is held to
        what it promised. The two checks are compared all the same.
      </p>
      {plans === undefined || count === 0 ? null : (
        <button
          type="button"
          className={`${panes.button} ${styles.screenOnly}`}
          data-action="take plan"
          onClick={() => tryOut({ kind: "tie all", loops: chosenBy(plans.best) })}
        >
          The best loops were tied: {counted(count, "change")}
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
        <h2>Did each change do what it promised?</h2>
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
        <p className={panes.note}>No path was read on both days.</p>
      ) : (
        <section className={styles.part} data-recheck="rows">
          <h2>Rows before and after</h2>
          <RowsChart rows={rows} />
          <RowsTable rows={rows} shift={comparison.shiftRemoved} />
        </section>
      )}
      <section className={styles.part} data-recheck="incidence">
        <h2>Incidence before and after</h2>
        <AngleTable rows={angles} />
        {rigged ? <p>With the risers, weight and brakes as they are set now, not at trim.</p> : null}
      </section>
      {limits.length === 0 ? null : (
        <section className={styles.part} data-recheck="limits">
          <h2>Limits before and after</h2>
          <LimitTable rows={limits} />
          <p>Limits: {wing.tolerances.source}. That a figure conforms to its limit is no clearance to fly.</p>
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
          <summary className={styles.another}>
            Bring another check after the work in place of this one
          </summary>
          <BringAfter />
        </details>
      </section>
    </>
  );
}
