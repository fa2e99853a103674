/** What a swap sheet is made of: plain read-only values in SI units. */
import type { Attribution } from "../diagnosis/attribution.ts";
import type { Row, Side, Wing } from "../plan/index.ts";
import type { Deviations, PathUncertainties } from "../readings/index.ts";
import type { LineLoops, LoopState } from "./model.ts";
import type { SwapStep } from "./swap-steps.ts";

/** Old and new line on the bench, eye to eye under the same tension, without loops; each where it was measured [m]. */
export interface BenchPair {
  readonly oldM?: number | undefined;
  readonly newM?: number | undefined;
  /** Standard uncertainty of each length; `BENCH_LENGTH_UNCERTAINTY_M` where left out [m]. */
  readonly standardUncertaintyM?: number | undefined;
}

export interface SwapInput {
  readonly wing: Wing;
  /** Undefined without readings. */
  readonly deviations: Deviations | undefined;
  readonly uncertainties: PathUncertainties | undefined;
  /** Where it's at hand; otherwise it's made from the readings. */
  readonly attribution?: Attribution | undefined;
  /** As `lineLoops` gives them. */
  readonly loops: readonly LineLoops[];
  readonly damagedKeys: readonly string[];
  /** Lines that are replaced; the damaged ones and their twins where left out. */
  readonly replacedKeys?: readonly string[] | undefined;
  /** Line key → its lengths on the bench. */
  readonly lengths?: ReadonlyMap<string, BenchPair> | undefined;
  /** Kinds of loop that may be tied; all where left out. */
  readonly kinds?: ReadonlySet<string> | undefined;
  /** The maker's limit for take-up [m]. */
  readonly mostTakeUpM?: number | undefined;
}

/** A length with how it's known. */
export interface SwapLength {
  readonly lengthM: number;
  readonly standardUncertaintyM: number;
  readonly basis:
    | "measured"
    /** as the plan specifies the line */
    | "specified"
    /** the plan's length and what the readings attribute to the line */
    | "attributed";
}

/** Lines beside the damaged one as they are now. */
export interface SwapNeighbour {
  readonly lineKey: string;
  readonly place: "inner" | "outer" | "twin";
  /** Mean deviation of the paths above it that were read [m]; undefined where none was, or where it's replaced too. */
  readonly meanM: number | undefined;
  readonly replaced: boolean;
}

/** What the paths above are to meet. */
export interface SwapTarget {
  readonly basis:
    | "neighbours"
    | "twin"
    /** a brake's lower line: the plan, since short brakes are to be mended, not matched */
    | "specified"
    /** no neighbour was read: the paths are to stay where they are */
    | "old line";
  /** Deviation [m]; undefined without readings: then only the old line's working length counts. */
  readonly meanM: number | undefined;
  readonly lineKeys: readonly string[];
}

/** Where the paths above come to with one loop; for a line without a maillon, as it comes. */
export interface Landing {
  /** Undefined for a line that doesn't hang on a maillon. */
  readonly state: LoopState | undefined;
  /** False where the choice of kinds or the maker's limit leaves it out. */
  readonly allowed: boolean;
  /** By how much every path above moves, longer is positive [m]; undefined where the old length isn't known. */
  readonly changeM: number | undefined;
  /** Of the paths above, in the wing's order; undefined where not read [m]. */
  readonly paths: readonly { readonly tabKey: string; readonly deviationM: number | undefined }[];
  /** Mean over those read [m]. */
  readonly meanM: number | undefined;
  /** Against the target, longer is positive [m]. */
  readonly differenceM: number | undefined;
  /** Of the difference [m]. Without the readings' uncertainties only that of lengths and loops. */
  readonly standardUncertaintyM: number | undefined;
  /** Take-up that can still be taken out [m]. */
  readonly reserveM: number;
}

/** When the new line has shrunk too: against the neighbours as they are now. */
export interface Later {
  /** By how much; negative is shorter [m]. */
  readonly changeM: number;
  readonly basis: /** at the neighbours' rate */ "neighbours" | /** as the old one had */ "old line";
  /** With the suggested loop [m]. */
  readonly differenceM: number;
  /** With the next smaller loop; undefined where there is none [m]. */
  readonly oneOut: { readonly state: LoopState; readonly differenceM: number } | undefined;
  /** With the smaller loop that then lands nearest; undefined where none lands nearer than the suggested one [m]. */
  readonly bestOut: { readonly state: LoopState; readonly differenceM: number } | undefined;
}

/** To which length to have a middle or upper line made. */
export interface LengthAdvice {
  readonly basis: "specified" | "old line" | "neighbours";
  readonly lengthM: number;
  /** Against the target then [m]. */
  readonly differenceM: number;
}

/** One line of a pair. */
export interface SwapSide {
  readonly lineKey: string;
  readonly side: Side;
  readonly damaged: boolean;
  readonly replaced: boolean;
  /** Mean deviation of the paths above as read [m]. */
  readonly nowM: number | undefined;
  /** Undefined where it was neither measured nor readings say something of it. */
  readonly old: SwapLength | undefined;
  readonly fresh: SwapLength;
  readonly neighbours: readonly SwapNeighbour[];
  readonly target: SwapTarget;
  /** By rising take-up; none for a line that stays. */
  readonly landings: readonly Landing[];
  /** Index of the suggested one; undefined where nothing can be said. */
  readonly suggested: number | undefined;
  /** Why that one, or why none. */
  readonly why: string;
  readonly later: Later | undefined;
  /** For middle and upper lines. */
  readonly advice: LengthAdvice | undefined;
}

/** A damaged line with its twin. */
export interface SwapSheet {
  /** The plan's name. */
  readonly name: string;
  readonly row: Row;
  readonly tier: "lower" | "middle" | "upper";
  readonly onMaillon: boolean;
  /** Left before right. */
  readonly sides: readonly SwapSide[];
  /** Left less right, means with the suggested loops, or as it is for a line that stays [m]. */
  readonly leftRightM: number | undefined;
  readonly warnings: readonly string[];
  readonly steps: readonly SwapStep[];
  readonly cautions: readonly string[];
}
