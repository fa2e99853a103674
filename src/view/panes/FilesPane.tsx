/** Bringing a plan or readings, what became of them, and what can be taken along. */
import { useMemo } from "react";
import { writeBook } from "../../workshop/index.ts";
import { counted, dateText } from "../model/format.ts";
import { identityFacts, wingTitle } from "../model/identity.ts";
import { readingsTemplate } from "../model/template.ts";
import { offerFile } from "../parts/hooks.ts";
import { PasteText } from "../parts/PasteText.tsx";
import { useAnalysis, useApp } from "../state/app.ts";
import { builtInFiles, builtInName } from "../state/core.ts";
import type { Document } from "../state/document.ts";
import { bringAsking, useWaiting } from "../state/recheck.ts";
import { WaitingReadings } from "../workshop/RecheckBring.tsx";
import { CautionText, Unknowns } from "./Caution.tsx";
import styles from "./Panes.module.css";
import { ReceiptList } from "./ReceiptList.tsx";
import { SheetForm } from "./SheetForm.tsx";

const BUILT_IN = ["school", "second"] as const;

export function FilesPane() {
  const document = useApp((state) => state.document);
  const receipts = useApp((state) => state.receipts);
  const pending = useApp((state) => state.pendingSheet);
  const kept = useApp((state) => state.kept);
  const waiting = useWaiting();
  const analysis = useAnalysis();

  return (
    <div className={styles.pane}>
      <section className={styles.block} aria-labelledby="bring">
        <h2 id="bring">Bring a plan or readings</h2>
        <p>
          A plan, a check or the bench’s book of loops as JSON, or a sheet of readings as CSV. Choose files,
          drop them anywhere on this page, or paste. All of it stays in this browser.
        </p>
        <label className={styles.fileButton}>
          <input
            type="file"
            multiple
            accept=".json,.csv,.txt,application/json,text/csv,text/plain"
            data-input="files"
            onChange={async (event) => {
              const input = event.currentTarget;
              const files = await Promise.all(
                [...(input.files ?? [])].map(async (file) => ({ name: file.name, text: await file.text() })),
              );
              input.value = "";
              bringAsking(files);
            }}
          />
          <span className={styles.button}>Choose files</span>
        </label>
        <PasteText
          label="Plan or check as JSON, or readings as CSV"
          onText={(text) => bringAsking([{ name: "pasted text", text }])}
        />
        {waiting === undefined ? null : <WaitingReadings files={waiting} />}
        <ReceiptList receipts={receipts} />
        {pending !== undefined && document !== undefined ? (
          <SheetForm key={pending.name + pending.text} sheet={pending} wing={document.wing} />
        ) : null}
        {kept ? null : (
          <p className={styles.warning} role="alert">
            This browser has no room to keep these files: after a reload they must be chosen again.
          </p>
        )}
      </section>

      {document === undefined ? null : (
        <section className={styles.block} aria-labelledby="present">
          <h2 id="present">On the screen: {wingTitle(document.wing)}</h2>
          <dl className={styles.present}>
            {identityFacts(document.wing, document.check, analysis).map((fact) => (
              <div key={fact.label}>
                <dt>{fact.label}</dt>
                <dd>{fact.value}</dd>
              </div>
            ))}
            {document.after === undefined ? null : (
              <div>
                <dt>After the work</dt>
                <dd>
                  {dateText(document.after.date)}, {counted(document.after.readings.length, "reading")}
                </dd>
              </div>
            )}
          </dl>
          {document.wing.note === undefined ? null : <p>{document.wing.note}</p>}
          {document.check?.note === undefined ? null : <p>{document.check.note}</p>}
          {document.after?.note === undefined ? null : <p>{document.after.note}</p>}
        </section>
      )}

      <section className={styles.block} aria-labelledby="take">
        <h2 id="take">Take along</h2>
        <ul className={styles.takes}>
          {document === undefined ? null : (
            <>
              <Take
                text={`Empty sheet for readings of ${document.wing.name} (CSV)`}
                onTake={() =>
                  offerFile(`readings ${document.wing.name}.csv`, readingsTemplate(document.wing), "text/csv")
                }
              />
              <Take
                text={`Plan of ${document.wing.name} (JSON)`}
                onTake={() =>
                  offerFile(document.files.plan.name, document.files.plan.text, "application/json")
                }
              />
              {document.files.readings === undefined ? null : (
                <Take
                  text={`Readings on the screen (${counted(document.check?.readings.length ?? 0, "reading")})`}
                  onTake={() =>
                    offerFile(
                      document.files.readings?.name ?? "readings",
                      document.files.readings?.text ?? "",
                      "text/plain",
                    )
                  }
                />
              )}
              <TakeAfter document={document} />
              <TakeBook document={document} />
            </>
          )}
        </ul>
      </section>

      <section className={styles.block} aria-labelledby="invented">
        <h2 id="invented">Invented wings to try</h2>
        <ul className={styles.takes}>
          {BUILT_IN.map((id) => (
            <BuiltIn key={id} id={id} verb={document?.source === "own" ? "Back to" : "Open"} />
          ))}
        </ul>
      </section>

      <section className={styles.block} aria-labelledby="limits">
        <h2 id="limits">What this does not know</h2>
        <Unknowns />
        <CautionText />
      </section>
    </div>
  );
}

function TakeAfter({ document: { after, files } }: { readonly document: Document }) {
  const file = files.after;
  if (after === undefined || file === undefined) return null;
  return (
    <Take
      text={`Readings after the work (${counted(after.readings.length, "reading")})`}
      onTake={() => offerFile(file.name, file.text, "text/plain")}
    />
  );
}

/** Nothing to take where the bench has kept nothing yet. */
function TakeBook({ document: { book, files, wing } }: { readonly document: Document }) {
  if (files.book === undefined) return null;
  return (
    <Take
      text={`The bench’s book of loops of ${wing.name} (JSON)`}
      onTake={() => offerFile(files.book?.name ?? "loops.json", writeBook(book), "application/json")}
    />
  );
}

function Take({ text, onTake }: { readonly text: string; readonly onTake: () => void }) {
  return (
    <li>
      <button type="button" className={styles.textButton} onClick={onTake}>
        {text}
      </button>
    </li>
  );
}

function BuiltIn({ id, verb }: { readonly id: (typeof BUILT_IN)[number]; readonly verb: string }) {
  const openWing = useApp((state) => state.openWing);
  const files = useMemo(() => builtInFiles(id), [id]);
  return (
    <li>
      <button type="button" className={styles.textButton} data-open={id} onClick={() => openWing(id)}>
        {verb} {builtInName(id)}
      </button>
      {files.map(({ name, text }) => (
        <button
          key={name}
          type="button"
          className={styles.textButton}
          onClick={() => offerFile(name, text, name.endsWith(".csv") ? "text/csv" : "application/json")}
        >
          {name}
        </button>
      ))}
    </li>
  );
}
