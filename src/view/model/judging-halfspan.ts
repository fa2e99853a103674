/** Quantities along the half-span, row by row: left less right in pairs, and each side's deviations laid over each other. */

import { median } from "d3-array";
import type { Assessed, Assessment } from "../../diagnosis/assess.ts";
import { type Outcome, outcomeCase } from "../../diagnosis/conformity.ts";
import type { Analysis } from "../../diagnosis/model.ts";
import { robustLine } from "../../diagnosis/robust.ts";
import { ROWS, type Row, type Side, type Tab } from "../../plan/model.ts";
import { say } from "../../words/index.ts";
import { signedMm } from "./format.ts";
import { expandedText, valueText } from "./judging-words.ts";
import { axisStepM, spanPosition } from "./spanSeries.ts";

export interface HalfPoint {
  /** The tab's key; of a pair the left one's, where there is one. */
  readonly tabKey: string;
  /** Keys of all tabs concerned: of a pair both. */
  readonly tabKeys: readonly string[];
  /** The line at the tab, then its twin's where the point is a pair. */
  readonly lineKeys: readonly string[];
  readonly row: Row;
  /** Undefined for a pair. */
  readonly side: Side | undefined;
  /** 0 in the wing's middle, 1 at the tip. */
  readonly x: number;
  /** [m]; undefined where there is a gap. */
  readonly valueM: number | undefined;
  /** Expanded, k = 2 [m]. */
  readonly expandedM: number;
  readonly outcome: Outcome | undefined;
  /** The point in words and figures. */
  readonly text: string;
}

/** One row: its points from the middle to the tip; of two sides the left ones first. */
export interface HalfPanel {
  readonly row: Row;
  readonly points: readonly HalfPoint[];
  /** Mean of the row with its uncertainty, in words; undefined where nothing was read. */
  readonly summary: string | undefined;
  /** The same for a narrow heading, the sides by their marks. */
  readonly brief: string | undefined;
}

/**
 * Left less right for every pair of tabs, a panel a row. A pair of which one side wasn't read, or which the plan gives on one
 * side only, is a gap that says so.
 *
 * @param assessment decisions of the same check: values, uncertainties and outcomes are taken from it
 */
export function pairPanels(analysis: Analysis, assessment: Assessment): readonly HalfPanel[] {
  const position = spanPosition(analysis);
  const pairs = byFirstTab(assessment, "pair");
  const paths = byFirstTab(assessment, "path");
  const tabs = new Map(analysis.wing.tabs.map((tab) => [tab.key, tab]));
  const twinOf = (tab: Tab): Tab | undefined =>
    tab.mirrorKey === undefined ? undefined : tabs.get(tab.mirrorKey);
  return panels(analysis, assessment, "sides", (row) =>
    analysis.wing.tabs
      .filter((tab) => tab.row === row && (tab.side === "left" || twinOf(tab) === undefined))
      .map((tab): HalfPoint => {
        const twin = twinOf(tab);
        const [left, right] = tab.side === "left" ? [tab, twin] : [twin, tab];
        const pair = pairs.get(tab.key);
        const leftM = paths.get(left?.key ?? "")?.valueM;
        const rightM = paths.get(right?.key ?? "")?.valueM;
        const sides = { id: tab.id, left: figure(leftM), right: figure(rightM) };
        return {
          tabKey: tab.key,
          tabKeys: twin === undefined ? [tab.key] : [tab.key, twin.key],
          lineKeys: twin === undefined ? [tab.lineKey] : [tab.lineKey, twin.lineKey],
          row,
          side: undefined,
          x: Math.abs(position(tab.side, tab.rib)),
          valueM: pair?.valueM,
          expandedM: 2 * (pair?.standardUncertaintyM ?? 0),
          outcome: pair?.decision.outcome,
          text:
            pair === undefined
              ? twin === undefined
                ? say("judging.pair.alone", { id: tab.id, side: tab.side })
                : say("judging.pair.none", sides)
              : say("judging.pair", {
                  ...sides,
                  value: valueText(pair.valueM, pair.standardUncertaintyM),
                  outcome: outcomeCase(pair.decision.outcome),
                }),
        };
      }),
  );
}

