/** Lengths from a spreadsheet, pasted or chosen; and how many tabs have theirs. */
import { memo, useEffect, useRef, useState } from "react";
import type { Draft } from "../../../plan/draft/index.ts";
import { say } from "../../../words/index.ts";
import { type Cells, cellsOf, sheetOf, unitOf } from "../../model/build-cells.ts";
import { coverageOf } from "../../model/build-lengths.ts";
import { kindOfBytes, textOfBytes } from "../../model/intake-files.ts";
import styles from "./Build.module.css";
import { builder, useBuilder } from "./builder.ts";
import { WaitingLengths } from "./WaitingLengths.tsx";

const MOST_ROWS = 400;
const MOST_COLUMNS = 40;

export const BuildLengths = memo(function BuildLengths({
  draft,
  onSaid,
}: {
  readonly draft: Draft;
  readonly onSaid: (text: string) => void;
}) {
  const table = useBuilder((state) => state.table);
  const [typed, setTyped] = useState("");
  const wait = (name: string, cells: Cells): void => {
    const rows = cells.length;
    const columns = Math.max(0, ...cells.map((row) => row.length));
    if (rows > MOST_ROWS || columns > MOST_COLUMNS) {
      onSaid(say("build.lengths.tooLarge", { rows: MOST_ROWS, columns: MOST_COLUMNS }));
      return;
    }
    setTyped("");
    onSaid("");
    builder.getState().setTable({ name, cells, settings: { of: "total", unit: unitOf(cells) } });
  };
  // A table pasted beside the fields is meant for here as well, while there is a draft to take its lengths.
  const take = useRef(wait);
  take.current = wait;
  const hasTabs = draft.tabs.length > 0;
  useEffect(() => {
    const listen = (event: ClipboardEvent): void => {
      const { target, clipboardData } = event;
      const pasted = clipboardData?.getData("text/plain") ?? "";
      const isField = target instanceof Element && target.closest("input, textarea, select") !== null;
      if (isField || !hasTabs || !pasted.includes("\t") || document.querySelector("dialog[open]") !== null)
        return;
      event.preventDefault();
      take.current(say("build.lengths.pasted"), cellsOf(pasted));
    };
    // Before the page's own listener, which takes tables for readings.
    window.addEventListener("paste", listen, { capture: true });
    return () => window.removeEventListener("paste", listen, { capture: true });
  }, [hasTabs]);
  const bring = async (file: File | undefined): Promise<void> => {
    if (file === undefined) return;
    const bytes = new Uint8Array(await file.arrayBuffer());
    const kind = kindOfBytes(bytes);
    if (kind === "text") return wait(file.name, cellsOf(textOfBytes(bytes)));
    const { readXlsx } = await import("../../../readings/tables/xlsx.ts");
    const read = kind === "workbook" ? await readXlsx(bytes) : undefined;
    const fullest = read?.ok ? sheetOf(read.value) : undefined;
    if (fullest === undefined) onSaid(say("build.lengths.unread", { name: file.name }));
    else wait(file.name, fullest);
  };
  return (
    <section className={styles.part} aria-label={say("build.lengths")} data-part="lengths">
      <h2>{say("build.lengths")}</h2>
      <ul className={styles.coverage} data-coverage>
        {coverageOf(draft).map(({ row, given, tabs }) => (
          <li key={row} data-row={row} data-full={given === tabs || undefined}>
            {say("build.lengths.row", { row, given, tabs })}
          </li>
        ))}
      </ul>
      {table === undefined ? (
        <>
          <p className={styles.lead}>{say("build.lengths.paste")}</p>
          <textarea
            className={styles.paste}
            rows={3}
            spellCheck={false}
            wrap="off"
            aria-label={say("build.lengths.pasteLabel")}
            placeholder={"\tA\tB\tC\n1\t7421\t7398\t7460\n2\t7418\t7395\t7458"}
            value={typed}
            data-field="lengths"
            onChange={(event) => setTyped(event.target.value)}
            onPaste={(event) => {
              const pasted = event.clipboardData.getData("text/plain");
              if (pasted.trim() === "" || typed.trim() !== "") return;
              event.preventDefault();
              wait(say("build.lengths.pasted"), cellsOf(pasted));
            }}
          />
          <div className={styles.buttons}>
            <button
              type="button"
              disabled={typed.trim() === ""}
              data-do="read-table"
              onClick={() => wait(say("build.lengths.pasted"), cellsOf(typed))}
            >
              {say("build.lengths.read")}
            </button>
            <label className={styles.fileButton}>
              <input
                type="file"
                accept=".csv,.tsv,.txt,.xlsx"
                data-input="lengths"
                onChange={(event) => {
                  void bring(event.target.files?.[0]);
                  event.target.value = "";
                }}
              />
              <span>{say("build.lengths.file")}</span>
            </label>
          </div>
        </>
      ) : (
        <WaitingLengths table={table} draft={draft} onSaid={onSaid} />
      )}
    </section>
  );
});
