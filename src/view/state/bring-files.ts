/**
 * Whatever the user brings, from files, from a drop or from the clipboard, on its way to the store: bytes become texts or
 * tables, and what can't be read is said under its own name.
 */
import { useEffect } from "react";
import type { Problem } from "../../plan/model.ts";
import { type CellTable, sheetCells } from "../../readings/tables/cells.ts";
import { pastedCells } from "../../readings/tables/text-cells.ts";
import { fixed, type Key, say } from "../../words/index.ts";
import { looksLikeTable, type ReadingsAs, type TableDraft } from "../model/intake-draft.ts";
import {
  type FileKind,
  kindOfBytes,
  lineCount,
  MOST_BYTES,
  MOST_COLUMNS,
  MOST_ROWS,
  MOST_UNPACKED_BYTES,
  textOfBytes,
  unpackedBytes,
} from "../model/intake-files.ts";
import { app } from "./app.ts";
import type { Receipt } from "./document.ts";
import { type BroughtFile, recognise } from "./intake.ts";
import { bringAsking } from "./recheck.ts";

type Opened =
  | { readonly file: BroughtFile; readonly receipt?: Receipt | undefined }
  | { readonly file: undefined; readonly receipt: Receipt };

/**
 * Brings files; those that can't be read leave all as it was, with a message each.
 *
 * @param as what readings among them are; undefined: it is asked
 */
export async function bringFiles(files: readonly File[], as?: ReadingsAs): Promise<void> {
  const opened = await Promise.all(files.map(openFile));
  take(opened, as);
}

/** Brings a text that was typed or pasted into a field. */
export function bringText(text: string, as?: ReadingsAs): void {
  take([ofText(say("intake.pasted"), text, "paste")], as);
}

/** Brings what is on the clipboard: its files, else its table or text. @returns false where there is nothing of that */
export function bringClipboard(data: DataTransfer): boolean {
  const files = [...data.files];
  const plain = data.getData("text/plain");
  // A spreadsheet puts a picture of the cells beside them.
  if (plain.trim() === "" && files.length > 0) {
    void bringFiles(files);
    return true;
  }
  const drawn = plain.includes("\t") || recognise(plain) !== "sheet" ? undefined : drawnTable(data);
  if (drawn === undefined && plain.trim() === "") return false;
  const name = say("intake.pasted");
  take([drawn === undefined ? ofText(name, plain, "paste") : ofTables(name, [drawn])], undefined);
  return true;
}

/** What takes a paste itself. */
const TEXT_FIELD =
  "textarea, input:not([type=radio], [type=checkbox], [type=range], [type=file], [type=button])";

/** Brings what is pasted anywhere on the page but in a field for text. */
export function usePastedTables(): void {
  useEffect(() => {
    const listen = (event: ClipboardEvent): void => {
      const { target, clipboardData } = event;
      const isField =
        target instanceof HTMLElement && (target.isContentEditable || target.matches(TEXT_FIELD));
      if (event.defaultPrevented || isField || clipboardData === null) return;
      if (document.querySelector("dialog[open]") !== null) return;
      if (bringClipboard(clipboardData)) event.preventDefault();
    };
    window.addEventListener("paste", listen);
    return () => window.removeEventListener("paste", listen);
  }, []);
}

/** Changes what is said of the table that waits. */
export function changeDraft(change: (draft: TableDraft) => TableDraft): void {
  const { pendingSheet } = app.getState();
  if (pendingSheet !== undefined) app.setState({ pendingSheet: change(pendingSheet) });
}

function take(opened: readonly Opened[], as: ReadingsAs | undefined): void {
  const files = opened.flatMap(({ file }) => file ?? []);
  const receipts = opened.flatMap(({ receipt }) => receipt ?? []);
  if (as === undefined) {
    if (files.length > 0) bringAsking(files);
  } else if (files.length > 0) app.getState().bring(files, as);
  if (receipts.length === 0) return;
  const { receipts: others, choices } = app.getState();
  app.setState({
    receipts: [...receipts, ...(files.length > 0 ? others : [])].slice(0, 8),
    choices: { ...choices, pane: "files" },
  });
}

const refused = (file: string, text: string, problems: readonly Problem[] = []): Opened => ({
  file: undefined,
  receipt: { file, outcome: "not taken", text, problems },
});

