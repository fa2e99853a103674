/** What the bench keeps with a wing: present loops, measured take-ups, choices, maillon cards, replacements. SI units. */
import type { Side } from "../plan/model.ts";
import type { BenchTakeUp, LoopChoices } from "./model.ts";

/** What hangs on a maillon, recorded before it is opened. */
export interface MaillonRecord {
  readonly maillonId: string;
  readonly side: Side;
  /** Keys of the lines, in the order in which they sit on the bar. */
  readonly order: readonly string[];
  /** Kind of each line's loop, in the same order. */
  readonly loops: readonly string[];
  /** ISO date. */
  readonly recorded: string | undefined;
  /** Keys of the lines that are ticked off as back in place. */
  readonly closed: readonly string[];
}

/** A line that was or is to be replaced, on one side or on both. */
export interface Replacement {
  /** The plan's name of the line, the same on both sides. */
  readonly lineId: string;
  readonly sides: readonly Side[];
  /** ISO date. */
  readonly date: string | undefined;
  /** Length of the old line on the bench [m]. */
  readonly oldM: number | undefined;
  /** Length of the new line, under the same tension [m]. */
  readonly newM: number | undefined;
  readonly tensionN: number | undefined;
  /** Kind of loop that the new line got. */
  readonly loopKindId: string | undefined;
  readonly note: string | undefined;
}

/** Entries of a file that this wing or program can't place, as they stand in it: kept, and written back. */
export interface UnplacedEntries {
  readonly present: readonly unknown[];
  readonly benchTakeUps: readonly unknown[];
  /** Choices that can't be read; written back as long as there are no others. */
  readonly choices: unknown;
  /** Lines among readable choices that the wing doesn't have. */
  readonly choiceLines: readonly unknown[];
  readonly maillons: readonly unknown[];
  readonly replacements: readonly unknown[];
}

export interface LoopBook {
  readonly wingName: string | undefined;
  /** Line key → id of the kind that its loop is, where the person recorded it. */
  readonly present: ReadonlyMap<string, string>;
  /** Line key → take-up of its present loop, where it was measured on this very line [m]. */
  readonly presentTakeUpM: ReadonlyMap<string, number>;
  readonly bench: readonly BenchTakeUp[];
  readonly choices: LoopChoices | undefined;
  readonly maillons: readonly MaillonRecord[];
  readonly replacements: readonly Replacement[];
  readonly unplaced: UnplacedEntries;
}

const NOTHING_UNPLACED: UnplacedEntries = {
  present: [],
  benchTakeUps: [],
  choices: undefined,
  choiceLines: [],
  maillons: [],
  replacements: [],
};

/** A wing of which the bench has kept nothing yet. */
export const EMPTY_BOOK: LoopBook = {
  wingName: undefined,
  present: new Map(),
  presentTakeUpM: new Map(),
  bench: [],
  choices: undefined,
  maillons: [],
  replacements: [],
  unplaced: NOTHING_UNPLACED,
};
