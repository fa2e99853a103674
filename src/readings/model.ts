/** A dated set of readings, and what follows from it against a plan. SI units. Deviation = measured − specified: negative is short. */
import type { Datum, Row, Side } from "../plan/model.ts";

/** One reading target: the whole path to a tab, or a single line. */
export type Target = { readonly kind: "tab" | "line"; readonly id: string; readonly side: Side };

export interface Reading {
  readonly target: Target;
  /** As read, before any correction; more than one where the reading was repeated [m]. */
  readonly valuesM: readonly number[];
  readonly note: string | undefined;
}

/** What the user knows of the instrument's and the set-up's uncertainty: standard uncertainties, each where known. */
export interface StatedUncertainty {
  /** Of the instrument's zero, common to all readings [m]. */
  readonly zeroM?: number | undefined;
  /** Of its scale, common to all readings: relative. */
  readonly scale?: number | undefined;
  /** Of the tension of each reading [N]. */
  readonly tensionN?: number | undefined;
  /** Of each reading: its point at the tab, and the hand [m]. */
  readonly readingM?: number | undefined;
}

export interface Check {
  readonly wingName: string | undefined;
  /** ISO date. */
  readonly date: string;
  readonly tensionN: number;
  readonly from: Datum;
  /** What the instrument shows at zero length; subtracted from every path reading [m]. */
  readonly instrumentZeroM: number;
  readonly instrument: string | undefined;
  readonly resolutionM: number | undefined;
  /** Left out where the check says nothing of it. */
  readonly uncertainty?: StatedUncertainty | undefined;
  readonly note: string | undefined;
  readonly readings: readonly Reading[];
}

/** A tab's path: specified against measured. */
export interface PathDeviation {
  readonly tabKey: string;
  readonly side: Side;
  readonly row: Row;
  readonly specifiedM: number;
  /** Mean of the repeats, corrected for zero, measuring point and tension [m]; undefined where not measured. */
  readonly measuredM: number | undefined;
  /** measured − specified [m]. */
  readonly deviationM: number | undefined;
  readonly repeats: number;
  /** Standard deviation of the repeats [m]; undefined below two. */
  readonly repeatSpreadM: number | undefined;
}

/** A single line's own reading against its specified length. */
export interface LineReading {
  readonly lineKey: string;
  readonly specifiedM: number;
  readonly measuredM: number;
  readonly deviationM: number;
}

/** All deviations of a check; `paths` in the order of the wing's tabs. */
export interface Deviations {
  readonly paths: readonly PathDeviation[];
  readonly lines: readonly LineReading[];
}
