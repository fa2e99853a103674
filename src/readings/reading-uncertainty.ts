/**
 * What readings of a check are taken to be uncertain by: settings of the user's, with defaults and where each is from.
 * Standard uncertainties (one standard deviation) throughout, SI units.
 */
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
  /** For a form or a report. */
  readonly label: string;
  readonly unit: "m" | "N" | "relative" | "degrees of freedom";
  /** Where the default comes from. */
  readonly source: string;
}

export const READING_UNCERTAINTY_NOTES: Readonly<Record<keyof ReadingUncertainty, UncertaintyNote>> = {
  resolutionM: {
    label: "Resolution of the instrument",
    unit: "m",
    source:
      "From the check where it says so; else 1 mm: common practice, no source. Taken as rectangular over a step.",
  },
  readingM: {
    label: "Reading point and hand, each reading",
    unit: "m",
    source: "Common practice, no source. Repeats in the check replace it step by step.",
  },
  readingDegreesOfFreedom: {
    label: "Weight of these settings against the check's own repeats",
    unit: "degrees of freedom",
    source:
      "A figure that is itself known to about 25 %: JCGM 100:2008, G.4.2. That it is known so well is common practice, no source.",
  },
  tensionEachN: {
    label: "Tension, each reading",
    unit: "N",
    source: "Common practice, no source: a pull held by hand against a spring balance.",
  },
  zeroM: {
    label: "Zero of instrument and measuring point, the same for all",
    unit: "m",
    source: "Common practice, no source.",
  },
  scale: {
    label: "Scale of the instrument, the same for all",
    unit: "relative",
    source:
      "0.2 mm per metre as a limit either way, as for a class II tape (OIML R 35-1, from memory), taken as rectangular.",
  },
  tensionCheckN: {
    label: "Tension of the whole check, the same for all",
    unit: "N",
    source: "Common practice, no source: 5 kg pull with 49 N, and pass for 50 N.",
  },
  stiffness: {
    label: "Stiffness of each line material",
    unit: "relative",
    source: "Estimated from breaking forces, themselves known to about 25 %: common practice, no source.",
  },
  rowPointM: {
    label: "Measuring point, row against row",
    unit: "m",
    source:
      "None assumed: all rows read from the same point. Set it where each row hangs on a hook of its own.",
  },
  sidePointM: {
    label: "Hanging, side against side",
    unit: "m",
    source:
      "None assumed: both sides read in one hanging. Set it where the wing was hung anew for the second side.",
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
