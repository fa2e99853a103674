/** This page's editor of plans, and hooks on it. */
import { useEffect, useMemo, useRef, useState } from "react";
import { useStore } from "zustand";
import { originsOf } from "../../../plan/edit-diff.ts";
import { type EditHalf, type EditList, listPath } from "../../../plan/edit-plan.ts";
import { listAt } from "../../../plan/edit-steps.ts";
import { parsePlan } from "../../../plan/index.ts";
import type { Problem, Wing } from "../../../plan/model.ts";
import { byCell, type PlacedProblem, placed } from "../../model/edit-problems.ts";
import { app, shelf } from "../../state/app.ts";
import { createEditStore, type EditState, planWithTyping } from "../../state/edit.ts";

export const editor = createEditStore(shelf);
globalThis.addEventListener?.("pagehide", () => editor.getState().keep());

export function useEditor<T>(select: (state: EditState) => T): T {
  return useStore(editor, select);
}

/** What is the matter with the plan as it is being typed. */
export interface Checked {
  readonly problems: readonly PlacedProblem[];
  readonly marks: ReadonlyMap<string, readonly Problem[]>;
  readonly errors: number;
  readonly warnings: number;
  /** Undefined where it isn't sound. */
  readonly wing: Wing | undefined;
  /** How long reading it took [ms]. */
  readonly tookMs: number;
}

function check(plan: unknown): Checked {
  const began = performance.now();
  const parsed = parsePlan(plan);
  const problems = placed(parsed.problems);
  const errors = parsed.problems.filter(({ severity }) => severity === "error").length;
  return {
    problems,
    marks: byCell(problems),
    errors,
    warnings: parsed.problems.length - errors,
    wing: parsed.ok ? parsed.value : undefined,
    tookMs: performance.now() - began,
  };
}

/** After the last key: a key's own picture comes first, the plan as a whole takes more than a frame. */
const AFTER_A_KEY_MS = 60;

/** The plan as it is being typed, read as a whole after each change. @returns undefined until it was read first */
export function useChecked(): { readonly checked: Checked; readonly current: boolean } | undefined {
  const plan = useEditor((state) => state.plan);
  const typing = useEditor((state) => state.typing);
  const withTwin = useEditor((state) => state.withTwin);
  const [checked, setChecked] = useState<{ of: unknown; typed: unknown; checked: Checked }>();
  useEffect(() => {
    if (plan === undefined) return;
    const timer = setTimeout(
      () =>
        setChecked({ of: plan, typed: typing, checked: check(planWithTyping({ plan, typing, withTwin })) }),
      typing === undefined ? 0 : AFTER_A_KEY_MS,
    );
    return () => clearTimeout(timer);
  }, [plan, typing, withTwin]);
  return useMemo(
    () =>
      checked === undefined
        ? undefined
        : { checked: checked.checked, current: checked.of === plan && checked.typed === typing },
    [checked, plan, typing],
  );
}

/** What each line of a half is called in the plan on the screen, in the list's order; and the same of tabs. */
export function useOrigins(): (list: EditList, half: EditHalf) => readonly (string | undefined)[] {
  const base = useEditor((state) => state.base);
  const past = useEditor((state) => state.past);
  return useMemo(() => originsOf(base, past.flat()), [base, past]);
}

/** Picks the line of a row of the lines or the tabs, where the plan on the screen has it; picking it again leaves it picked. */
export function pickRow(
  list: EditList,
  half: EditHalf,
  row: number,
  lineOrigins: readonly (string | undefined)[],
): void {
  const { document, choices, choose } = app.getState();
  const { plan } = editor.getState();
  const lines = listAt(plan, listPath("lines", half));
  const place =
    list === "lines"
      ? row
      : list === "tabs"
        ? lines.findIndex(({ id }) => id === listAt(plan, listPath("tabs", half))[row]?.line)
        : -1;
  const id = lineOrigins[place];
  if (id === undefined || document === undefined) return;
  const before = choices.picked.kind === "line" ? choices.picked.key : "";
  const side = half === "mirrored" ? (before.startsWith("right:") ? "right" : "left") : half;
  const key = `${side}:${id}`;
  if (key === before || !document.wing.lines.some((line) => line.key === key)) return;
  choose({ picked: { kind: "line", key } });
}

/** Ctrl or Cmd with Z and Y goes to the edit while it is open and has something to take back or do again. */
export function useEditUndo(root: React.RefObject<HTMLElement | null>): void {
  const inside = useRef(root);
  useEffect(() => {
    const listen = (event: KeyboardEvent): void => {
      if (event.altKey || !(event.ctrlKey || event.metaKey)) return;
      const key = event.key.toLowerCase();
      if (key !== "z" && key !== "y") return;
      const { target } = event;
      const elsewhere =
        target instanceof HTMLElement &&
        /^(INPUT|TEXTAREA)$/.test(target.tagName) &&
        !inside.current.current?.contains(target);
      if (elsewhere) return;
      const { past, future, typing, undo, redo } = editor.getState();
      const again = key === "y" || event.shiftKey;
      if (again ? future.length === 0 : past.length === 0 && typing === undefined) return;
      event.preventDefault();
      event.stopPropagation();
      if (again) redo();
      else undo();
    };
    window.addEventListener("keydown", listen, { capture: true });
    return () => window.removeEventListener("keydown", listen, { capture: true });
  }, []);
}
