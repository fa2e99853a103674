/** The scale that deviations are coloured by: where it ends, and within what nothing can be told. */
import type { PathUncertainties } from "../readings/uncertainty.ts";
import type { Attribution } from "./attribution.ts";
import { median } from "./average.ts";
import { COVERAGE } from "./findings/grounds.ts";
import type { LineDeviation } from "./model.ts";

/** One for every mark on a screen, so that the same deviation has the same colour everywhere. */
export interface DeviationScale {
  /** Deviation at both ends [m]; positive. */
  readonly rangeM: number;
  /** Half width within which everything has the neutral colour [m]; 0 to half of the range. */
  readonly neutralM: number;
  /** The expanded uncertainty that the neutral stands for [m]: wider than it where the range leaves no room; 0 where there is none. */
  readonly expandedM: number;
}

/** Of the range at most this much is neutral: colours that are still told apart need the rest. */
const MOST_NEUTRAL = 0.5;

/**
 * A scale whose neutral is as wide as an uncertainty.
 *
 * Where the uncertainty is more than half of the range, the neutral ends at half of it: a scale that is all neutral would
 * show a gross mistake as nothing. What lies between is then coloured although it isn't told apart; a legend has to say so
 * (see {@link isCramped}), and a wider range mends it.
 *
 * @param rangeM deviation at the ends [m]
 * @param expandedM expanded uncertainty of what is coloured [m]; 0 for no neutral, by default
 * @throws RangeError where the range isn't positive or the uncertainty is negative
 */
export function deviationScaleOf(rangeM: number, expandedM = 0): DeviationScale {
  if (!(rangeM > 0)) throw new RangeError(`The colour scale's range must be positive, got ${rangeM} m.`);
  if (!(expandedM >= 0)) throw new RangeError(`An uncertainty can't be negative, got ${expandedM} m.`);
  return { rangeM, neutralM: Math.min(expandedM, MOST_NEUTRAL * rangeM), expandedM };
}

/** Whether the uncertainty is wider than the neutral that the range leaves room for. */
export function isCramped({ neutralM, expandedM }: DeviationScale): boolean {
  return expandedM > neutralM;
}

/**
 * Expanded uncertainty of a path as they come [m]: k = 2 (JCGM 100:2008, 6.2) times the median of the standard
 * uncertainties of the paths read. The median, since a few paths read badly shouldn't grey all others. 0 where no path was
 * read or no uncertainty was worked out.
 */
export function pathExpandedM(uncertainties: PathUncertainties | undefined): number {
  if (uncertainties === undefined) return 0;
  return (
    COVERAGE * (median([...uncertainties.totalM].filter((_, tab) => uncertainties.read[tab] === 1)) ?? 0)
  );
}

/**
 * The same of a change put down to a single line [m]: k = 2 times the median of the estimate's standard deviations, over the
 * lines through which a reading runs; of the others nothing is coloured. 0 where there is none.
 */
export function lineExpandedM(
  lines: readonly LineDeviation[],
  attribution: Pick<Attribution, "lines"> | undefined,
): number {
  const read = new Set(lines.filter(({ basis }) => basis !== "not measured").map(({ lineKey }) => lineKey));
  const deviationsM = (attribution?.lines ?? []).flatMap(({ lineKey, deviationM }) =>
    read.has(lineKey) ? [deviationM] : [],
  );
  return COVERAGE * (median(deviationsM) ?? 0);
}
