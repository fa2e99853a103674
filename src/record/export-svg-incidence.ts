/** The chart of incidence changes along the span as an SVG file, with how well they are known. */
import { max, median, min } from "d3-array";
import { scaleLinear } from "d3-scale";
import { area } from "d3-shape";
import type { IncidenceBands, Interval } from "../diagnosis/bands.ts";
import type { Analysis } from "../diagnosis/model.ts";
import { say } from "../words/index.ts";
import {
  type ChartSize,
  chartFile,
  HAIR,
  INK,
  type LegendEntry,
  type Panel,
  SOFT,
} from "./export-svg-frame.ts";
import { element } from "./export-svg-text.ts";

const ID = "linewright-incidence";
const HATCH = `${ID}-hatch`;
/** The axis holds at least this much either way [degrees]. */
const LEAST_DEGREES = 0.5;
/** A band that reaches farther than this many times the usual one is cut off: it would press the others flat. */
const FAR = 3;

interface RibPoint {
  /** −1 at the left tip, 1 at the right tip. */
  readonly at: number;
  /** Nose up positive, as are the intervals [degrees]. */
  readonly degrees: number;
  /** Readings and assumptions together, and readings alone, 95 %. */
  readonly together: Interval | undefined;
  readonly readings: Interval | undefined;
}

const inDegrees = (angleRad: number): number => (angleRad * 180) / Math.PI;

export interface IncidenceChartOptions extends ChartSize {
  /** How well the angles are known, once the readings are judged. */
  readonly bands?: IncidenceBands | undefined;
}

/** Change of incidence specified → measured, rib by rib: a stem from the zero line to a dot, its 95 % bands behind. */
export function incidenceChart(analysis: Analysis, { bands, ...size }: IncidenceChartOptions = {}): string {
  const points = pointsOf(analysis, bands);
  const domain = domainOf(points);
  const cut = points.filter(
    ({ together }) => together !== undefined && (together.low < domain[0] || together.high > domain[1]),
  ).length;
  return chartFile(
    {
      id: ID,
      title: say("export.chart.incidence"),
      analysis,
      legend: bands === undefined || points.length === 0 ? [] : bandLegend(cut),
      panels: points.length === 0 ? [] : [incidencePanel(points, domain)],
      across: {
        domain: [-1, 1],
        marks: [
          [-1, say("charts.tip.left")],
          [0, say("charts.middle")],
          [1, say("charts.tip.right")],
        ],
      },
      // Lines across, so that the outer band is told from the inner without colour.
      defs: [
        element(
          "pattern",
          { id: HATCH, width: 5, height: 5, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" },
          [element("path", { d: "M0 0V5", stroke: SOFT, "stroke-width": 1.3 })],
        ),
      ],
    },
    size,
  );
}

function pointsOf({ ribs }: Analysis, bands: IncidenceBands | undefined): readonly RibPoint[] {
  const judged = new Map(bands?.ribs.map((band) => [`${band.side} ${band.rib}`, band]));
  const shown = (interval: Interval | undefined): Interval | undefined =>
    interval && { low: inDegrees(interval.low), high: inDegrees(interval.high) };
  return ribs
    .map(({ side, rib, sigma, incidenceRad }): RibPoint => {
      const band = judged.get(`${side} ${rib}`);
      return {
        at: (side === "left" ? -1 : 1) * sigma,
        degrees: inDegrees(incidenceRad),
        together: shown(band?.combined95),
        readings: shown(band?.drawn95),
      };
    })
    .sort((a, b) => a.at - b.at);
}

function domainOf(points: readonly RibPoint[]): readonly [number, number] {
  const reach = ({ degrees, together }: RibPoint): number =>
    together === undefined ? 0 : Math.max(degrees - together.low, together.high - degrees);
  const most = FAR * (median(points, reach) ?? 0);
  const low = min(points, (point) => point.degrees - Math.min(reach(point), most)) ?? 0;
  const high = max(points, (point) => point.degrees + Math.min(reach(point), most)) ?? 0;
  const [from = 0, to = 1] = scaleLinear()
    .domain([Math.min(-LEAST_DEGREES, low), Math.max(LEAST_DEGREES, high)])
    .nice()
    .domain();
  return [from, to];
}

const LOOK = {
  together: { fill: `url(#${HATCH})`, stroke: SOFT },
  readings: { fill: HAIR, "fill-opacity": 0.85 },
} as const;

function bandLegend(cut: number): LegendEntry[] {
  const box = { x: -14, y: -6, width: 28, height: 12 };
  return [
    { sign: element("rect", { ...box, ...LOOK.together }), text: say("charts.key.together") },
    { sign: element("rect", { ...box, ...LOOK.readings }), text: say("charts.key.readings") },
    ...(cut === 0
      ? []
      : [
          {
            sign: element("path", { d: "M-5 5H5L0 -5Z", fill: INK }),
            text: say("charts.key.cut", { count: cut }),
          },
        ]),
  ];
}

function incidencePanel(points: readonly RibPoint[], domain: readonly [number, number]): Panel {
  return {
    title: say("export.chart.axis.incidence"),
    domain,
    share: 1,
    draw: (x, y) => {
      const bands = (["together", "readings"] as const).flatMap((sort) => {
        const known = points.flatMap((point) => {
          const interval = point[sort];
          return interval === undefined ? [] : [{ at: point.at, interval }];
        });
        const shade = area<(typeof known)[number]>()
          .x(({ at }) => x(at))
          .y0(({ interval }) => y(interval.low))
          .y1(({ interval }) => y(interval.high))
          .digits(2);
        return known.length === 0 ? [] : [element("path", { d: shade(known) ?? "", ...LOOK[sort] })];
      });
      return [
        ...bands,
        ...points.flatMap(({ at, degrees }) => [
          element("path", {
            d: `M${x(at).toFixed(2)} ${y(0).toFixed(2)}V${y(degrees).toFixed(2)}`,
            stroke: INK,
            "stroke-width": 2,
          }),
          element("circle", { cx: x(at), cy: y(degrees), r: 4.5, fill: INK, stroke: "#ffffff" }),
        ]),
        ...points.flatMap((point) => cutMarks(point, domain, x(point.at), y)),
      ];
    },
  };
}

/** Arrows where a band goes on beyond the edge. */
function cutMarks(
  { together }: RibPoint,
  [lowest, highest]: readonly [number, number],
  at: number,
  y: (degrees: number) => number,
): string[] {
  if (together === undefined) return [];
  return [
    ...(together.high > highest ? [`M${(at - 5).toFixed(2)} ${(y(highest) + 8).toFixed(2)}h10l-5 -8z`] : []),
    ...(together.low < lowest ? [`M${(at - 5).toFixed(2)} ${(y(lowest) - 8).toFixed(2)}h10l-5 8z`] : []),
  ].map((d) => element("path", { d, fill: INK }));
}
