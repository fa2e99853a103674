/** What a plot along the half-span is drawn with besides its points: limits, gaps, trends, names. */
import type { ScaleLinear } from "d3-scale";
import type { Row } from "../../plan/model.ts";
import { rowName } from "../model/format.ts";
import { type HalfPoint, robustTrend } from "../model/judging-halfspan.ts";
import { spreadLabels } from "../model/spanSeries.ts";
import styles from "./HalfSpan.module.css";

/** Points that belong together: one row, one side or pairs. */
export interface PlotSeries {
  readonly row: Row;
  readonly points: readonly HalfPoint[];
  readonly hollow: boolean;
  /** Points that a line joins, where no trend is drawn; empty: none. */
  readonly joined: readonly HalfPoint[];
  /** Points that the trend is of; empty: none. */
  readonly trended: readonly HalfPoint[];
  readonly dash: string | undefined;
  /** Written at the end of the joined points. */
  readonly label: string | undefined;
}

export function Band(props: {
  readonly from: number;
  readonly to: number;
  readonly low: number;
  readonly high: number;
}) {
  const { from, to, low, high } = props;
  return (
    <g>
      <rect
        x={from}
        y={high}
        width={Math.max(0, to - from)}
        height={low - high}
        fill="var(--hair)"
        opacity={0.6}
      />
      {[low, high].map((at) => (
        <line key={at} x1={from} x2={to} y1={at} y2={at} stroke="var(--hair-strong)" strokeDasharray="6 4" />
      ))}
    </g>
  );
}

/** Nothing to draw is drawn as such: an open diamond at the plot's edge. */
export function Gap({
  point,
  at,
  y,
}: {
  readonly point: HalfPoint;
  readonly at: number;
  readonly y: number;
}) {
  return (
    <path
      d={`M${at} ${y - 5}l5 5l-5 5l-5 -5z`}
      fill="var(--panel)"
      stroke="var(--ink-soft)"
      data-gap={point.tabKey}
    >
      <title>{point.text}</title>
    </path>
  );
}

export function TrendLine(props: {
  readonly points: readonly HalfPoint[];
  readonly x: ScaleLinear<number, number>;
  readonly y: ScaleLinear<number, number>;
  readonly dash: string | undefined;
}) {
  const trend = robustTrend(props.points);
  if (trend === undefined) return null;
  const at = (place: number): number => props.y(trend.atMiddleM + trend.toTipM * place);
  return (
    <line
      x1={props.x(trend.fromX)}
      x2={props.x(trend.toX)}
      y1={at(trend.fromX)}
      y2={at(trend.toX)}
      strokeWidth={2}
      strokeDasharray={props.dash}
      data-trend
    />
  );
}

/** Rows named at the end of their points; a label that would touch another is moved and tied to its place. */
export function EndLabels(props: {
  readonly series: readonly PlotSeries[];
  readonly right: number;
  readonly height: number;
  readonly x: ScaleLinear<number, number>;
  readonly y: ScaleLinear<number, number>;
}) {
  const { right, height, x, y } = props;
  const ends = props.series.flatMap(({ row, label, joined }) => {
    const last = joined.findLast(({ valueM }) => valueM !== undefined);
    return label === undefined || last?.valueM === undefined
      ? []
      : [{ row, x: x(last.x), y: y(last.valueM) }];
  });
  const places = spreadLabels(
    ends.map((end) => end.y),
    16,
    8,
    Math.max(8, height - 6),
  );
  return ends.map((end, place) => {
    const at = places[place] ?? end.y;
    return (
      <g key={end.row}>
        <path d={`M${end.x + 8} ${end.y}L${right + 4} ${at}`} stroke="var(--hair-strong)" fill="none" />
        <text x={right + 7} y={at + 5} className={styles.rowLabel}>
          {rowName(end.row)}
        </text>
      </g>
    );
  });
}
