/** Which of the values typed for one target count: those nothing speaks against, and those read twice. */
import type { TypedValue } from "./model.ts";

/**
 * Two readings of one path this near to each other confirm each other [m]: repeats scatter by 1.5 mm (common practice, no
 * source), so that 99.5 % of honest pairs are within. A misread centimetre is beyond.
 */
export const REPEATS_WITHIN_M = 0.006;

export interface Settled {
  readonly accepted: readonly TypedValue[];
  readonly doubtful: readonly TypedValue[];
  readonly setAside: readonly TypedValue[];
}

/**
 * Values count where they were found fine, or where two entries agree. Of two camps that disagree the one of more entries counts,
 * that nothing speaks against the numbers counting like one more; then the one that the last two entries agree on; then the fine
 * one. What is outside the camp is set aside when the camp was read again afterwards; until then it stays in doubt, and the
 * target is asked for again. Several numbers of one entry don't confirm each other.
 */
export function settle(values: readonly TypedValue[], withinM: number): Settled {
  const entriesOf = (of: readonly TypedValue[]): number[] => [...new Set(of.map(({ n }) => n))];
  const lastTwo = entriesOf(values).slice(-2);
  let best: readonly TypedValue[] = [];
  let bestRank = [0, 0, 0];
  for (const value of values) {
    const camp = values.filter((other) => Math.abs(lengthOf(other) - lengthOf(value)) <= withinM + 1e-9);
    const entries = entriesOf(camp);
    const fine = camp.some(({ doubtful }) => !doubtful) ? 1 : 0;
    if (entries.length < 2 && fine === 0) continue;
    const agreed = lastTwo.length === 2 && lastTwo.every((n) => entries.includes(n)) ? 1 : 0;
    const rank = [entries.length + fine, agreed, fine];
    if (isHigher(rank, bestRank)) [best, bestRank] = [camp, rank];
  }
  const last = Math.max(-1, ...best.map(({ n }) => n));
  const outside = values.filter((value) => !best.includes(value));
  return {
    accepted: best,
    doubtful: outside.filter(({ n }) => n >= last),
    setAside: outside.filter(({ n }) => n < last),
  };
}

/** Free of the zero that it was read with. */
function lengthOf({ valueM, zeroM }: TypedValue): number {
  return valueM - zeroM;
}

function isHigher(one: readonly number[], other: readonly number[]): boolean {
  const at = one.findIndex((value, i) => value !== other[i]);
  return at >= 0 && (one[at] as number) > (other[at] as number);
}
