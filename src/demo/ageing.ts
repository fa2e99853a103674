/**
 * How an invented wing's lines have changed in use.
 *
 * Lines shorten or lengthen in proportion to their length, each row at its own rate and each line a little differently: the
 * lightly loaded rear rows and the brakes shorten most, the front row lengthens slightly (common practice, no source). The
 * rates are made up within that pattern; they predict nothing.
 */
import {
  keyOf,
  type PlanFile,
  type PlanHalf,
  type PlanLine,
  type Row,
  SIDES,
  type Side,
} from "../plan/index.ts";
import type { Random } from "./random.ts";

export interface Ageing {
  /** Mean change of a row's whole paths by side, negative is shorter [mm]. */
  readonly pathChangeMm: Readonly<Record<Side, Readonly<Partial<Record<Row, number>>>>>;
  /** Standard deviation of a single line's change about its row's rate, for a line of 1 m; grows as √length [mm]. */
  readonly scatterMm: number;
  /** Lower lines hitched with more take-up than the plan says. */
  readonly wrongLoops: readonly {
    readonly side: Side;
    readonly line: string;
    readonly extraTakeUpMm: number;
  }[];
}

/** What has become of a wing's lines, by line key [mm]. */
export interface AgedLines {
  /** Change of the line's own length. */
  readonly changeMm: ReadonlyMap<string, number>;
  /** Change of the length that works in its paths: the own change less what a wrong loop takes up besides. */
  readonly workingChangeMm: ReadonlyMap<string, number>;
}

/** The changes of all lines of both sides, in the plan's order, so that a seed gives the same wing every time. */
export function ageLines(plan: PlanFile, ageing: Ageing, random: Random): AgedLines {
  const changeMm = new Map<string, number>();
  const workingChangeMm = new Map<string, number>();
  for (const side of SIDES) {
    const half = halfOf(plan, side);
    const pathLengths = meanPathsMm(half);
    for (const line of half.lines) {
      const key = keyOf(side, line.id);
      const rate = (ageing.pathChangeMm[side][line.row] ?? 0) / (pathLengths.get(line.row) ?? 1);
      const change =
        rate * line.lengthMm + ageing.scatterMm * Math.sqrt(line.lengthMm / 1000) * random.normal();
      const wrong = ageing.wrongLoops.find((loop) => loop.side === side && loop.line === line.id);
      changeMm.set(key, change);
      workingChangeMm.set(key, change - (wrong?.extraTakeUpMm ?? 0));
    }
  }
  return { changeMm, workingChangeMm };
}

export function halfOf(plan: PlanFile, side: Side): PlanHalf {
  return "mirrored" in plan.sides ? plan.sides.mirrored : plan.sides[side];
}

/** The lines from a tab's line down to the lowest. */
export function chainDown(half: PlanHalf, lineId: string): PlanLine[] {
  const chain: PlanLine[] = [];
  let line = half.lines.find((each) => each.id === lineId);
  while (line) {
    chain.push(line);
    const below = line.hangsOn;
    line = half.lines.find((each) => each.id === below);
  }
  return chain;
}

/** Mean length of a row's chains of lines [mm]. */
function meanPathsMm(half: PlanHalf): Map<Row, number> {
  const sums = new Map<Row, { sum: number; count: number }>();
  for (const tab of half.tabs) {
    const length = chainDown(half, tab.line).reduce((sum, line) => sum + line.lengthMm, 0);
    const { sum, count } = sums.get(tab.row) ?? { sum: 0, count: 0 };
    sums.set(tab.row, { sum: sum + length, count: count + 1 });
  }
  return new Map([...sums].map(([row, { sum, count }]) => [row, sum / count]));
}