const megabytes = (bytes: number): string => fixed(bytes / 1e6, 1);

const UNREADABLE: Readonly<Record<Exclude<FileKind, "text" | "workbook">, Key>> = {
  "open document": "intake.kind.openDocument",
  "old workbook": "intake.kind.oldWorkbook",
  pdf: "intake.kind.pdf",
  picture: "intake.kind.picture",
  unknown: "intake.kind.unknown",
};

async function openFile(file: File): Promise<Opened> {
  const { name, size } = file;
  if (size > MOST_BYTES)
    return refused(name, say("intake.tooLarge", { found: megabytes(size), most: megabytes(MOST_BYTES) }));
  let bytes: Uint8Array;
  try {
    bytes = new Uint8Array(await file.arrayBuffer());
  } catch {
    // A folder, or a file that has gone since.
    return refused(name, say("intake.notReadable"));
  }
  const kind = kindOfBytes(bytes);
  if (kind === "text") return ofText(name, textOfBytes(bytes), "file");
  if (kind !== "workbook") return refused(name, say(UNREADABLE[kind]));
  const unpacked = unpackedBytes(bytes);
  if (unpacked !== undefined && unpacked > MOST_UNPACKED_BYTES)
    return refused(
      name,
      say("intake.tooLargeUnpacked", { found: megabytes(unpacked), most: megabytes(MOST_UNPACKED_BYTES) }),
    );
  // The reader comes with the first workbook.
  const { readXlsx } = await import("../../readings/tables/xlsx.ts");
  const read = await readXlsx(bytes);
  if (!read.ok) return refused(name, say("intake.workbook.unreadable"), read.problems);
  const filled = read.value.filter((table) => table.rows.some((row) => row.some((cell) => cell !== null)));
  return filled.length === 0 ? refused(name, say("intake.workbook.empty")) : ofTables(name, filled);
}

function ofText(name: string, text: string, from: "file" | "paste"): Opened {
  const kind = recognise(text);
  if (kind !== "sheet") return { file: { name, text } };
  const rows = lineCount(text);
  if (rows > MOST_ROWS) return refused(name, say("intake.tooManyRows", { found: rows, most: MOST_ROWS }));
  const tables = from === "paste" ? [pastedCells(text)] : undefined;
  const file: BroughtFile = { name, text: tables === undefined ? text : "", tables };
  const [table] = tables ?? [];
  if (table !== undefined && !looksLikeTable(table)) return refused(name, say("intake.noTable"));
  return { file };
}

/** Sheets beyond what a wing's table can be are left out, and said. */
function ofTables(name: string, tables: readonly CellTable[]): Opened {
  const fits = ({ rows }: CellTable): boolean =>
    rows.length <= MOST_ROWS && rows.every((row) => row.length <= MOST_COLUMNS);
  const fitting = tables.filter(fits);
  const largest = tables.reduce((most, { rows }) => Math.max(most, rows.length), 0);
  const text = say("intake.tooManyRows", { found: largest, most: MOST_ROWS });
  if (fitting.length === 0) return refused(name, text);
  const file: BroughtFile = { name, text: "", tables: fitting };
  return fitting.length === tables.length ? { file } : { ...refused(name, text), file };
}

/** The first table of a page that was copied as such, spans filled with empty cells. */
function drawnTable(data: DataTransfer): CellTable | undefined {
  const html = data.getData("text/html");
  if (html === "" || html.length > MOST_BYTES) return undefined;
  const table = new DOMParser().parseFromString(html, "text/html").querySelector("table");
  if (table === null) return undefined;
  const grid: (string | null)[][] = [];
  for (const [at, row] of [...table.rows].slice(0, MOST_ROWS + 1).entries()) {
    grid[at] ??= [];
    for (const cell of row.cells) {
      const line = grid[at];
      let column = 0;
      while (line[column] !== undefined) column += 1;
      const down = Math.min(cell.rowSpan || 1, table.rows.length - at);
      for (let below = 0; below < down; below++)
        for (let beside = 0; beside < Math.min(cell.colSpan || 1, MOST_COLUMNS); beside++) {
          grid[at + below] ??= [];
          const there = grid[at + below];
          if (there !== undefined)
            there[column + beside] = below + beside === 0 ? (cell.textContent ?? "").trim() : "";
        }
    }
  }
  return { ...sheetCells("", grid), source: { kind: "pasted" } };
}