/** Deviations of both sides over the distance from the middle, a panel a row; a path that wasn't read is a gap. */
export function spanPanels(analysis: Analysis, assessment: Assessment): readonly HalfPanel[] {
  const position = spanPosition(analysis);
  const paths = byFirstTab(assessment, "path");
  return panels(analysis, assessment, undefined, (row) =>
    (["left", "right"] as const).flatMap((side) =>
      analysis.wing.tabs
        .filter((tab) => tab.row === row && tab.side === side)
        .map((tab): HalfPoint => {
          const path = paths.get(tab.key);
          return {
            tabKey: tab.key,
            tabKeys: [tab.key],
            lineKeys: [tab.lineKey],
            row,
            side,
            x: Math.abs(position(side, tab.rib)),
            valueM: path?.valueM,
            expandedM: 2 * (path?.standardUncertaintyM ?? 0),
            outcome: path?.decision.outcome,
            text:
              path === undefined
                ? say("judging.path.none", { id: tab.id, side })
                : say("judging.path", {
                    id: tab.id,
                    side,
                    value: valueText(path.valueM, path.standardUncertaintyM),
                    outcome: outcomeCase(path.decision.outcome),
                  }),
          };
        })
        .sort((a, b) => a.x - b.x),
    ),
  );
}

function panels(
  analysis: Analysis,
  assessment: Assessment,
  summaryOf: "sides" | undefined,
  pointsOf: (row: Row) => readonly HalfPoint[],
): readonly HalfPanel[] {
  return ROWS.flatMap((row): HalfPanel[] => {
    const points = pointsOf(row);
    if (points.length === 0) return [];
    if (summaryOf === undefined) {
      const mean = analysis.rows.find((each) => each.row === row);
      // Values may be without their uniform part, so the means are made of them.
      const meanOn = (side: Side): string => figure(meanOf(points.filter((point) => point.side === side)));
      const sides = { left: meanOn("left"), right: meanOn("right") };
      const wasRead = mean?.meanM !== undefined;
      return [
        {
          row,
          points,
          summary: wasRead ? say("judging.means", sides) : undefined,
          brief: wasRead ? say("judging.means.brief", sides) : undefined,
        },
      ];
    }
    const sides = assessment.assessed.find((each) => each.kind === "sides" && each.rows[0] === row);
    const summary =
      sides === undefined
        ? undefined
        : say("judging.average", {
            value: `${signedMm(sides.valueM, 1)} ${expandedText(sides.standardUncertaintyM)}`,
          });
    return [{ row, points: [...points].sort((a, b) => a.x - b.x), summary, brief: summary }];
  });
}

function meanOf(points: readonly HalfPoint[]): number | undefined {
  const values = points.flatMap(({ valueM }) => (valueM === undefined ? [] : [valueM]));
  return values.length === 0 ? undefined : values.reduce((sum, value) => sum + value, 0) / values.length;
}

function byFirstTab(assessment: Assessment, kind: Assessed["kind"]): ReadonlyMap<string, Assessed> {
  return new Map(
    assessment.assessed.flatMap((each) =>
      each.kind === kind && each.tabKeys[0] !== undefined ? [[each.tabKeys[0], each] as const] : [],
    ),
  );
}

function figure(valueM: number | undefined): string {
  return valueM === undefined ? say("judging.not-read") : signedMm(valueM, 1);
}

/** Axis [lowest, highest] that holds all points with their bars, the limits and zero, rounded out to whole steps of {@link axisStepM} [m]. */
export function halfDomain(
  shown: readonly HalfPanel[],
  toleranceM: number | undefined,
): readonly [number, number] {
  let low = -(toleranceM ?? 0.005) * 1.15;
  let high = (toleranceM ?? 0.005) * 1.15;
  for (const { points } of shown)
    for (const { valueM, expandedM } of points) {
      if (valueM === undefined) continue;
      low = Math.min(low, valueM - expandedM);
      high = Math.max(high, valueM + expandedM);
    }
  const step = axisStepM();
  return [Math.floor(low / step + 1e-9) * step, Math.ceil(high / step - 1e-9) * step];
}

