/**
 * What was done, in its order: lengths and loops tried, readings put right, the bench's book written in. Each step can be
 * taken back and done again.
 */
import type { Suspicion } from "../../diagnosis/mistakes/index.ts";
import type { LoopBook } from "../../workshop/index.ts";
import type { TrialChange, Tried } from "./trials.ts";

/** What can be taken back and what can be done again, nearest last. */
export interface History {
  readonly past: readonly Step[];
  readonly future: readonly Step[];
}

export type Step = TrialStep | ReadingStep | BookStep;

interface TrialStep {
  readonly of: "trials";
  readonly change: TrialChange;
  readonly before: Tried;
  readonly after: Tried;
  readonly atMs: number;
}

/** Corrections in force before and after one was made or taken back. */
interface ReadingStep {
  readonly of: "readings";
  readonly before: readonly Suspicion[];
  readonly after: readonly Suspicion[];
}

interface BookStep {
  readonly of: "book";
  readonly before: LoopBook;
  readonly after: LoopBook;
}

/** What is to be as it was. */
export type Restored =
  | { readonly of: "trials"; readonly tried: Tried }
  | { readonly of: "book"; readonly book: LoopBook }
  | { readonly of: "readings"; readonly applied: readonly Suspicion[] };

export const NO_HISTORY: History = { past: [], future: [] };
const LONGEST_HISTORY = 200;
/** Settings of the same lines that follow each other within this time are one step: a drag, or a key held down [ms]. */
const SAME_STEP_MS = 900;

/** Notes a change of what is tried that has been made. */
export function noted(
  history: History,
  change: TrialChange,
  before: Tried,
  after: Tried,
  nowMs: number,
): History {
  const last = history.past[history.past.length - 1];
  const goesOn =
    last?.of === "trials" &&
    history.future.length === 0 &&
    change.kind === "set" &&
    last.change.kind === "set" &&
    last.change.lineKeys.join() === change.lineKeys.join() &&
    nowMs - last.atMs < SAME_STEP_MS;
  const step: Step = { of: "trials", change, before: goesOn ? last.before : before, after, atMs: nowMs };
  return withStep(goesOn ? history.past.slice(0, -1) : history.past, step);
}

/** Notes that a correction of the readings has been made or taken back; the same history where nothing came of it. */
export function notedReadings(
  history: History,
  before: readonly Suspicion[],
  after: readonly Suspicion[],
): History {
  const same = before.length === after.length && before.every(({ id }, i) => after[i]?.id === id);
  return same ? history : withStep(history.past, { of: "readings", before, after });
}

/** Notes that something was written in the bench's book. */
export function notedBook(history: History, before: LoopBook, after: LoopBook): History {
  return before === after ? history : withStep(history.past, { of: "book", before, after });
}

function withStep(past: readonly Step[], step: Step): History {
  return { past: [...past, step].slice(-LONGEST_HISTORY), future: [] };
}

/** @returns undefined where there is nothing to take back */
export function undone(
  history: History,
): { readonly history: History; readonly restored: Restored } | undefined {
  const step = history.past[history.past.length - 1];
  if (step === undefined) return undefined;
  // What follows is a step of its own, however soon it comes.
  const kept = step.of === "trials" ? { ...step, atMs: -Infinity } : step;
  return {
    restored: restored(step, "before"),
    history: { past: history.past.slice(0, -1), future: [...history.future, kept] },
  };
}

/** @returns undefined where there is nothing to do again */
export function redone(
  history: History,
): { readonly history: History; readonly restored: Restored } | undefined {
  const step = history.future[history.future.length - 1];
  if (step === undefined) return undefined;
  return {
    restored: restored(step, "after"),
    history: { past: [...history.past, step], future: history.future.slice(0, -1) },
  };
}

function restored(step: Step, when: "before" | "after"): Restored {
  switch (step.of) {
    case "trials":
      return { of: "trials", tried: step[when] };
    case "book":
      return { of: "book", book: step[when] };
    case "readings":
      return { of: "readings", applied: step[when] };
  }
}

/** Without the corrections, once other readings have come: what was put right was about those before. */
export function withoutReadings({ past, future }: History): History {
  const stays = ({ of }: Step): boolean => of !== "readings";
  return { past: past.filter(stays), future: future.filter(stays) };
}
