/** What the user chose to look at. Plain values; none of it changes the wing or its readings. */
import { ROWS, type Row, SIDES, type Side } from "../../plan/model.ts";
import type { ChosenLoops } from "../../workshop/index.ts";
import { AS_SPECIFIED, type Rigging } from "./rigging.ts";
import { NO_LOOPS, NO_TRIALS, type Trials } from "./trials.ts";

/** Which wing: a built-in one by its name, or the user's own. */
export type WingId = "school" | "second" | "own";
export const WING_IDS: readonly WingId[] = ["school", "second", "own"];

/**
 * `both`: as measured over as specified. `tried`: with the lengths and loops that are tried, over as measured. `after`: as
 * measured once more, after the work, over as measured.
 */
export type Shown = "specified" | "measured" | "both" | "tried" | "after";
export const SHOWN: readonly Shown[] = ["specified", "measured", "both", "tried", "after"];

/** A state of the wing. `after`: as measured once more, after the work. */
export type StateId = "specified" | "measured" | "tried" | "after";
export const STATE_IDS: readonly StateId[] = ["specified", "measured", "tried", "after"];
/** What the state shown is held against. */
export type Against = StateId | "nothing";
export const AGAINST: readonly Against[] = [...STATE_IDS, "nothing"];

/** How two states are drawn: one over the other, side by side, or parted by a divider. */
export type Compare = "over" | "beside" | "wipe";
export const COMPARE: readonly Compare[] = ["over", "beside", "wipe"];

/** Of two states, whether each has the colours of its own deviations or the one shown those of the difference. */
export type ColourOf = "own" | "difference";
export const COLOUR_OF: readonly ColourOf[] = ["own", "difference"];

/** What stands below the stage on wide screens: the charts along the span, both sides against each other, or one rib. */
export type Strip = "span" | "pairs" | "sides" | "rib";
export const STRIPS: readonly Strip[] = ["span", "pairs", "sides", "rib"];

export const PANES = [
  "plan",
  "read",
  "findings",
  "limits",
  "span",
  "rows",
  "lines",
  "loops",
  "replace",
  "after",
  "view",
  "files",
] as const;
export type Pane = (typeof PANES)[number];

/** What the pane of the plan shows: its cascade drawn, its tables to edit, or another plan that is being built. */
export type PlanPart = "cascade" | "edit" | "build";
export const PLAN_PARTS: readonly PlanPart[] = ["cascade", "edit", "build"];

/** What a line's colour shows: the mean deviation of the paths through it, or the change put down to it alone. */
export type ColouredBy = "path" | "line";
export const COLOURED_BY: readonly ColouredBy[] = ["path", "line"];

export type DirectionName = "overview" | "front" | "side" | "above" | "pilot";
export const DIRECTIONS: readonly DirectionName[] = ["overview", "front", "side", "above", "pilot"];

/** What is picked out: one line, all that a finding concerns, a row, or what something judged concerns. */
export type Picked =
  | { readonly kind: "none" }
  | { readonly kind: "line"; readonly key: string }
  | { readonly kind: "finding"; readonly id: string }
  | { readonly kind: "row"; readonly row: Row }
  /** Lines by name; `by` says what they were picked out by: a decision, two rows, a suspicion. Not part of the address. */
  | { readonly kind: "lines"; readonly by: string; readonly keys: readonly string[] };
export const NOTHING: Picked = { kind: "none" };
/** By what the line is picked out that a reading session asks for. */
export const READING = "reading";

export interface Choices {
  readonly wing: WingId;
  readonly shown: Shown;
  /** Shape exaggeration, 1 to 40, whole. */
  readonly exaggeration: number;
  readonly rows: ReadonlySet<Row>;
  readonly sides: ReadonlySet<Side>;
  readonly picked: Picked;
  readonly pane: Pane;
  readonly planPart: PlanPart;
  readonly direction: DirectionName;
  /** Deviation at the ends of the colour scale [m]; undefined: as suits the readings. */
  readonly rangeM: number | undefined;
  readonly rigging: Rigging;
  readonly trials: Trials;
  /** Loops that are tried: line key → kind; lines left out are as they are now. */
  readonly loops: ChosenLoops;
  readonly strip: Strip;
  /** Rib seen from the side; undefined: the innermost. */
  readonly rib: number | undefined;
  readonly ribSide: Side;
  readonly colouredBy: ColouredBy;
  /** Undefined: as is usual for what is shown. */
  readonly against: Against | undefined;
  readonly compare: Compare;
  /** Where the divider stands, as a share of the width, 0 to 1. */
  readonly wipeAt: number;
  readonly colourOf: ColourOf;
}

export const LEAST_EXAGGERATION = 1;
export const MOST_EXAGGERATION = 40;

export const INITIAL: Choices = {
  wing: "school",
  shown: "measured",
  exaggeration: 10,
  rows: new Set(ROWS),
  sides: new Set(SIDES),
  picked: NOTHING,
  pane: "findings",
  planPart: "cascade",
  direction: "overview",
  rangeM: undefined,
  rigging: AS_SPECIFIED,
  trials: NO_TRIALS,
  loops: NO_LOOPS,
  strip: "span",
  rib: undefined,
  ribSide: "left",
  colouredBy: "path",
  against: undefined,
  compare: "over",
  wipeAt: 0.5,
  colourOf: "own",
};
