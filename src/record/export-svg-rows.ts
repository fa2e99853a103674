/** Charts of deviations as SVG files: along the span by row, and left less right. */
import { max, median, pairs } from "d3-array";
import { scaleLinear } from "d3-scale";
import {
  line,
  type SymbolType,
  symbol,
  symbolCircle,
  symbolCross,
  symbolDiamond,
  symbolSquare,
  symbolStar,
  symbolTriangle,
} from "d3-shape";
import { deviationColour, legendStops } from "../diagnosis/colour.ts";
import type { Analysis } from "../diagnosis/model.ts";
import { type DeviationScale, isCramped } from "../diagnosis/scale.ts";
import { plainMm } from "../diagnosis/wording.ts";
import { ROWS, type Row, type Tab } from "../plan/index.ts";
import { inUnit, lengthNumber, lengthUnitName, say, signedLength } from "../words/index.ts";
import { type ChartSize, chartFile, INK, type LegendEntry, type Panel } from "./export-svg-frame.ts";
import { element } from "./export-svg-text.ts";

/** A shape for each row and strokes of its own, so that rows are told apart without colour. */
const SHAPE: Readonly<Record<Row, SymbolType>> = {
  A: symbolCircle,
  B: symbolSquare,
  C: symbolTriangle,
  D: symbolDiamond,
  tip: symbolStar,
  brake: symbolCross,
};
const STROKE: Readonly<Record<Row, string | undefined>> = {
  A: undefined,
  B: "9 3",
  C: "5 3",
  D: "2 3",
  tip: "1 5",
  brake: "12 3 2 3",
};
const AREA_PX2 = 72;
/** Neighbours farther apart than this many times the usual distance are not joined: there are no tabs between. */
const FAR = 2.5;
const LEAST_GAP = 0.02;
/** The brakes get a panel of their own where they are off by this much more than the others, which would be pressed flat. */
const APART = 1.5;

interface RowPoint {
  /** −1 at the left tip, 0 in the middle, 1 at the right tip. */
  readonly at: number;
  /** Undefined where not measured [m]. */
  readonly valueM: number | undefined;
}

interface RowSeries {
  readonly row: Row;
  readonly points: readonly RowPoint[];
}

export interface DeviationChartOptions extends ChartSize {
  readonly scale: DeviationScale;
}

/** Deviations path by path along the span, a shape a row, coloured as on the screen, with the tolerance of paths behind. */
export function deviationChart(analysis: Analysis, { scale, ...size }: DeviationChartOptions): string {
  const { wing, deviations } = analysis;
  const across = spanPlace(analysis);
  const series = seriesOf(wing.tabs, (tab, place) => ({
    at: (tab.side === "left" ? -1 : 1) * across(tab.rib),
    valueM: deviations.paths[place]?.deviationM,
  }));
  const { pathM } = wing.tolerances;
  const unit = lengthUnitName();
  const brakes = series.filter(({ row }) => row === "brake");
  const others = series.filter(({ row }) => row !== "brake");
  const apart = largestM(brakes) > APART * Math.max(largestM(others), pathM) && others.length > 0;
  const title = say("export.chart.axis.deviation", { unit });
  const panels = apart
    ? [
        rowsPanel(title, others, scale, pathM, 3),
        rowsPanel(
          say("charts.brakes", { unit, scale: say("charts.brakes.scale") }),
          brakes,
          scale,
          undefined,
          1,
        ),
      ]
    : [rowsPanel(title, series, scale, pathM, 1)];
  return chartFile(
    {
      id: "linewright-deviation",
      title: say("export.chart.deviation"),
      analysis,
      legend: [...rowLegend(series), ...colourLegend(scale), toleranceLegend(pathM)],
      panels: series.length === 0 ? [] : panels,
      across: {
        domain: [-1, 1],
        marks: [
          [-1, say("charts.tip.left")],
          [0, say("charts.middle")],
          [1, say("charts.tip.right")],
        ],
      },
    },
    size,
  );
}

/**
 * Each tab on the left less the same on the right, from the middle to the tip, with the tolerance of pairs behind. In ink: the
 * scale's colours stand for deviations from the plan.
 */
export function pairsChart(analysis: Analysis, size: ChartSize = {}): string {
  const { wing, deviations } = analysis;
  const across = spanPlace(analysis);
  const deviationM = new Map(deviations.paths.map((path) => [path.tabKey, path.deviationM]));
  const lefts = wing.tabs.filter(({ side, mirrorKey }) => side === "left" && mirrorKey !== undefined);
  const series = seriesOf(lefts, ({ key, rib, mirrorKey = "" }) => {
    const [left, right] = [deviationM.get(key), deviationM.get(mirrorKey)];
    return { at: across(rib), valueM: left === undefined || right === undefined ? undefined : left - right };
  });
  const { leftRightM } = wing.tolerances;
  const title = say("export.chart.axis.pairs", { unit: lengthUnitName() });
  return chartFile(
    {
      id: "linewright-pairs",
      title: say("export.chart.pairs"),
      analysis,
      legend: [...rowLegend(series), toleranceLegend(leftRightM)],
      panels: series.length === 0 ? [] : [rowsPanel(title, series, undefined, leftRightM, 1)],
      across: {
        domain: [0, 1],
        marks: [
          [0, say("charts.middle")],
          [1, say("charts.tip")],
        ],
      },
    },
    size,
  );
}

