/** The draft of a plan that is being typed, with the table of lengths beside it; kept at each change, each step taken back. */
import { createStore, type StoreApi } from "zustand/vanilla";
import type { TableSettings } from "../model/build-table.ts";
import type { Shelf } from "./keep.ts";

/** A text with where the caret stands in it. */
export interface Version {
  readonly text: string;
  readonly caret: number;
}

/** A table of lengths that waits to be taken. */
export interface WaitingTable {
  readonly name: string;
  readonly cells: readonly (readonly string[])[];
  readonly settings: TableSettings;
}

export interface BuildState extends Version {
  readonly past: readonly Version[];
  readonly future: readonly Version[];
  readonly table: WaitingTable | undefined;
  /** Line of the draft that was picked in a diagram; undefined where the caret says what stands out. */
  readonly picked: string | undefined;
  /** Counted up when the caret is to be set anew; `focus` where the text is to be typed on at once. */
  readonly caretRequest: { readonly count: number; readonly focus: boolean; readonly length: number };
  /** False once the browser has refused to keep the draft. */
  readonly kept: boolean;
  /** What was typed in the text itself: keys that follow each other become one step. */
  readonly type: (text: string, caret: number) => void;
  /** A change made elsewhere, by a field or a button. @param of changes of the same field become one step */
  readonly write: (text: string, of: string, caret?: number) => void;
  readonly moveCaret: (caret: number) => void;
  /** Shows a place in the text. @param picked a line of the draft that it is shown for */
  readonly show: (caret: number, wish?: { focus?: boolean; length?: number; picked?: string }) => void;
  readonly undo: () => void;
  readonly redo: () => void;
  readonly setTable: (table: WaitingTable | undefined) => void;
}

export type BuildStore = StoreApi<BuildState>;

const PLACE = "linewright.draft";
/** Keys that follow each other within this time are one step back [ms]. */
const ONE_STEP_MS = 900;
const MOST_STEPS = 300;

interface Kept {
  readonly text: string;
  readonly table?: WaitingTable;
}

function keptDraft(shelf: Shelf | undefined): Kept | undefined {
  try {
    const kept = JSON.parse(shelf?.getItem(PLACE) ?? "null") as Partial<Kept> | null;
    if (typeof kept?.text !== "string") return undefined;
    const { table } = kept;
    const sound =
      Array.isArray(table?.cells) &&
      table.cells.every((row) => Array.isArray(row) && row.every((cell) => typeof cell === "string"));
    return { text: kept.text, ...(sound && table !== undefined ? { table } : {}) };
  } catch {
    return undefined;
  }
}

export function createBuildStore(shelf: Shelf | undefined, nowMs: () => number = Date.now): BuildStore {
  const kept = keptDraft(shelf);
  /** The last step's kind and time, so that further keys join it. */
  let last = { of: "", at: Number.NEGATIVE_INFINITY };
  return createStore<BuildState>()((set, get) => {
    const keep = (): void => {
      const { text, table } = get();
      try {
        if (shelf === undefined) throw new Error("no shelf");
        if (text === "" && table === undefined) shelf.removeItem(PLACE);
        else shelf.setItem(PLACE, JSON.stringify({ text, table } satisfies { text: string; table: unknown }));
        if (!get().kept) set({ kept: true });
      } catch {
        if (get().kept) set({ kept: false });
      }
    };
    const change = (text: string, caret: number, of: string): void => {
      const before = get();
      if (text === before.text) {
        if (caret !== before.caret) set({ caret });
        return;
      }
      const now = nowMs();
      const joins = of === last.of && now - last.at < ONE_STEP_MS && before.past.length > 0;
      last = { of, at: now };
      set({
        text,
        caret,
        picked: undefined,
        past: joins
          ? before.past
          : [...before.past, { text: before.text, caret: before.caret }].slice(-MOST_STEPS),
        future: [],
      });
      keep();
    };
    const step = (from: "past" | "future", to: "past" | "future"): void => {
      const state = get();
      const version = state[from].at(-1);
      if (version === undefined) return;
      last = { of: "", at: Number.NEGATIVE_INFINITY };
      set({
        ...version,
        picked: undefined,
        [from]: state[from].slice(0, -1),
        [to]: [...state[to], { text: state.text, caret: state.caret }],
        caretRequest: { count: state.caretRequest.count + 1, focus: false, length: 0 },
      });
      keep();
    };
    return {
      text: kept?.text ?? "",
      caret: 0,
      past: [],
      future: [],
      table: kept?.table,
      picked: undefined,
      caretRequest: { count: 0, focus: false, length: 0 },
      kept: true,
      type: (text, caret) => change(text, caret, "typing"),
      write: (text, of, caret) => change(text, Math.min(caret ?? get().caret, text.length), of),
      moveCaret: (caret) => {
        if (caret === get().caret) return;
        last = { of: "", at: Number.NEGATIVE_INFINITY };
        set({ caret, picked: undefined });
      },
      show: (caret, { focus = false, length = 0, picked } = {}) =>
        set({ caret, picked, caretRequest: { count: get().caretRequest.count + 1, focus, length } }),
      undo: () => step("past", "future"),
      redo: () => step("future", "past"),
      setTable: (table) => {
        set({ table });
        keep();
      },
    };
  });
}
