/** One plot along the half-span: values with their uncertainty, the limits as a band, gaps marked; pointer and keys. */
import { type ScaleLinear, scaleLinear } from "d3-scale";
import { line } from "d3-shape";
import { type PointerEvent, useRef } from "react";
import { deviationColour } from "../../diagnosis/colour.ts";
import { say } from "../../words/index.ts";
import { signedMm } from "../model/format.ts";
import { type HalfPoint, joinedRuns } from "../model/judging-halfspan.ts";
import { axisRoom, labelRoom } from "../model/spanSeries.ts";
import { usePathScale } from "../parts/scale.ts";
import styles from "./HalfSpan.module.css";
import { Band, EndLabels, Gap, type PlotSeries, TrendLine } from "./HalfSpanParts.tsx";

/** Room for the figures of the axis, in millimetres [px]. */
const LEFT = 46;
/** How near the pointer must be to a point to mean it [px]. */
const REACH = 30;
/** Points of the two sides at the same place stand this far to either side of it [px]. */
const APART = 3;

export interface PlotProps {
  readonly series: readonly PlotSeries[];
  readonly width: number;
  readonly height: number;
  readonly domainM: readonly [number, number];
  readonly toleranceM: number | undefined;
  readonly trend: boolean;
  /** Words below the plot: middle and tip. */
  readonly axis: boolean;
  readonly lit: ReadonlySet<string>;
  readonly chosen: ReadonlySet<string>;
  /** Tab key of the point that the tab key of the keyboard reaches. */
  readonly stop: string | undefined;
  readonly onPoint: (point: HalfPoint | undefined) => void;
  readonly onPick: (point: HalfPoint) => void;
  /** A key pressed on a point; true where it was used. */
  readonly onKey: (point: HalfPoint, key: string) => boolean;
}

