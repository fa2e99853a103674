/** Bringing a plan or readings, what became of them, and what can be taken along. */
import { useEffect, useMemo, useState } from "react";
import { longDate, say } from "../../words/index.ts";
import { writeBook } from "../../workshop/index.ts";
import { TableForm } from "../intake/TableForm.tsx";
import { identityFacts, wingTitle } from "../model/identity.ts";
import { ACCEPTED } from "../model/intake-files.ts";
import { readingsTemplate } from "../model/template.ts";
import { offerFile } from "../parts/hooks.ts";
import { PasteText } from "../parts/PasteText.tsx";
import { useAnalysis, useApp } from "../state/app.ts";
import { bringFiles, bringText } from "../state/bring-files.ts";
import { builtInFiles, builtInName } from "../state/core.ts";
import type { Document } from "../state/document.ts";
import { useWaiting } from "../state/recheck.ts";
import { useScaleOf } from "../state/scale.ts";
import { WaitingReadings } from "../workshop/RecheckBring.tsx";
import { CautionText, Unknowns } from "./Caution.tsx";
import styles from "./Panes.module.css";
import { ReceiptList } from "./ReceiptList.tsx";

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
        <h2 id="bring">{say("intake.bring.title")}</h2>
        <p>{say("intake.bring.text")}</p>
        <label className={styles.fileButton}>
          <input
            type="file"
            multiple
            accept={ACCEPTED}
            data-input="files"
            onChange={(event) => {
              const input = event.currentTarget;
              const files = [...(input.files ?? [])];
              input.value = "";
              void bringFiles(files);
            }}
          />
          <span className={styles.button}>{say("intake.bring.choose")}</span>
        </label>
        <PasteText label={say("intake.paste.label")} onText={(text) => bringText(text)} />
        {waiting === undefined ? null : <WaitingReadings files={waiting} />}
        <ReceiptList receipts={receipts} />
        {pending !== undefined && document !== undefined ? (
          <TableForm key={pending.name} draft={pending} wing={document.wing} />
        ) : null}
        {kept ? null : (
          <p className={styles.warning} role="alert">
            {say("intake.notKept")}
          </p>
        )}
      </section>

      {document === undefined ? null : (
        <section className={styles.block} aria-labelledby="present">
          <h2 id="present">{say("intake.present.title", { wing: wingTitle(document.wing) })}</h2>
          <dl className={styles.present}>
            {identityFacts(document.wing, document.check, analysis).map((fact) => (
              <div key={fact.label}>
                <dt>{fact.label}</dt>
                <dd>{fact.value}</dd>
              </div>
            ))}
            {document.after === undefined ? null : (
              <div>
                <dt>{say("intake.present.after")}</dt>
                <dd>
                  {say("intake.present.afterOf", {
                    date: longDate(document.after.date),
                    count: document.after.readings.length,
                  })}
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
        <h2 id="take">{say("intake.take.title")}</h2>
        <ul className={styles.takes}>
          {document === undefined ? null : (
            <>
              <Take
                text={say("intake.take.template", { wing: document.wing.name })}
                onTake={() =>
                  offerFile(`readings ${document.wing.name}.csv`, readingsTemplate(document.wing), "text/csv")
                }
              />
              <Take
                text={say("intake.take.plan", { wing: document.wing.name })}
                onTake={() =>
                  offerFile(document.files.plan.name, document.files.plan.text, "application/json")
                }
              />
              {document.files.readings === undefined ? null : (
                <Take
                  text={say("intake.take.readings", { count: document.check?.readings.length ?? 0 })}
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
              <TakeAll />
            </>
          )}
        </ul>
      </section>

      <section className={styles.block} aria-labelledby="invented">
        <h2 id="invented">{say("intake.invented.title")}</h2>
        <ul className={styles.takes}>
          {BUILT_IN.map((id) => (
            <BuiltIn key={id} id={id} isBack={document?.source === "own"} />
          ))}
        </ul>
      </section>

      <section className={styles.block} aria-labelledby="limits">
        <h2 id="limits">{say("intake.limits.title")}</h2>
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
      text={say("intake.take.after", { count: after.readings.length })}
      onTake={() => offerFile(file.name, file.text, "text/plain")}
    />
  );
}

/** Nothing to take where the bench has kept nothing yet. */
function TakeBook({ document: { book, files, wing } }: { readonly document: Document }) {
  if (files.book === undefined) return null;
  return (
    <Take
      text={say("intake.take.book", { wing: wing.name })}
      onTake={() => offerFile(files.book?.name ?? "loops.json", writeBook(book), "application/json")}
    />
  );
}

/** Tables, charts, the wing in 3D, plan and readings, as one archive. */
function TakeAll() {
  const exportAll = useApp((state) => state.exportAll);
  const work = useApp((state) => state.work);
  const { scale } = useScaleOf("path");
  const [state, setState] = useState<{ readonly working: boolean; readonly fault?: string }>({
    working: false,
  });
  // A new calculation ends what was being made of the one before.
  // biome-ignore lint/correctness/useExhaustiveDependencies: whatever the new calculation is
  useEffect(() => setState({ working: false }), [work]);
  return (
    <li>
      <button
        type="button"
        className={styles.textButton}
        data-take="all"
        disabled={work.state !== "ready" || state.working}
        onClick={() => {
          setState({ working: true });
          exportAll(scale, {
            onExported: (name, bytes) => {
              setState({ working: false });
              offerFile(name, new Uint8Array(bytes), "application/zip");
            },
            onUnexported: (fault) => setState({ working: false, fault }),
          });
        }}
      >
        {say(state.working ? "intake.take.all.working" : "intake.take.all")}
      </button>
      <p>{say("intake.take.all.holds")}</p>
      {state.fault === undefined ? null : (
        <p className={styles.warning} role="alert">
          {say("intake.take.all.fault", { fault: state.fault })}
        </p>
      )}
    </li>
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

function BuiltIn({ id, isBack }: { readonly id: (typeof BUILT_IN)[number]; readonly isBack: boolean }) {
  const openWing = useApp((state) => state.openWing);
  const files = useMemo(() => builtInFiles(id), [id]);
  return (
    <li>
      <button type="button" className={styles.textButton} data-open={id} onClick={() => openWing(id)}>
        {say("intake.invented.open", { way: isBack ? "back" : "open", wing: builtInName(id) })}
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