/** Rows that would squeeze the others on a common scale: those more than twice as far out, limits included. */
export function onOwnScale(shown: readonly HalfPanel[], toleranceM: number): ReadonlySet<Row> {
  const reach = ({ points }: HalfPanel): number =>
    Math.max(0, ...points.map(({ valueM }) => Math.abs(valueM ?? 0)));
  const profile = shown.filter(({ row }) => row !== "brake" && row !== "tip");
  const usual = Math.max(toleranceM, ...profile.map(reach));
  return new Set(
    shown.filter((panel) => !profile.includes(panel) && reach(panel) > 2 * usual).map(({ row }) => row),
  );
}

/** Neighbours farther apart than this many times the usual distance are not joined. */
const FAR = 2.5;

/** Points of one side or of pairs cut at their gaps: runs of neighbours that can be joined by a line. */
export function joinedRuns(points: readonly HalfPoint[]): readonly (readonly HalfPoint[])[] {
  const steps = points.slice(1).map((point, i) => point.x - (points[i]?.x ?? 0));
  const far = Math.max(FAR * (median(steps) ?? 0), 0.02);
  const runs: HalfPoint[][] = [];
  let run: HalfPoint[] = [];
  for (const point of points) {
    const before = run[run.length - 1];
    if (point.valueM === undefined || (before !== undefined && point.x - before.x > far)) {
      if (run.length > 0) runs.push(run);
      run = [];
    }
    if (point.valueM !== undefined) run.push(point);
  }
  if (run.length > 0) runs.push(run);
  return runs;
}

/** Both sides as one run of points from the middle to the tip: their mean where both were read, else the one that was. */
export function meanOfSides(points: readonly HalfPoint[]): readonly HalfPoint[] {
  const places = new Map<string, HalfPoint[]>();
  for (const point of points) {
    const place = point.x.toFixed(6);
    places.set(place, [...(places.get(place) ?? []), point]);
  }
  return [...places.values()]
    .flatMap((here): HalfPoint[] => {
      const [first] = here;
      return first === undefined ? [] : [{ ...first, side: undefined, valueM: meanOf(here) }];
    })
    .sort((a, b) => a.x - b.x);
}

export interface Trend {
  /** Value at the middle of the wing and change to the tip [m]. */
  readonly atMiddleM: number;
  readonly toTipM: number;
  readonly fromX: number;
  readonly toX: number;
}

/** Straight trend along the half-span that a few outliers hardly move: see `robustLine`. Undefined below five points. */
export function robustTrend(points: readonly HalfPoint[]): Trend | undefined {
  const read = points.flatMap(({ x, valueM }) => (valueM === undefined ? [] : [{ x, y: valueM }]));
  if (read.length < 5) return undefined;
  const { level, slope } = robustLine(read);
  return {
    atMiddleM: level,
    toTipM: slope,
    fromX: Math.min(...read.map(({ x }) => x)),
    toX: Math.max(...read.map(({ x }) => x)),
  };
}

/** Where a key leads from a point: along its own row, or to the nearest point of the row above or below. */
export function stepFrom(shown: readonly HalfPanel[], from: HalfPoint, key: string): HalfPoint | undefined {
  const reachable = ({ points }: HalfPanel): readonly HalfPoint[] =>
    points.filter((point) => point.valueM !== undefined).sort((a, b) => a.x - b.x);
  const place = shown.findIndex(({ row }) => row === from.row);
  const own = shown[place];
  if (own === undefined) return undefined;
  const row = reachable(own);
  const index = row.findIndex(({ tabKey }) => tabKey === from.tabKey);
  switch (key) {
    case "ArrowLeft":
      return row[index - 1];
    case "ArrowRight":
      return row[index + 1];
    case "Home":
      return row[0];
    case "End":
      return row[row.length - 1];
    case "ArrowUp":
    case "ArrowDown": {
      const next = shown[place + (key === "ArrowUp" ? -1 : 1)];
      if (next === undefined) return undefined;
      return [...reachable(next)].sort((a, b) => Math.abs(a.x - from.x) - Math.abs(b.x - from.x))[0];
    }
    default:
      return undefined;
  }
}
