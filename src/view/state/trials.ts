/** Lengths that are tried: small named changes to a list, each of which can be taken back. */

/** Line key → change of its length, whole millimetres, never 0. In the order in which the lines were first tried. */
export type Trials = ReadonlyMap<string, number>;
export const NO_TRIALS: Trials = new Map();

/** Farthest a length can be tried either way [mm]. */
export const MOST_TRIAL_MM = 50;

export type TrialChange =
  | { readonly kind: "set"; readonly lineKeys: readonly string[]; readonly mm: number }
  | { readonly kind: "remove"; readonly lineKeys: readonly string[] }
  | { readonly kind: "clear" };

/** The list after a change; the same list where it changes nothing. */
export function changed(trials: Trials, change: TrialChange): Trials {
  const next = new Map(trials);
  switch (change.kind) {
    case "set": {
      const mm = Math.min(MOST_TRIAL_MM, Math.max(-MOST_TRIAL_MM, Math.round(change.mm)));
      for (const key of change.lineKeys) {
        if (mm === 0) next.delete(key);
        else next.set(key, mm);
      }
      break;
    }
    case "remove":
      for (const key of change.lineKeys) next.delete(key);
      break;
    case "clear":
      next.clear();
  }
  return sameTrials(trials, next) ? trials : next;
}

export function sameTrials(a: Trials, b: Trials): boolean {
  return a.size === b.size && [...a].every(([key, mm]) => b.get(key) === mm);
}

/** Line key → change [m]; lines that the wing doesn't have are left out. */
export function trialMetres(trials: Trials, known: { has(lineKey: string): boolean }): Map<string, number> {
  return new Map([...trials].filter(([key]) => known.has(key)).map(([key, mm]) => [key, mm / 1000]));
}

/** What can be taken back and what can be done again, nearest last. */
export interface TrialHistory {
  readonly past: readonly TrialStep[];
  readonly future: readonly TrialStep[];
}

interface TrialStep {
  readonly change: TrialChange;
  readonly before: Trials;
  readonly after: Trials;
  readonly atMs: number;
}

export const NO_HISTORY: TrialHistory = { past: [], future: [] };
const LONGEST_HISTORY = 200;
/** Settings of the same lines that follow each other within this time are one step: a drag, or a key held down [ms]. */
const SAME_STEP_MS = 900;

/** Notes a change that has been made. */
export function noted(
  history: TrialHistory,
  change: TrialChange,
  before: Trials,
  after: Trials,
  nowMs: number,
): TrialHistory {
  const last = history.past[history.past.length - 1];
  const goesOn =
    last !== undefined &&
    history.future.length === 0 &&
    change.kind === "set" &&
    last.change.kind === "set" &&
    last.change.lineKeys.join() === change.lineKeys.join() &&
    nowMs - last.atMs < SAME_STEP_MS;
  const step: TrialStep = { change, before: goesOn ? last.before : before, after, atMs: nowMs };
  const past = goesOn ? history.past.slice(0, -1) : history.past;
  return { past: [...past, step].slice(-LONGEST_HISTORY), future: [] };
}

/** @returns undefined where there is nothing to take back */
export function undone(
  history: TrialHistory,
): { readonly history: TrialHistory; readonly trials: Trials } | undefined {
  const step = history.past[history.past.length - 1];
  if (step === undefined) return undefined;
  return {
    trials: step.before,
    history: { past: history.past.slice(0, -1), future: [...history.future, { ...step, atMs: -Infinity }] },
  };
}

/** @returns undefined where there is nothing to do again */
export function redone(
  history: TrialHistory,
): { readonly history: TrialHistory; readonly trials: Trials } | undefined {
  const step = history.future[history.future.length - 1];
  if (step === undefined) return undefined;
  return {
    trials: step.after,
    history: { past: [...history.past, step], future: history.future.slice(0, -1) },
  };
}