/** Rows of which something was measured, front to rear, their points from one end to the other. */
function seriesOf(
  tabs: readonly Tab[],
  pointOf: (tab: Tab, place: number) => RowPoint,
): readonly RowSeries[] {
  const points = tabs.map((tab, place) => ({ row: tab.row, point: pointOf(tab, place) }));
  return ROWS.flatMap((row) => {
    const own = points.filter((each) => each.row === row).map(({ point }) => point);
    return own.some(({ valueM }) => valueM !== undefined)
      ? [{ row, points: own.sort((a, b) => a.at - b.at) }]
      : [];
  });
}

/** Where a rib stands over the half-span: as the model has it, in proportion between ribs that it knows. */
function spanPlace({ model }: Analysis): (rib: number) => number {
  const known = new Map([[0, 0], ...model.ribs.map(({ rib, sigma }) => [rib, sigma] as const)]);
  const ribs = [...known.keys()].sort((a, b) => a - b);
  return scaleLinear()
    .domain(ribs)
    .range(ribs.map((rib) => known.get(rib) as number))
    .clamp(true);
}

function largestM(series: readonly RowSeries[]): number {
  return max(series, ({ points }) => max(points, ({ valueM = 0 }) => Math.abs(valueM))) ?? 0;
}

/** @param scale that points are coloured by; ink where left out */
function rowsPanel(
  title: string,
  series: readonly RowSeries[],
  scale: DeviationScale | undefined,
  toleranceM: number | undefined,
  share: number,
): Panel {
  const values = series.flatMap(({ points }) => points.map(({ valueM = 0 }) => inUnit(valueM)));
  const tolerance = toleranceM === undefined ? undefined : inUnit(toleranceM);
  const held = tolerance === undefined ? [] : [-1.2 * tolerance, 1.2 * tolerance];
  const [low = 0, high = 1] = scaleLinear()
    .domain([Math.min(0, ...held, ...values), Math.max(0, ...held, ...values)])
    .nice()
    .domain();
  return {
    title,
    domain: [low, high],
    share,
    tolerance,
    draw: (x, y) => {
      const path = line<RowPoint>()
        .x(({ at }) => x(at))
        .y(({ valueM = 0 }) => y(inUnit(valueM)))
        .digits(2);
      const joins = series.flatMap((one) =>
        runs(one.points).map((run) =>
          element("path", {
            d: path(run) ?? "",
            fill: "none",
            stroke: INK,
            "stroke-opacity": 0.7,
            "stroke-width": 1.3,
            "stroke-dasharray": STROKE[one.row],
          }),
        ),
      );
      const points = series.flatMap(({ row, points: all }) =>
        all.flatMap(({ at, valueM }) =>
          valueM === undefined
            ? []
            : [
                element("path", {
                  transform: `translate(${x(at).toFixed(2)} ${y(inUnit(valueM)).toFixed(2)})`,
                  d: shapeOf(row),
                  fill: scale === undefined ? INK : deviationColour(valueM, scale).hex,
                  stroke: "#ffffff",
                  "stroke-width": 0.8,
                }),
              ],
        ),
      );
      return [...joins, ...points];
    },
  };
}

/** Points next to each other that were measured, cut where the span has no tabs. */
function runs(points: readonly RowPoint[]): RowPoint[][] {
  const usual = median(pairs(points, (a, b) => b.at - a.at)) ?? 0;
  const found: RowPoint[][] = [[]];
  points.forEach((point, i) => {
    const before = points[i - 1];
    if (before !== undefined && point.at - before.at > Math.max(FAR * usual, LEAST_GAP)) found.push([]);
    if (point.valueM === undefined) found.push([]);
    else found.at(-1)?.push(point);
  });
  return found.filter((run) => run.length > 1);
}

function shapeOf(row: Row): string {
  return symbol(SHAPE[row], AREA_PX2).digits(2)() ?? "";
}

function rowLegend(series: readonly RowSeries[]): LegendEntry[] {
  return series.map(({ row }) => ({
    sign: [
      element("path", {
        d: "M-14 0H14",
        stroke: INK,
        "stroke-opacity": 0.7,
        "stroke-width": 1.3,
        "stroke-dasharray": STROKE[row],
      }),
      element("path", { d: shapeOf(row), fill: INK }),
    ].join(""),
    text: say("charts.row.label", { row }),
  }));
}

/** The scale in steps, and what its grey means. */
function colourLegend(scale: DeviationScale): LegendEntry[] {
  const stops = legendStops(scale, 7);
  const width = 28 / stops.length;
  const { rangeM, neutralM, expandedM } = scale;
  const unit = lengthUnitName();
  const expanded = lengthNumber(expandedM, 1);
  return [
    {
      sign: stops
        .map(({ colour }, i) =>
          element("rect", { x: -14 + i * width, y: -6, width, height: 12, fill: colour.hex }),
        )
        .join(""),
      text: say("charts.to", { low: signedLength(-rangeM), high: signedLength(rangeM) }),
    },
    ...(expandedM === 0
      ? []
      : [
          {
            sign: element("rect", {
              x: -14,
              y: -6,
              width: 28,
              height: 12,
              fill: deviationColour(0, scale).hex,
            }),
            text: isCramped(scale)
              ? say("charts.scale.cramped", {
                  neutral: lengthNumber(neutralM, 1),
                  expanded,
                  unit,
                  of: "path",
                })
              : say("charts.scale", { expanded, unit, of: "path" }),
          },
        ]),
  ];
}

function toleranceLegend(limitM: number): LegendEntry {
  return {
    sign: element("rect", {
      x: -14,
      y: -6,
      width: 28,
      height: 12,
      fill: "#c9d1cd",
      "fill-opacity": 0.55,
      stroke: "#c9d1cd",
    }),
    text: say("charts.tolerance", { limit: plainMm(limitM) }),
  };
}
