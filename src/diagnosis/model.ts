/** The whole answer to "here is my plan, here are my readings": plain data, may cross a worker's boundary. */

import type { Equilibrium, RibChange, WingModel } from "../geometry/model.ts";
import type { Row, Side, Wing } from "../plan/model.ts";
import type { Check, Deviations } from "../readings/model.ts";
import type { PathUncertainties } from "../readings/uncertainty.ts";
import type { Assessment } from "./assess.ts";

/** How a line's deviation is known. */
export type Basis =
  /** read on its own */
  | "line"
  /** the line ends at a tab and that tab's path was read: the path's deviation */
  | "path"
  /** mean over the measured paths that run through it */
  | "paths above"
  | "not measured";

/** One line: specified, measured and off by. */
export interface LineDeviation {
  readonly lineKey: string;
  readonly basis: Basis;
  /** The deviation to colour by [m]; undefined where not measured. */
  readonly deviationM: number | undefined;
  /** Length change that the model gives this member so that its paths come out as measured [m]. */
  readonly attributedM: number;
}

/** One row's summary. */
export interface RowSummary {
  readonly row: Row;
  readonly measured: number;
  readonly total: number;
  /** Mean deviation, both sides, and by side [m]. */
  readonly meanM: number | undefined;
  readonly leftM: number | undefined;
  readonly rightM: number | undefined;
  /** Largest single deviation by size [m]. */
  readonly worstM: number | undefined;
  readonly worstTabKey: string | undefined;
  readonly outOfTolerance: number;
  /** Mean incidence change that this row's deviations alone cause in the model [rad], nose-up positive; undefined where not measured. */
  readonly incidenceRad: number | undefined;
}

/** One thing worth saying, ranked. Figures come from the model; nothing is said that the readings don't carry. */
export interface Finding {
  readonly id: string;
  readonly kind: "brake" | "rows" | "sides" | "single" | "uniform" | "order";
  readonly severity: "act" | "watch" | "fine";
  readonly headline: string;
  readonly detail: string;
  /** Lines and tabs concerned, for the 3D. */
  readonly lineKeys: readonly string[];
  readonly tabKeys: readonly string[];
  readonly side: Side | undefined;
  /** The figure that the finding is about, and its standard uncertainty [m]. */
  readonly valueM?: number;
  readonly standardUncertaintyM?: number | undefined;
}

export interface Analysis {
  readonly wing: Wing;
  readonly check: Check | undefined;
  readonly deviations: Deviations;
  /** How uncertain the deviations are; undefined without readings. */
  readonly uncertainties?: PathUncertainties | undefined;
  /** The deviations held against the wing's tolerances; undefined without readings. */
  readonly assessment?: Assessment | undefined;
  /** Mean of all main rows' deviations [m], and whether it was taken out of every main path before anything else. */
  readonly uniformM?: number | undefined;
  readonly uniformRemoved?: boolean;
  readonly lines: readonly LineDeviation[];
  readonly rows: readonly RowSummary[];
  readonly findings: readonly Finding[];
  readonly model: WingModel;
  /** The measured state; undefined without readings. */
  readonly measured: Equilibrium | undefined;
  /** Specified → measured, per attached rib, from the left tip to the right tip. */
  readonly ribs: readonly RibChange[];
  /** Mean incidence change over the attached ribs [rad]. */
  readonly meanIncidenceRad: number | undefined;
  readonly leftIncidenceRad: number | undefined;
  readonly rightIncidenceRad: number | undefined;
}
