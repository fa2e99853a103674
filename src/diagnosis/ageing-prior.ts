/**
 * What is taken to be known of the lines' changes before any reading: lines of a row age alike, those of one material and
 * tier more so, and each a little on its own.
 *
 * A line of length L changes by e = L·(row's rate + its material and tier's + its side's) + τ·√L·(its own part). All four
 * are normal with mean 0, so a row's mean change is itself an unknown that the readings find; the scales are weak on purpose.
 */
import { type Line, ROWS, type Wing } from "../plan/model.ts";
import type { Term } from "./posterior.ts";

export interface AgeingPrior {
  /** τ: spread of a line's own change over the root of its length [m per √m]. */
  readonly spread: number;
  /** Standard deviation of a row's rate of change [m per m]. */
  readonly rowRate: number;
  /** Standard deviation of a material's and tier's rate about its row's [m per m]. */
  readonly groupRate: number;
  /** Standard deviation of a side's rate about its row's [m per m]. */
  readonly sideRate: number;
}

/**
 * Common practice, no source: 1.5 mm per √m for a line of its own; rear rows found 25 to 50 mm short on 7 m after years
 * give a row's rate of several mm per m, and uppers of another fibre than the lowers nearly as much between tiers.
 */
export const DEFAULT_AGEING: AgeingPrior = {
  spread: 0.0015,
  rowRate: 0.004,
  groupRate: 0.002,
  sideRate: 0.0005,
};

/** A rate that several lines share. */
export interface RateEffect {
  readonly name: string;
  /** What one unit of the effect stands for [m per m]. */
  readonly rate: number;
}

/** The prior of a wing's lines, in their order: own spreads [m] and loadings on the shared rates. */
export interface WingPrior {
  readonly spreadM: Float64Array;
  readonly lineEffects: readonly (readonly Term[])[];
  readonly effects: readonly RateEffect[];
}

/** @throws RangeError where the spread isn't positive or a rate is negative */
export function ageingPrior(wing: Wing, prior: AgeingPrior = DEFAULT_AGEING): WingPrior {
  if (!(prior.spread > 0))
    throw new RangeError(`the lines' spread is ${prior.spread}, expected a positive number`);
  const groups: { rate: number; nameOf: (line: Line) => string }[] = [
    { rate: prior.rowRate, nameOf: (line) => `row ${line.row}` },
    { rate: prior.groupRate, nameOf: (line) => `row ${line.row}, tier ${line.tier}, ${line.materialId}` },
    { rate: prior.sideRate, nameOf: (line) => `row ${line.row}, ${line.side}` },
  ];
  const effects: RateEffect[] = [];
  const indexOf = new Map<string, number>();
  for (const { rate, nameOf } of groups) {
    if (!(rate >= 0 && Number.isFinite(rate)))
      throw new RangeError(`a rate's deviation is ${rate}, expected 0 or more`);
    if (rate === 0) continue;
    for (const row of ROWS)
      for (const line of wing.lines) {
        const name = nameOf(line);
        if (line.row !== row || indexOf.has(name)) continue;
        indexOf.set(name, effects.length);
        effects.push({ name, rate });
      }
  }
  return {
    spreadM: Float64Array.from(wing.lines, (line) => prior.spread * Math.sqrt(line.lengthM)),
    lineEffects: wing.lines.map((line) =>
      groups.flatMap(({ rate, nameOf }) => {
        const index = indexOf.get(nameOf(line));
        return index === undefined || rate === 0 ? [] : [{ index, coefficient: rate * line.lengthM }];
      }),
    ),
    effects,
  };
}
