/** Deviation along the span, row by row. */
import { median, pairs } from "d3-array";
import type { Analysis } from "../../diagnosis/model.ts";
import { ROWS, type Row, type Side } from "../../plan/model.ts";
import { speech } from "../../words/index.ts";

export interface SpanPoint {
  readonly tabKey: string;
  readonly tabId: string;
  /** The line that ends at the tab. */
  readonly lineKey: string;
  readonly side: Side;
  readonly rib: number;
  /** −1 at the left tip, 0 in the middle, 1 at the right tip. */
  readonly x: number;
  /** Undefined where the tab was not measured. */
  readonly deviationM: number | undefined;
}

export interface SpanSeries {
  readonly row: Row;
  /** From the left tip to the right tip. */
  readonly points: readonly SpanPoint[];
}

/**
 * Where each rib stands along the span: the model's flat half-span coordinate where it knows the rib, else rib over the largest rib number.
 * @returns a function from side and rib to −1 (left tip) … 1 (right tip)
 */
export function spanPosition(analysis: Analysis): (side: Side, rib: number) => number {
  const known = new Map<number, number>();
  for (const rib of analysis.model.ribs) known.set(rib.rib, rib.sigma);
  const last = Math.max(1, ...analysis.wing.tabs.map((tab) => tab.rib));
  const at = (rib: number): number => {
    const sigma = known.get(rib);
    if (sigma !== undefined) return sigma;
    let below: number | undefined;
    let above: number | undefined;
    for (const other of known.keys()) {
      if (other < rib && (below === undefined || other > below)) below = other;
      if (other > rib && (above === undefined || other < above)) above = other;
    }
    const low = below ?? 0;
    const high = above ?? last;
    const sigmaLow = below === undefined ? 0 : (known.get(below) ?? 0);
    const sigmaHigh = above === undefined ? 1 : (known.get(above) ?? 1);
    return high === low ? sigmaHigh : sigmaLow + ((sigmaHigh - sigmaLow) * (rib - low)) / (high - low);
  };
  return (side, rib) => (side === "left" ? -1 : 1) * at(rib);
}

/** One series a row that the wing has, front to rear, points from the left tip to the right tip. */
export function spanSeries(analysis: Analysis): readonly SpanSeries[] {
  const position = spanPosition(analysis);
  const deviation = new Map(analysis.deviations.paths.map((path) => [path.tabKey, path.deviationM]));
  return ROWS.flatMap((row): readonly SpanSeries[] => {
    const points = analysis.wing.tabs
      .filter((tab) => tab.row === row)
      .map(
        (tab): SpanPoint => ({
          tabKey: tab.key,
          tabId: tab.id,
          lineKey: tab.lineKey,
          side: tab.side,
          rib: tab.rib,
          x: position(tab.side, tab.rib),
          deviationM: deviation.get(tab.key),
        }),
      )
      .sort((a, b) => a.x - b.x);
    return points.length === 0 ? [] : [{ row, points }];
  });
}

/** Neighbours farther apart than this many times the usual distance are not joined: no line where there are no tabs. */
const FAR = 2.5;

/** A series cut at its gaps: runs of neighbouring measured points, none across a stretch of the span without tabs. */
export function measuredRuns(series: SpanSeries): readonly (readonly SpanPoint[])[] {
  const usual = median(pairs(series.points, (a, b) => b.x - a.x)) ?? 0;
  const runs: SpanPoint[][] = [];
  let run: SpanPoint[] = [];
  for (const point of series.points) {
    const before = run[run.length - 1];
    if (before !== undefined && point.x - before.x > Math.max(FAR * usual, 0.02)) {
      runs.push(run);
      run = [];
    }
    if (point.deviationM === undefined) {
      if (run.length > 0) runs.push(run);
      run = [];
    } else run.push(point);
  }
  if (run.length > 0) runs.push(run);
  return runs;
}

/** The largest deviation by size over some series [m]; 0 where nothing was measured. */
export function largestDeviation(series: readonly SpanSeries[]): number {
  let largest = 0;
  for (const { points } of series)
    for (const { deviationM } of points) largest = Math.max(largest, Math.abs(deviationM ?? 0));
  return largest;
}

/** Whether the brakes need a scale of their own: they exceed the other rows' scale by half or more. */
export function brakesApart(series: readonly SpanSeries[], toleranceM: number): boolean {
  const brakes = largestDeviation(series.filter(({ row }) => row === "brake"));
  const others = largestDeviation(series.filter(({ row }) => row !== "brake"));
  return brakes > 1.5 * Math.max(others, toleranceM);
}

/** What axes of deviations are rounded out to, even in the unit that is set: 5 mm or 0.2 in [m]. */
export function axisStepM(): number {
  return speech().unit === "in" ? 0.2 * 0.0254 : 0.005;
}

/** Room left of an axis for its figures, wider where they have decimals [px]. @param inMm in millimetres */
export function axisRoom(inMm: number): number {
  return speech().unit === "in" ? inMm + 12 : inMm;
}

/** Axis of deviations, [lowest, highest]: holds all points and the tolerance on both sides, rounded out to whole steps of {@link axisStepM} [m]. */
export function deviationDomain(
  series: readonly SpanSeries[],
  toleranceM: number,
): readonly [number, number] {
  let low = -toleranceM * 1.2;
  let high = toleranceM * 1.2;
  for (const { points } of series) {
    for (const { deviationM = 0 } of points) {
      low = Math.min(low, deviationM * 1.06);
      high = Math.max(high, deviationM * 1.06);
    }
  }
  const step = axisStepM();
  return [Math.floor(low / step + 1e-9) * step, Math.ceil(high / step - 1e-9) * step];
}

/** Room at the end of a chart for the rows' names [px]. */
export function labelRoom(names: readonly string[]): number {
  return 14 + 8 * Math.max(5, ...names.map((name) => name.length));
}

/** Labels that must not overlap: moved apart to at least `gap`, order kept, as little as possible. Input in any order. */
export function spreadLabels(
  wanted: readonly number[],
  gap: number,
  low: number,
  high: number,
): readonly number[] {
  const order = wanted.map((_, index) => index).sort((a, b) => (wanted[a] ?? 0) - (wanted[b] ?? 0));
  const placed = order.map((index) => wanted[index] ?? 0);
  for (let i = 0; i < placed.length; i += 1) {
    const floor = i === 0 ? low : (placed[i - 1] ?? 0) + gap;
    placed[i] = Math.max(placed[i] ?? 0, floor);
  }
  for (let i = placed.length - 1; i >= 0; i -= 1) {
    const ceiling = i === placed.length - 1 ? high : (placed[i + 1] ?? 0) - gap;
    placed[i] = Math.min(placed[i] ?? 0, ceiling);
  }
  const result = new Array<number>(wanted.length).fill(0);
  order.forEach((index, rank) => {
    result[index] = placed[rank] ?? 0;
  });
  return result;
}
