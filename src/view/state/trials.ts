/** Lengths and loops that are tried: small named changes to two lists. */
import { type ChosenLoops, chosenChanges, type LineLoops, lengthChanges } from "../../workshop/index.ts";

/** Line key → change of its length, whole millimetres, never 0. In the order in which the lines were first tried. */
export type Trials = ReadonlyMap<string, number>;
export const NO_TRIALS: Trials = new Map();
export const NO_LOOPS: ChosenLoops = new Map();

/** All that is tried. */
export interface Tried {
  readonly trials: Trials;
  readonly loops: ChosenLoops;
}
export const NOTHING_TRIED: Tried = { trials: NO_TRIALS, loops: NO_LOOPS };

export function isAnythingTried({ trials, loops }: Tried): boolean {
  return trials.size > 0 || loops.size > 0;
}

/** Farthest a length can be tried either way [mm]. */
export const MOST_TRIAL_MM = 50;

export type TrialChange =
  | { readonly kind: "set"; readonly lineKeys: readonly string[]; readonly mm: number }
  | { readonly kind: "remove"; readonly lineKeys: readonly string[] }
  /** One loop for some lines; undefined: as they are now. */
  | { readonly kind: "tie"; readonly lineKeys: readonly string[]; readonly kindId: string | undefined }
  /** All loops at once, as a plan has them; lengths stay. */
  | { readonly kind: "tie all"; readonly loops: ChosenLoops }
  | { readonly kind: "clear" };

/** What is tried after a change; the same where it changes nothing. */
export function changed(tried: Tried, change: TrialChange): Tried {
  const trials = changedLengths(tried.trials, change);
  const loops = changedLoops(tried.loops, change);
  return trials === tried.trials && loops === tried.loops ? tried : { trials, loops };
}

function changedLoops(loops: ChosenLoops, change: TrialChange): ChosenLoops {
  const next = new Map(loops);
  switch (change.kind) {
    case "tie":
      for (const key of change.lineKeys) {
        if (change.kindId === undefined) next.delete(key);
        else next.set(key, change.kindId);
      }
      break;
    case "tie all":
      next.clear();
      for (const [key, kindId] of change.loops) next.set(key, kindId);
      break;
    case "clear":
      next.clear();
      break;
    case "set":
    case "remove":
  }
  return sameEntries(loops, next) ? loops : next;
}

function changedLengths(trials: Trials, change: TrialChange): Trials {
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
      break;
    case "tie":
    case "tie all":
  }
  return sameEntries(trials, next) ? trials : next;
}

function sameEntries<T>(a: ReadonlyMap<string, T>, b: ReadonlyMap<string, T>): boolean {
  return a.size === b.size && [...a].every(([key, value]) => b.get(key) === value);
}

/**
 * Line key → change of its length [m], what the loops do included; lines that the wing doesn't have are left out.
 * @param lineLoops loops of the wing's lines, as they are now
 */
export function trialMetres(
  { trials, loops }: Tried,
  lineLoops: readonly LineLoops[],
  known: { has(lineKey: string): boolean },
): Map<string, number> {
  const metres = lengthChanges(chosenChanges(lineLoops, loops));
  for (const [key, mm] of trials) if (known.has(key)) metres.set(key, (metres.get(key) ?? 0) + mm / 1000);
  return metres;
}
