/** Bringing a check after the work: by file, by drop, by pasting; and the word on what readings are that were brought. */
import { type DragEvent, useState } from "react";
import { longDate, say } from "../../words/index.ts";
import { TableForm } from "../intake/TableForm.tsx";
import { ACCEPTED } from "../model/intake-files.ts";
import panes from "../panes/Panes.module.css";
import { PasteText } from "../parts/PasteText.tsx";
import { useApp } from "../state/app.ts";
import { bringFiles, bringText } from "../state/bring-files.ts";
import type { KeptFile } from "../state/keep.ts";
import { settleWaiting } from "../state/recheck.ts";
import styles from "./Recheck.module.css";

/** A field that takes the check after the work. */
export function BringAfter() {
  const pending = useApp((state) => state.pendingSheet);
  const document = useApp((state) => state.document);
  const [over, setOver] = useState(false);

  const drop = {
    onDragOver: (event: DragEvent) => {
      if (!event.dataTransfer.types.includes("Files")) return;
      event.preventDefault();
      setOver(true);
    },
    onDragLeave: (event: DragEvent) => {
      if (!event.currentTarget.contains(event.relatedTarget as Node | null)) setOver(false);
    },
    onDrop: (event: DragEvent) => {
      event.preventDefault();
      // Dropped here they come after the work; the page would take them to begin from.
      event.stopPropagation();
      setOver(false);
      // The page shows that something is held over it until it leaves.
      event.currentTarget.dispatchEvent(new globalThis.DragEvent("dragleave", { bubbles: true }));
      void bringFiles([...event.dataTransfer.files], "after");
    },
  };

  return (
    <div
      className={`${styles.bring} ${styles.screenOnly}`}
      data-drop="after"
      data-over={over || undefined}
      {...drop}
    >
      <label className={panes.fileButton}>
        <input
          type="file"
          accept={ACCEPTED}
          data-input="after"
          onChange={(event) => {
            const input = event.currentTarget;
            const files = [...(input.files ?? [])];
            input.value = "";
            void bringFiles(files, "after");
          }}
        />
        <span className={panes.button}>{say("intake.after.choose")}</span>
      </label>
      <p>{say("intake.after.drop")}</p>
      <PasteText label={say("intake.after.paste")} onText={(text) => bringText(text, "after")} />
      {pending?.as === "after" && document !== undefined ? (
        <TableForm key={pending.name} draft={pending} wing={document.wing} />
      ) : null}
    </div>
  );
}

/** Readings were brought where there are readings: what are they? */
export function WaitingReadings({ files }: { readonly files: readonly KeptFile[] }) {
  const document = useApp((state) => state.document);
  const names = files.map(({ name }) => name).join(", ");
  return (
    <section className={panes.sheet} aria-label={say("intake.waiting.title", { names })} data-waiting>
      <h3>{say("intake.waiting.title", { names })}</h3>
      <p>
        {say("intake.waiting.present", {
          has: document?.check === undefined ? "undated" : "dated",
          date: longDate(document?.check?.date ?? ""),
        })}
        {document?.after === undefined
          ? ""
          : ` ${say("intake.waiting.after", { date: longDate(document.after.date) })}`}
      </p>
      <div className={panes.actions}>
        <button type="button" className={panes.button} onClick={() => settleWaiting("after")}>
          {say("intake.waiting.isAfter")}
        </button>
        <button type="button" className={panes.button} onClick={() => settleWaiting("before")}>
          {say("intake.waiting.inPlace")}
        </button>
        <button type="button" className={panes.textButton} onClick={() => settleWaiting(undefined)}>
          {say("intake.leave")}
        </button>
      </div>
    </section>
  );
}
