/** Bringing a check after the work: by file, by drop, by pasting; and the word on what readings are that were brought. */
import { type DragEvent, useState } from "react";
import { dateText } from "../model/format.ts";
import panes from "../panes/Panes.module.css";
import { SheetForm } from "../panes/SheetForm.tsx";
import { PasteText } from "../parts/PasteText.tsx";
import { useApp } from "../state/app.ts";
import type { KeptFile } from "../state/keep.ts";
import { settleWaiting } from "../state/recheck.ts";
import styles from "./Recheck.module.css";

async function textsOf(files: Iterable<File>): Promise<readonly KeptFile[]> {
  return Promise.all([...files].map(async (file) => ({ name: file.name, text: await file.text() })));
}

/** A field that takes the check after the work. */
export function BringAfter() {
  const bring = useApp((state) => state.bring);
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
      void textsOf(event.dataTransfer.files).then((files) => bring(files, "after"));
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
          accept=".json,.csv,.txt,application/json,text/csv,text/plain"
          data-input="after"
          onChange={async (event) => {
            const input = event.currentTarget;
            const files = await textsOf(input.files ?? []);
            input.value = "";
            bring(files, "after");
          }}
        />
        <span className={panes.button}>Choose the check after the work</span>
      </label>
      <p>or drop it here: a check as JSON, or a sheet of readings as CSV.</p>
      <PasteText
        label="Check after the work as JSON, or its readings as CSV"
        onText={(text) => bring([{ name: "pasted text", text }], "after")}
      />
      {pending?.as === "after" && document !== undefined ? (
        <SheetForm key={pending.name + pending.text} sheet={pending} wing={document.wing} />
      ) : null}
    </div>
  );
}

/** Readings were brought where there are readings: what are they? */
export function WaitingReadings({ files }: { readonly files: readonly KeptFile[] }) {
  const document = useApp((state) => state.document);
  const names = files.map(({ name }) => name).join(", ");
  return (
    <section className={panes.sheet} aria-label={`What ${names} is`} data-waiting>
      <h3>What is {names}?</h3>
      <p>
        Readings
        {document?.check === undefined ? "" : ` of ${dateText(document.check.date)}`} are on the screen.
        {document?.after === undefined
          ? ""
          : ` A check after the work, of ${dateText(document.after.date)}, is there too and would give way to another.`}
      </p>
      <div className={panes.actions}>
        <button type="button" className={panes.button} onClick={() => settleWaiting("after")}>
          These are readings after the work
        </button>
        <button type="button" className={panes.button} onClick={() => settleWaiting("before")}>
          Put them in place of those there
        </button>
        <button type="button" className={panes.textButton} onClick={() => settleWaiting(undefined)}>
          Leave it
        </button>
      </div>
    </section>
  );
}
