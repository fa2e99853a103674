/**
 * What readings of a check are taken to be uncertain by: settings of the user's, with defaults and where each is from.
 * Standard uncertainties (one standard deviation) throughout, SI units.
 */
import type { Key } from "../words/index.ts";
import { rectangular } from "./gum.ts";
import type { Check, StatedUncertainty } from "./model.ts";

export interface ReadingUncertainty {
  /** Smallest step the instrument shows [m]. */
  readonly resolutionM: number;
  /** Where on the tab a single reading is taken, and how steadily: what pulling and reading again varies, tension apart [m]; above 0. */
  readonly readingM: number;
  /** How much weight the two settings for a single reading carry against the check's own repeats, as degrees of freedom. */
  readonly readingDegreesOfFreedom: number;
  /** Tension of a single reading about that of the whole check [N]. */
  readonly tensionEachN: number;
  /** Zero of instrument and datum, common to all paths [m]. */
  readonly zeroM: number;
  /** Scale of the instrument, common to all paths: relative. */
  readonly scale: number;
  /** Tension of the whole check about the one stated, common to all paths [N]. */
  readonly tensionCheckN: number;
  /** Stiffness EA of each material: relative. It counts only where the check was read at another tension than the plan's. */
  readonly stiffness: number;
  /** Measuring point of each row about that of the others, common to a row's paths on both sides [m]. */
  readonly rowPointM: number;
  /** Hanging of each side about the other, common to a side's paths [m]. */
  readonly sidePointM: number;
}

/**
 * Defaults, to be replaced by what the user knows of the instrument and the set-up. The reasons stand beside the words
 * in {@link READING_UNCERTAINTY_NOTES}.
 */
export const DEFAULT_READING_UNCERTAINTY: ReadingUncertainty = {
  resolutionM: 0.001,
  readingM: 0.001,
  readingDegreesOfFreedom: 8,
  tensionEachN: 2,
  zeroM: 0.001,
  scale: rectangular(0.0002),
  tensionCheckN: 1,
  stiffness: 0.25,
  rowPointM: 0,
  sidePointM: 0,
};

export interface UncertaintyNote {
  /** Text for a form or a report. */
  readonly label: Key;
  readonly unit: "m" | "N" | "relative" | "degrees of freedom";
  /** Text of where the default comes from. */
  readonly source: Key;
}

export const READING_UNCERTAINTY_NOTES: Readonly<Record<keyof ReadingUncertainty, UncertaintyNote>> = {
  resolutionM: {
    label: "readings.uncertainty.resolution",
    unit: "m",
    source: "readings.uncertainty.resolution.source",
  },
  readingM: {
    label: "readings.uncertainty.hand",
    unit: "m",
    source: "readings.uncertainty.hand.source",
  },
  readingDegreesOfFreedom: {
    label: "readings.uncertainty.freedom",
    unit: "degrees of freedom",
    source: "readings.uncertainty.freedom.source",
  },
  tensionEachN: {
    label: "readings.uncertainty.tension-each",
    unit: "N",
    source: "readings.uncertainty.tension-each.source",
  },
  zeroM: {
    label: "readings.uncertainty.zero",
    unit: "m",
    source: "readings.uncertainty.zero.source",
  },
  scale: {
    label: "readings.uncertainty.scale",
    unit: "relative",
    source: "readings.uncertainty.scale.source",
  },
  tensionCheckN: {
    label: "readings.uncertainty.tension-check",
    unit: "N",
    source: "readings.uncertainty.tension-check.source",
  },
  stiffness: {
    label: "readings.uncertainty.stiffness",
    unit: "relative",
    source: "readings.uncertainty.stiffness.source",
  },
  rowPointM: {
    label: "readings.uncertainty.row-point",
    unit: "m",
    source: "readings.uncertainty.row-point.source",
  },
  sidePointM: {
    label: "readings.uncertainty.side-point",
    unit: "m",
    source: "readings.uncertainty.side-point.source",
  },
};

/**
 * The settings for one check: what the caller says, else what the check says, else the default.
 *
 * @throws RangeError where a setting isn't a number of 0 or more (readingM and readingDegreesOfFreedom: above 0)
 */
export function readingUncertaintyOf(
  check: Pick<Check, "resolutionM" | "uncertainty">,
  settings: Partial<ReadingUncertainty> = {},
): ReadingUncertainty {
  const result = {
    ...DEFAULT_READING_UNCERTAINTY,
    ...ofCheck(check.resolutionM, check.uncertainty),
    ...settings,
  };
  for (const [name, value] of Object.entries(result)) {
    const above = name === "readingM" || name === "readingDegreesOfFreedom";
    const finite = Number.isFinite(value) || name === "readingDegreesOfFreedom";
    if (!finite || !(above ? value > 0 : value >= 0))
      throw new RangeError(
        `Got ${value} for ${name} when a number of 0 or more${above ? ", and not 0," : ""} was expected.`,
      );
  }
  return result;
}

function ofCheck(
  resolutionM: number | undefined,
  stated: StatedUncertainty | undefined,
): Partial<ReadingUncertainty> {
  return {
    ...(resolutionM === undefined ? {} : { resolutionM }),
    ...(stated?.zeroM === undefined ? {} : { zeroM: stated.zeroM }),
    ...(stated?.scale === undefined ? {} : { scale: stated.scale }),
    ...(stated?.tensionN === undefined ? {} : { tensionEachN: stated.tensionN }),
    ...(stated?.readingM === undefined ? {} : { readingM: stated.readingM }),
  };
}
