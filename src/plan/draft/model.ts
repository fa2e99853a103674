/** What a draft turns out to be: one half's lines and tabs, with what is still missing or wrong. */
import type { Problem, Row } from "../model.ts";
import type { SparsePlanFile } from "../schema.ts";
import type { Fault } from "./notation.ts";
import type { DraftSource, LineKind } from "./source.ts";

export interface DraftLine {
  /** Name in the draft: AL1, AM1, A1. */
  readonly name: string;
  /** Name in the plan; the draft's unless the draft gives another. */
  readonly id: string;
  readonly row: Row;
  readonly kind: LineKind;
  /** Counted outwards within row and kind, from 1. */
  readonly number: number;
  readonly tier: number;
  /** Index of the line it hangs on; undefined for a lowest line. */
  readonly below: number | undefined;
  /** Maillon, or "pulley": of the lowest line of its chain. */
  readonly anchor: string;
  /** Index of the row's entry in the source that it was drawn by. */
  readonly entry: number;
  /** Index of the tab that it ends at; undefined where it carries lines. */
  readonly tab: number | undefined;
  readonly material: string | undefined;
  readonly materialAssumed: boolean;
  readonly colour: string | undefined;
  readonly loop: { readonly name: string; readonly takeUpMm: number } | undefined;
  readonly lengthMm: number | undefined;
}

export interface DraftTab {
  readonly name: string;
  readonly id: string;
  readonly row: Row;
  /** Counted outwards within the row, from 1. */
  readonly number: number;
  readonly rib: number;
  readonly ribAssumed: boolean;
  readonly chordFraction: number | undefined;
  /** Index of the line that ends here. */
  readonly line: number;
  readonly totalMm: number | undefined;
}

/** What the lines hang on, with the usual taken for what a draft leaves out. */
export interface Rig {
  readonly risers: SparsePlanFile["risers"];
  readonly maillons: SparsePlanFile["maillons"];
  readonly brakes: SparsePlanFile["brakes"];
  readonly problems: readonly Problem[];
  readonly assumed: readonly string[];
}

/** A draft as far as it can be understood. */
export interface Draft {
  readonly source: DraftSource;
  /** Each after the one it hangs on, rows in the order of the draft, outwards. */
  readonly lines: readonly DraftLine[];
  readonly tabs: readonly DraftTab[];
  readonly rig: Rig;
  /** With their places: a line and character of the text, or a field of the value. */
  readonly problems: readonly Problem[];
  /** Of these, what the reading of the text or value told, before anything was drawn. */
  readonly unread: readonly Problem[];
  /** In words, what was taken as usual because the draft doesn't say. */
  readonly assumed: readonly string[];
  /** Where a field of the source stands, for further problems. */
  readonly where: Where;
}

/** A field's path in the source (`rows[0].cascade`) and a place in its text → a place that a person can find. */
export type Where = (path: string, offset?: number) => string;

/** While a draft is drawn, its lines and tabs are filled in step by step. */
export type OpenLine = { -readonly [K in keyof DraftLine]: DraftLine[K] };
export type OpenTab = { -readonly [K in keyof DraftTab]: DraftTab[K] };

/** Tells of a mistake at a field of the source, `offset` characters into its text. */
export type Say = (
  path: string,
  subject: string | undefined,
  message: string,
  remedy: string,
  offset?: number,
) => void;

/** Tells of all faults of one text in the source. */
export type SayFaults = (path: string, subject: string, found: readonly Fault[]) => void;
