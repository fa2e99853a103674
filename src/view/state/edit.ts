/**
 * A plan that is being edited: what was typed as steps on the version before, so that each can be taken back and a reload
 * loses nothing. A version is a plan as it was opened or last used.
 */
import { createStore, type StoreApi } from "zustand/vanilla";
import { type EditHalf, halvesOf, withoutCarries } from "../../plan/edit-plan.ts";
import { type EditOp, inverted, withOps } from "../../plan/edit-steps.ts";
import { type GridId, shownHalf, type TableId } from "../model/edit-columns.ts";
import { type Cell, typedOps } from "../model/edit-tables.ts";
import type { WingId } from "./choices.ts";
import type { Shelf } from "./keep.ts";

export type EditStep = readonly EditOp[];

/** A cell with what is being typed into it: not a step yet, but not to be lost either. */
export interface Typing {
  readonly cell: Pick<Cell, "path" | "at" | "kind" | "vocabulary">;
  readonly text: string;
}

export interface ActiveCell {
  readonly grid: GridId;
  readonly row: number;
  readonly col: number;
}

export interface EditState {
  /** Whose plan it is; undefined until one is opened. */
  readonly of: WingId | undefined;
  /** Text of the plan that the edit began from. */
  readonly from: string;
  readonly base: unknown;
  readonly plan: unknown;
  /** Steps done and steps that were taken back, nearest last. */
  readonly past: readonly EditStep[];
  readonly future: readonly EditStep[];
  readonly typing: Typing | undefined;
  readonly table: TableId;
  readonly half: EditHalf;
  readonly active: ActiveCell | undefined;
  /** Counted up when the active cell is to have the focus. */
  readonly focusRequest: number;
  /** Whether what is typed goes for the other side too, where the plan spells out both. */
  readonly withTwin: boolean;
  /** False once the browser has refused to keep the edit. */
  readonly kept: boolean;
  /** Opens a plan; an edit of it that was kept goes on. */
  readonly open: (of: WingId, text: string) => void;
  /** Kept a moment after the last key. */
  readonly type: (cell: Typing["cell"], text: string) => void;
  /** Keeps all of it now: the page is about to go. */
  readonly keep: () => void;
  /** What is being typed becomes a step. */
  readonly settle: () => void;
  /** What is being typed is let go. */
  readonly unsettle: () => void;
  readonly step: (ops: EditStep) => void;
  readonly undo: () => void;
  readonly redo: () => void;
  /** Lets go of all edits and begins with a plan as it is. */
  readonly begin: (of: WingId, text: string) => void;
  readonly activate: (active: ActiveCell | undefined, focus?: boolean) => void;
  readonly show: (change: Partial<Pick<EditState, "table" | "half" | "withTwin">>) => void;
}

export type EditStore = StoreApi<EditState>;

interface Kept {
  readonly from: string;
  readonly past: readonly EditStep[];
  readonly future: readonly EditStep[];
  readonly typing?: Typing;
}

const AFTER_THE_LAST_KEY_MS = 250;

const placeOf = (of: WingId): string => `linewright.edit.${of}`;

function keptEdit(shelf: Shelf | undefined, of: WingId): Kept | undefined {
  try {
    const kept = JSON.parse(shelf?.getItem(placeOf(of)) ?? "null") as Partial<Kept> | null;
    return typeof kept?.from === "string" && Array.isArray(kept.past) && Array.isArray(kept.future)
      ? (kept as Kept)
      : undefined;
  } catch {
    return undefined;
  }
}

/** @returns false where the browser refused */
function keepEdit(shelf: Shelf | undefined, { of, from, past, future, typing }: EditState): boolean {
  if (of === undefined) return true;
  try {
    if (shelf === undefined) return past.length === 0 && typing === undefined;
    if (past.length === 0 && future.length === 0 && typing === undefined) shelf.removeItem(placeOf(of));
    else shelf.setItem(placeOf(of), JSON.stringify({ from, past, future, typing }));
    return true;
  } catch {
    return false;
  }
}

/** The plan with what is being typed in it. */
export function planWithTyping({
  plan,
  typing,
  withTwin,
}: Pick<EditState, "plan" | "typing" | "withTwin">): unknown {
  return typing === undefined ? plan : withOps(plan, typedOps(plan, typing.cell, typing.text, withTwin));
}

export function createEditStore(shelf: Shelf | undefined): EditStore {
  return createStore<EditState>()((set, get) => {
    let later: ReturnType<typeof setTimeout> | undefined;
    const change = (next: Partial<EditState>): void => {
      clearTimeout(later);
      set(next);
      const kept = keepEdit(shelf, get());
      if (kept !== get().kept) set({ kept });
    };
    const openWith = (of: WingId, text: string, kept: Kept | undefined): void => {
      const from = kept?.from ?? text;
      const base = withoutCarries(JSON.parse(from));
      const past = kept?.past ?? [];
      const plan = withOps(base, past.flat());
      set({
        of,
        from,
        base,
        plan,
        past,
        future: kept?.future ?? [],
        typing: undefined,
        active: undefined,
        half: shownHalf(halvesOf(plan), get().half),
      });
      if (kept?.typing !== undefined) {
        set({ typing: kept.typing });
        get().settle();
      }
    };
    const take = (plan: unknown, history: Pick<EditState, "past" | "future">): void =>
      change({ plan, ...history, typing: undefined, half: shownHalf(halvesOf(plan), get().half) });
    return {
      of: undefined,
      from: "",
      base: undefined,
      plan: undefined,
      past: [],
      future: [],
      typing: undefined,
      table: "lines",
      half: "mirrored",
      active: undefined,
      focusRequest: 0,
      withTwin: false,
      kept: true,
      open: (of, text) => {
        const { of: before, past, future, from } = get();
        if (before === of && (from === text || past.length > 0 || future.length > 0)) return;
        openWith(of, text, keptEdit(shelf, of));
      },
      begin: (of, text) => {
        const { of: before } = get();
        if (before !== undefined) shelf?.removeItem(placeOf(before));
        openWith(of, text, undefined);
        keepEdit(shelf, get());
      },
      type: (cell, text) => {
        set({ typing: { cell, text } });
        // Writing it all down takes longer than a key should.
        clearTimeout(later);
        later = setTimeout(() => get().keep(), AFTER_THE_LAST_KEY_MS);
      },
      keep: () => change({}),
      settle: () => {
        const { typing, plan, withTwin } = get();
        if (typing === undefined) return;
        const ops = typedOps(plan, typing.cell, typing.text, withTwin);
        if (ops.length === 0) change({ typing: undefined });
        else get().step(ops);
      },
      unsettle: () => change({ typing: undefined }),
      step: (ops) => {
        if (ops.length === 0) return;
        const { plan, past } = get();
        take(withOps(plan, ops), { past: [...past, ops], future: [] });
      },
      undo: () => {
        const { plan, past, future, typing } = get();
        const last = past.at(-1);
        if (typing !== undefined) change({ typing: undefined });
        else if (last !== undefined)
          take(withOps(plan, inverted(last)), { past: past.slice(0, -1), future: [...future, last] });
      },
      redo: () => {
        const { plan, past, future } = get();
        const next = future.at(-1);
        if (next !== undefined)
          take(withOps(plan, next), { past: [...past, next], future: future.slice(0, -1) });
      },
      activate: (active, focus = false) =>
        set({ active, focusRequest: get().focusRequest + (focus ? 1 : 0) }),
      show: (next) => set(next),
    };
  });
}
