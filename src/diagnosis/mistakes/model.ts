/** What may have gone wrong while a check was read, called out and typed; an offer, never a change by itself. */
import type { Datum } from "../../plan/model.ts";
import type { Target } from "../../readings/model.ts";

export type MistakeKind =
  /** two tabs next to each other in the calling order have each other's reading */
  | "neighbours swapped"
  /** left and right have each other's reading: one pair, a whole row, or all that was read */
  | "sides swapped"
  /** two tabs elsewhere, such as the same number in two rows, have each other's reading */
  | "tabs swapped"
  /** one digit is wrong, or the reading is off by a round 10, 100 or 1000 mm */
  | "digit slip"
  /** two digits stand in each other's place */
  | "digits transposed"
  /** a digit too few or too many */
  | "keystroke"
  /** called out fifteen, typed fifty */
  | "misheard"
  /** the reading is what another tab should read */
  | "wrong tab"
  /** from one tab on every reading belongs to the tab next to it */
  | "entries shifted"
  /** a whole row, side or check was read from another point */
  | "another point"
  /** hardly a real line, and no slip known here explains it; or repeats that can't all be right */
  | "unexplained";

/** One typed value that a suspicion is about. */
export interface Concern {
  readonly target: Target;
  /** As typed [m]. */
  readonly readM: number;
  /** What would have been typed without the mistake [m]; undefined where that isn't known closely enough to be used. */
  readonly insteadM: number | undefined;
  /** The tab that the value would belong to: another one where it was typed against the wrong tab. */
  readonly belongsTo: Target;
  /** What `belongsTo` should read, going by its row, side, lower line and mirror twin [m]. */
  readonly expectedM: number;
}

/** What applying a suspicion's correction does to one typed value: put it right, put it elsewhere, or set it aside. */
export interface Edit {
  readonly target: Target;
  /** As typed [m]; the first value of that target that equals it is meant. */
  readonly readM: number;
  /** Undefined: the value is set aside, since what it should have been can't be known without reading again. */
  readonly to: { readonly target: Target; readonly valueM: number } | undefined;
}

export type Correction =
  | { readonly kind: "edits"; readonly edits: readonly Edit[] }
  /** The whole check was read from the other datum than it says. */
  | { readonly kind: "datum"; readonly from: Datum };

export interface Suspicion {
  /** Stable for the same check: made of the kind and the readings concerned. */
  readonly id: string;
  readonly kind: MistakeKind;
  readonly concerns: readonly Concern[];
  /**
   * Decimal logarithm of the odds for this mistake against everything that needs no mistake to be told: that the lines
   * really are so, or a plain outlier. 0 is even, 1 ten to one. Odds rest on assumed rates: take their order, not their digits.
   */
  readonly log10Odds: number;
  /** Probability of just this mistake among its alternatives and no mistake, 0 to 1. */
  readonly probability: number;
  /** `correct`: the correction may be offered beside reading again; `read again`: only that should be asked for first. */
  readonly offer: "correct" | "read again";
  /** Distance by which readings from another point are off, measured − expected [m]. */
  readonly stepM: number | undefined;
  /** What was noticed, and what to do: plain words. */
  readonly sentence: string;
  /** Undefined where nothing but reading again helps. */
  readonly correction: Correction | undefined;
  /** Other tales about the same readings that contradict this one, most plausible first; theirs is empty. */
  readonly alternatives: readonly Suspicion[];
}

/** A suspicion before it is held against others. `id`, `probability`, `offer` and `alternatives` follow from that. */
export interface Candidate
  extends Pick<Suspicion, "kind" | "concerns" | "stepM" | "sentence" | "correction"> {
  /** Natural logarithm of the odds. */
  readonly logOdds: number;
  /** True where several readings hang together, so that the rest must be judged anew once it is put right. */
  readonly structural: boolean;
  /** True where the figure it would be put to isn't told by the reading itself. */
  readonly unsure: boolean;
  /** Candidates with the same number contradict each other even where they are about other readings. */
  readonly rivals?: number;
}

export interface MistakeOptions {
  /**
   * The order in which tabs were called out, as one sequence; by default each side's tabs by itself, in the plan's order.
   * Tabs that aren't named are left out of what hangs on the order.
   */
  readonly callingOrder?: readonly Target[];
  /** Least decimal logarithm of the odds for a suspicion to be told. */
  readonly leastLog10Odds?: number;
}