export function HalfSpanPlot(props: PlotProps) {
  const { series, width, domainM, toleranceM, lit, chosen } = props;
  const scale = usePathScale();
  const area = useRef<SVGSVGElement>(null);
  const left = axisRoom(LEFT);
  const labelled = series.some(({ label }) => label !== undefined);
  const right = width - (labelled ? labelRoom(series.flatMap(({ label }) => label ?? [])) : 10);
  const height = props.height - (props.axis ? 22 : 4);
  const x = scaleLinear()
    .domain([0, 1])
    .range([left + 8, right - 8]);
  const y = scaleLinear()
    .domain([domainM[1], domainM[0]])
    .range([4, height - 4]);
  const both = new Set(series.map(({ hollow }) => hollow)).size > 1;
  const places = new Map(
    series.flatMap(({ points, hollow }) => {
      const shift = both ? (hollow ? APART : -APART) : 0;
      const at = spreadOut(points.map((point) => x(point.x)));
      return points.map((point, i) => [point.tabKey, (at[i] ?? 0) + shift] as const);
    }),
  );
  const px = (point: HalfPoint): number => places.get(point.tabKey) ?? x(point.x);
  // A line over both sides runs between them, through the places themselves.
  const joining = line<HalfPoint>()
    .x((point) => (both && point.side === undefined ? x(point.x) : px(point)))
    .y((point) => y(point.valueM ?? 0));

  const placed = series.flatMap(({ points, hollow }) =>
    points.flatMap((point) =>
      point.valueM === undefined ? [] : [{ point, hollow, x: px(point), y: y(point.valueM) }],
    ),
  );
  // Gaps stand at the foot, or at the head where the foot is full.
  const low = placed.filter((entry) => entry.y > height / 2).length;
  const gapY = 2 * low > placed.length ? 8 : height - 7;
  const isIn = (keys: ReadonlySet<string>, point: HalfPoint): boolean =>
    point.tabKeys.some((key) => keys.has(key));
  const rank = (point: HalfPoint): number => (isIn(lit, point) ? 2 : isIn(chosen, point) ? 1 : 0);
  const drawn = [...placed].sort((a, b) => rank(a.point) - rank(b.point));

  const nearest = (event: PointerEvent<SVGElement>): HalfPoint | undefined => {
    const box = area.current?.getBoundingClientRect();
    if (box === undefined) return undefined;
    const at = [event.clientX - box.left, event.clientY - box.top] as const;
    let best: HalfPoint | undefined;
    let distance = REACH;
    for (const entry of placed) {
      // Along the span counts most: a column is meant, whatever the height.
      const d = Math.hypot(entry.x - at[0], (entry.y - at[1]) * 0.6);
      if (d < distance) {
        best = entry.point;
        distance = d;
      }
    }
    return best;
  };

  return (
    // biome-ignore lint/a11y/noSvgWithoutTitle: the figure's caption names it, and a title would hang over the points
    <svg
      ref={area}
      className={styles.chart}
      width={width}
      height={props.height}
      viewBox={`0 0 ${width} ${props.height}`}
    >
      {/* biome-ignore lint/a11y/noStaticElementInteractions: the pointer means the nearest point; each point is a button of its own for the keyboard */}
      <g
        onPointerMove={(event) => props.onPoint(nearest(event))}
        onPointerLeave={() => props.onPoint(undefined)}
        onClick={(event) => {
          const point = nearest(event as unknown as PointerEvent<SVGElement>);
          if (point !== undefined) props.onPick(point);
        }}
      >
        <rect x={left} y={0} width={Math.max(0, right - left)} height={height} fill="var(--paper)" />
        {toleranceM === undefined ? null : (
          <Band from={left} to={right} low={y(-toleranceM)} high={y(toleranceM)} />
        )}
        <line x1={left} x2={right} y1={y(0)} y2={y(0)} stroke="var(--ink)" />
        {axisValues(y, domainM, toleranceM, height).map(({ value, at }) => (
          <text key={value} x={left - 6} y={at} textAnchor="end" className={styles.figure}>
            {signedMm(value)}
          </text>
        ))}
        {series.map(({ row, points, hollow, dash, joined, trended }) => (
          <g key={`${row} ${hollow}`} fill="none" stroke="var(--ink)">
            {props.trend
              ? null
              : joinedRuns(joined).map((run) => (
                  <path
                    key={run[0]?.tabKey}
                    d={joining([...run]) ?? ""}
                    strokeOpacity={0.55}
                    strokeDasharray={dash}
                  />
                ))}
            {props.trend ? <TrendLine points={trended} x={x} y={y} dash={dash} /> : null}
            {points.map((point) =>
              point.valueM !== undefined ? null : (
                <Gap key={point.tabKey} point={point} at={px(point)} y={gapY} />
              ),
            )}
          </g>
        ))}
        {drawn.map(({ point, hollow, x: at, y: height }) => {
          const colour = deviationColour(point.valueM, scale).hex;
          const shown = rank(point);
          return (
            <g
              key={point.tabKey}
              className={styles.point}
              data-tab={point.tabKey}
              data-lit={shown === 2 || undefined}
              data-picked={isIn(chosen, point) || undefined}
              role="button"
              tabIndex={point.tabKey === props.stop ? 0 : -1}
              aria-label={point.text}
              aria-pressed={isIn(chosen, point)}
              onFocus={() => props.onPoint(point)}
              onBlur={() => props.onPoint(undefined)}
              onKeyDown={(event) => {
                if (event.key === "Enter" || event.key === " ") {
                  event.preventDefault();
                  props.onPick(point);
                } else if (props.onKey(point, event.key)) event.preventDefault();
              }}
            >
              {shown > 0 ? (
                <circle
                  cx={at}
                  cy={height}
                  r={shown === 2 ? 10 : 8}
                  fill="var(--mark)"
                  stroke="var(--ink)"
                  strokeWidth={shown === 2 ? 2 : 1}
                />
              ) : null}
              <line
                x1={at}
                x2={at}
                y1={y((point.valueM ?? 0) - point.expandedM)}
                y2={y((point.valueM ?? 0) + point.expandedM)}
                stroke="var(--ink)"
                strokeWidth={labelled && shown === 0 ? 1 : 1.5}
                strokeOpacity={labelled && shown === 0 ? 0.6 : 1}
              />
              <circle className={styles.ring} cx={at} cy={height} r={11} fill="none" stroke="var(--ink)" />
              {hollow ? (
                <circle cx={at} cy={height} r={3.9} fill="var(--panel)" stroke={colour} strokeWidth={2.2} />
              ) : (
                <circle cx={at} cy={height} r={4.6} fill={colour} stroke="var(--panel)" />
              )}
            </g>
          );
        })}
      </g>
      {labelled ? <EndLabels series={series} right={right} y={y} height={height} x={x} /> : null}
      {props.axis ? (
        <g className={styles.axis}>
          <text x={left} y={props.height - 5}>
            {say("charts.middle")}
          </text>
          <text x={right} y={props.height - 5} textAnchor="end">
            {say("charts.tip")}
          </text>
        </g>
      ) : null}
    </svg>
  );
}

/** Points nearer than this are drawn beside each other, towards the middle, so that each can be read and touched [px]. */
const TOO_NEAR = 12;

function spreadOut(places: readonly number[]): readonly number[] {
  const order = places.map((_, i) => i).sort((a, b) => (places[b] ?? 0) - (places[a] ?? 0));
  const result = [...places];
  order.forEach((i, rank) => {
    const outer = order[rank - 1];
    if (outer === undefined) return;
    const room = (result[outer] ?? 0) - (result[i] ?? 0);
    // Only those that share a place: close neighbours keep theirs.
    if (room < TOO_NEAR / 3) result[i] = (result[outer] ?? 0) - TOO_NEAR;
  });
  return result;
}

/** Values written on the axis, those that matter most first; one that would touch another is left out. */
function axisValues(
  y: ScaleLinear<number, number>,
  [low, high]: readonly [number, number],
  toleranceM: number | undefined,
  height: number,
): readonly { readonly value: number; readonly at: number }[] {
  const written: { readonly value: number; readonly at: number }[] = [];
  for (const value of [0, ...(toleranceM === undefined ? [] : [-toleranceM, toleranceM]), low, high]) {
    const at = Math.min(height - 1, Math.max(12, y(value) + 5));
    if (written.every((other) => Math.abs(other.at - at) >= 15)) written.push({ value, at });
  }
  return written;
}
