/**
 * A guided reading session as plain read-only values: the order of the lines, the journal of all that was typed, and what
 * follows from it. Lengths in m, as the instrument shows them; times in whole ms since 1970, passed in by the caller.
 */
import type { Row } from "../../plan/model.ts";
import type { CheckFrame } from "../frame.ts";
import type { Target } from "../model.ts";

/** A sentence that can be looked up in another language: its key, what is put into it, and its text as it was said. */
export interface Phrase {
  readonly key: string;
  readonly values: Readonly<Record<string, string>>;
  readonly text: string;
}

/** One thing to be read. */
export interface Step {
  readonly target: Target;
  readonly row: Row;
}

/** What a target should read, as far as it can be said now [m as the instrument shows it]. */
export interface Expected {
  readonly valueM: number;
  readonly lowM: number;
  readonly highM: number;
}

/**
 * What is thought of an entry. `fine` isn't a finding about the wing, only that nothing speaks against the typing; `doubtful`
 * asks for another reading and refuses nothing; `impossible` means that the text holds no length, or one that can't be the target's
 * at all (more than a quarter off, which a check file wouldn't take either): it stays in the journal only.
 */
export interface Verdict {
  readonly level: "fine" | "doubtful" | "impossible";
  /** Why, in short plain words; undefined where all is as expected. */
  readonly reason: Phrase | undefined;
  readonly expected: Expected | undefined;
  /** What may have been meant instead; undefined where nothing better is known. */
  readonly better: Better | undefined;
}

/** A tale that fits better than the entry: another number for the same target, or the same number for another one. */
export interface Better {
  readonly kind:
    | "digit"
    | "hundred off"
    | "transposed"
    | "keystroke"
    | "misheard"
    | "mirror"
    | "neighbour"
    | "other row"
    | "elsewhere"
    | "short form";
  readonly valueM: number;
  readonly target: Target;
}

/** Readings so far, as a judge wants them: accepted values only, at the instrument's present zero. */
export interface SoFar {
  readonly frame: CheckFrame;
  readonly readings: readonly { readonly target: Target; readonly valuesM: readonly number[] }[];
}

/** Weighs an entry against everything known. Pure: the same readings give the same verdict. */
export interface Judge {
  /** Undefined where the wing has no such tab or line. */
  expected(soFar: SoFar, target: Target): Expected | undefined;
  /** `valuesM` are the numbers of one entry [m]; readings of the target itself in `soFar` are left aside. */
  judge(soFar: SoFar, target: Target, valuesM: readonly number[]): Verdict;
}

interface Stamped {
  /** Running number in the journal, from 0. */
  readonly n: number;
  readonly atMs: number;
}

export type OrderName = "rows" | "sides" | "pairs" | "maillons" | "own";

export interface Order {
  readonly name: OrderName;
  readonly steps: readonly Step[];
}

export type Entry = Stamped &
  (
    | { readonly kind: "start"; readonly frame: CheckFrame; readonly order: Order }
    | {
        readonly kind: "reading" | "repeat";
        readonly target: Target;
        readonly row: Row;
        /** Just as it was typed. */
        readonly typed: string;
        /** Taken from the text; empty where none could be [m]. */
        readonly valuesM: readonly number[];
        /** How the text was understood, where that isn't plain: `last three digits`. */
        readonly taken: Taken | undefined;
        readonly verdict: Pick<Verdict, "level" | "reason">;
      }
    | { readonly kind: "skip"; readonly target: Target }
    | { readonly kind: "undo"; readonly takesBack: number }
    | { readonly kind: "note"; readonly about: Target | undefined; readonly text: string }
    | { readonly kind: "go to"; readonly step: Step }
    | { readonly kind: "order"; readonly order: Order }
    /** `fromHere` is for a new zero of the instrument: what was read before keeps the one it was read with. */
    | { readonly kind: "frame"; readonly frame: CheckFrame; readonly fromHere: boolean }
  );

/** How a number was understood where it isn't as it stands: for the person to see. */
export type Taken = "last three digits" | "centimetres" | "metres" | "one of several numbers";

export type EntryKind = Entry["kind"];
export type ReadingEntry = Extract<Entry, { kind: "reading" | "repeat" }>;

/** One typed value at its target. */
export interface TypedValue {
  readonly n: number;
  readonly valueM: number;
  /** Zero of the instrument when it was read [m]. */
  readonly zeroM: number;
  readonly doubtful: boolean;
}

/** All that is known of one target. */
export interface TargetState {
  readonly target: Target;
  /** Values that count, in the order typed [m], at the present zero. */
  readonly acceptedM: readonly number[];
  /** Values that nothing has confirmed yet. */
  readonly doubtfulM: readonly number[];
  /** Values that a later reading has overruled: kept, not counted. */
  readonly setAsideM: readonly number[];
  /** `read`: it has a value that counts and no open doubt. */
  readonly status: "open" | "read" | "doubtful";
  readonly skips: number;
  readonly notes: readonly string[];
  readonly values: readonly TypedValue[];
}

export interface SessionState {
  readonly frame: CheckFrame;
  readonly order: Order;
  /** By {@link keyOfTarget}; only what anything was said about. */
  readonly targets: ReadonlyMap<string, TargetState>;
  /** What is asked for now; undefined when nothing is left to ask. */
  readonly next: Step | undefined;
  /** Target of the last entry with a number. */
  readonly last: Target | undefined;
  /** Where to go on once a target asked for out of turn is done. */
  readonly resume: Step | undefined;
  /** What the person chose, or what follows in the order upon what was done; undefined: the first that is open. */
  readonly asked: Step | undefined;
  readonly notes: readonly string[];
}

/** Immutable: every function of a session returns a new one. `state` always follows from `journal`. */
export interface Session {
  readonly journal: readonly Entry[];
  readonly state: SessionState;
}

/** `tab left A1`: unique in a wing. */
export function keyOfTarget(target: Target): string {
  return `${target.kind} ${target.side} ${target.id}`;
}

export function sameTarget(one: Target | undefined, other: Target | undefined): boolean {
  return one !== undefined && other !== undefined && keyOfTarget(one) === keyOfTarget(other);
}
