/**
 * What the workshop works with: how an eye is hitched on the maillon, what each line may get, the changes that are planned,
 * and what the bench keeps. Plain read-only values in SI units; they may cross a worker's boundary.
 *
 * A loop takes up length: the working length of a path is the sum of its lines less the take-up of the lowest line's loop.
 * So a change from take-up s to take-up t moves every path above by s − t: taking a loop out lengthens.
 */
import type { Row, Side } from "../plan/model.ts";

/** A way of hitching an eye on a bar; `kindName` says it in words. */
export interface LoopKind {
  /** `plain`, `turn`, `girth`, `two-turns`; or `given:<name>` for one that only the plan knows. */
  readonly id: string;
  /** Full turns around the bar beyond the plain eye's half turn. */
  readonly turns: number;
  /** Whether the eye is drawn through itself: the bridge over the two legs takes up more. */
  readonly girth: boolean;
}

/** How a take-up is known. */
export type TakeUpSource =
  /** from the geometry of bar and line: an estimate */
  | "estimate"
  /** measured on the bench */
  | "bench"
  /** the figure that the plan gives for this line's own loop */
  | "plan";

/** One state that a line's eye can be in. */
export interface LoopState {
  readonly kind: LoopKind;
  readonly takeUpM: number;
  readonly standardUncertaintyM: number;
  readonly source: TakeUpSource;
}

/** A take-up measured on the bench: for a kind of loop, on a bar, with lines of a diameter. */
export interface BenchTakeUp {
  readonly kindId: string;
  readonly barDiameterM: number;
  readonly lineDiameterM: number;
  readonly takeUpM: number;
  /** Of the mean, where it was measured more than once or is known; undefined: the workshop's default. */
  readonly standardUncertaintyM: number | undefined;
  /** ISO date. */
  readonly date: string | undefined;
  readonly note: string | undefined;
}

/** A line that hangs on a maillon, with all states its eye can be in and those that it's specified to be and is in. */
export interface LineLoops {
  readonly lineKey: string;
  readonly side: Side;
  readonly row: Row;
  readonly maillonId: string;
  readonly mirrorKey: string | undefined;
  /** By rising take-up; the first is the plain eye. */
  readonly states: readonly LoopState[];
  /** Index of the state that the plan specifies. */
  readonly specified: number;
  /** Index of the present state. */
  readonly present: number;
  /** True where the person recorded the present loop; otherwise it's taken to be the specified one. */
  readonly presentRecorded: boolean;
  /** Tabs above, as indices in the wing's order. */
  readonly tabs: readonly number[];
  /** True where the plan gives no bar diameter and a usual one was taken. */
  readonly barAssumed: boolean;
}

/** What comes first in choosing loops. */
export type Aim =
  /** the mean square of what is left */
  | "mean"
  /** as little as possible beyond the tolerance, and the mean square after that */
  | "tolerance";

/** How left and right belong together. */
export type Symmetry =
  /** a line and its mirror twin end in the same state */
  | "same"
  /** they may differ, at a cost */
  | "prefer"
  /** each on its own */
  | "free";

/** The person's choices for a loop plan. */
export interface LoopChoices {
  /** Lines that may change. */
  readonly mayChange: ReadonlySet<string>;
  /** Kinds that may be tied; the present state of a line is always allowed. */
  readonly kinds: ReadonlySet<string>;
  /** The maker's limit for take-up; undefined: none known [m]. */
  readonly mostTakeUpM: number | undefined;
  /** Least take-up that a changed line keeps, to be taken out later [m]; 0: none. */
  readonly reserveM: number;
  readonly symmetry: Symmetry;
  /** All lines of a row go by the same number of states. */
  readonly rowsTogether: boolean;
  readonly aim: Aim;
  /**
   * Whether the part that all paths share now may stay: what is left is then counted from it, or from anything between it
   * and the plan's lengths. It may shrink but not grow: shortening the whole wing to suit its shortest rows isn't for free.
   */
  readonly uniformFree: boolean;
  /** How far off a single path must be to be worth one change, by itself [m]. */
  readonly worthM: number;
  /** Most changes; undefined: as many as are worth it. */
  readonly mostChanges: number | undefined;
  /** Weight of each row's paths; 1 where left out. */
  readonly rowWeights: Readonly<Partial<Record<Row, number>>>;
}

/** One line's change of loop. */
export interface LoopChange {
  readonly lineKey: string;
  readonly from: LoopState;
  readonly to: LoopState;
  /** Change of every path above: from's take-up less to's; longer is positive [m]. */
  readonly changeM: number;
  readonly standardUncertaintyM: number;
}

/** The best changes of at most so many. */
export interface LoopPlan {
  readonly changes: readonly LoopChange[];
  /** The part shared by all that the plan leaves [m]; 0 where it isn't free. */
  readonly sharedM: number;
  /** What the plan minimises, without the cost of changes [m²]. */
  readonly costM2: number;
  /** Root mean square of what is left, counted from the shared part, over the paths above lines with loops [m]. */
  readonly rmsM: number;
  /** Largest of it by size [m]. */
  readonly worstM: number;
  /** Paths that are left beyond the tolerance. */
  readonly beyond: number;
  /** Share of the way from the present to the best that is reached, in cost: 0 to 1. */
  readonly reached: number;
}
