/** Deviations against span position: a line a row, a point a tab, a gap where nothing was measured. */
import { type ScaleLinear, scaleLinear } from "d3-scale";
import { line } from "d3-shape";
import { type KeyboardEvent, type PointerEvent, useRef, useState } from "react";
import { deviationColour } from "../../diagnosis/colour.ts";
import { trimmedMm } from "../../diagnosis/wording.ts";
import type { Row } from "../../plan/model.ts";
import { say } from "../../words/index.ts";
import { deviationText, rowName, signedMm } from "../model/format.ts";
import { measuredRuns, type SpanPoint, type SpanSeries, spreadLabels } from "../model/spanSeries.ts";
import { usePathScale } from "../parts/scale.ts";
import styles from "./Charts.module.css";

/** Each row has its own stroke, so that rows are told apart without colour. */
const STROKE: Readonly<Record<Row, string | undefined>> = {
  A: undefined,
  B: "9 3",
  C: "5 3",
  D: "2 3",
  tip: "1 5",
  brake: undefined,
};

/** How near the pointer must be to a point to mean it [px]. */
const REACH = 26;

interface Placed {
  readonly point: SpanPoint;
  readonly row: Row;
  readonly px: number;
  readonly py: number;
}

export function DeviationPanel(props: {
  readonly series: readonly SpanSeries[];
  readonly x: ScaleLinear<number, number>;
  readonly left: number;
  readonly right: number;
  readonly height: number;
  /** Lowest and highest value on the axis [m]. */
  readonly domainM: readonly [number, number];
  readonly toleranceM: number | undefined;
  /** Tabs lit by the pointer, and tabs of what is picked. */
  readonly lit: ReadonlySet<string>;
  readonly chosen: ReadonlySet<string>;
  readonly onHover: (lineKey: string | undefined) => void;
  readonly onPick: (lineKey: string) => void;
  readonly name: string;
}) {
  const { x, left, right, height, domainM, toleranceM, lit, chosen } = props;
  const scale = usePathScale();
  const area = useRef<SVGGElement>(null);
  const [stop, setStop] = useState<string>();
  const y = scaleLinear()
    .domain([domainM[1], domainM[0]])
    .range([2, height - 2]);
  const path = line<SpanPoint>()
    .x((point) => x(point.x))
    .y((point) => y(point.deviationM ?? 0));

  const placed: Placed[] = props.series.flatMap(({ row, points }) =>
    points.flatMap((point) =>
      point.deviationM === undefined ? [] : [{ point, row, px: x(point.x), py: y(point.deviationM) }],
    ),
  );
  const order = (entry: Placed): number =>
    lit.has(entry.point.tabKey) ? 2 : chosen.has(entry.point.tabKey) ? 1 : 0;
  const drawn = [...placed].sort((a, b) => order(a) - order(b));
  const current = placed.some(({ point }) => point.tabKey === stop) ? stop : placed[0]?.point.tabKey;

  const ends = props.series.flatMap(({ row, points }) => {
    const last = points.findLast((point) => point.deviationM !== undefined);
    return last?.deviationM === undefined ? [] : [{ row, at: y(last.deviationM), end: x(last.x) }];
  });
  const labelAt = spreadLabels(
    ends.map(({ at }) => at),
    15,
    6,
    Math.max(6, height - 4),
  );

  /** Values written on the axis, those that matter most first; one that would touch another is left out. */
  const axisValues = (
    [low, high]: readonly [number, number],
    tolerance: number | undefined,
  ): readonly { readonly value: number; readonly y: number }[] => {
    const written: { readonly value: number; readonly y: number }[] = [];
    const candidates = [0, low, high, ...(tolerance === undefined ? [] : [-tolerance, tolerance])];
    for (const value of candidates) {
      const at = Math.min(height, Math.max(11, y(value) + 5));
      if (written.every((other) => Math.abs(other.y - at) >= 14)) written.push({ value, y: at });
    }
    return written;
  };

  const nearest = (event: PointerEvent<SVGElement>): Placed | undefined => {
    const box = area.current?.ownerSVGElement?.getBoundingClientRect();
    const shift = area.current?.getCTM();
    if (box === undefined || shift === null || shift === undefined) return undefined;
    const px = event.clientX - box.left - shift.e;
    const py = event.clientY - box.top - shift.f;
    let best: Placed | undefined;
    let distance = REACH;
    for (const entry of placed) {
      const d = Math.hypot(entry.px - px, entry.py - py);
      if (d < distance) {
        best = entry;
        distance = d;
      }
    }
    return best;
  };

  const walk = (event: KeyboardEvent<SVGElement>, entry: Placed): void => {
    if (event.key === "Enter" || event.key === " ") {
      event.preventDefault();
      props.onPick(entry.point.lineKey);
      return;
    }
    const next = neighbour(placed, entry, event.key);
    if (next === undefined) return;
    event.preventDefault();
    setStop(next.point.tabKey);
    area.current?.querySelector<SVGElement>(`[data-tab="${CSS.escape(next.point.tabKey)}"]`)?.focus();
  };

  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: the pointer means the nearest point; each point is a button of its own for the keyboard
    <g
      ref={area}
      onPointerMove={(event) => props.onHover(nearest(event)?.point.lineKey)}
      onPointerLeave={() => props.onHover(undefined)}
      onClick={(event) => {
        const entry = nearest(event as unknown as PointerEvent<SVGElement>);
        if (entry !== undefined) props.onPick(entry.point.lineKey);
      }}
    >
      <rect x={left} y={0} width={Math.max(0, right - left)} height={height} fill="var(--chart-ground)" />
      {toleranceM === undefined ? null : (
        <rect
          x={left}
          y={y(toleranceM)}
          width={Math.max(0, right - left)}
          height={y(-toleranceM) - y(toleranceM)}
          fill="var(--hair)"
          opacity={0.6}
        >
          <title>{say("charts.tolerance", { limit: trimmedMm(toleranceM) })}</title>
        </rect>
      )}
      <line x1={left} x2={right} y1={y(0)} y2={y(0)} stroke="var(--ink)" strokeWidth={1} />
      {axisValues(domainM, toleranceM).map(({ value, y: at }) => (
        <text key={value} x={left - 8} y={at} textAnchor="end" className={styles.figure}>
          {signedMm(value)}
        </text>
      ))}
      {props.series.map((series) =>
        measuredRuns(series).map((run) => (
          <path
            key={`${series.row}${run[0]?.tabKey}`}
            d={path([...run]) ?? ""}
            fill="none"
            stroke="var(--ink)"
            strokeOpacity={0.75}
            strokeWidth={1.5}
            strokeDasharray={STROKE[series.row]}
          />
        )),
      )}
      {ends.map(({ row, at, end }, index) => {
        const label = labelAt[index] ?? at;
        return (
          <g key={row}>
            <path d={`M${end + 6} ${at}L${right + 8} ${label}`} stroke="var(--hair-strong)" fill="none" />
            <text x={right + 12} y={label + 5} className={styles.rowLabel}>
              {rowName(row)}
            </text>
          </g>
        );
      })}
      {drawn.map((entry) => {
        const { point, row, px, py } = entry;
        const isLit = lit.has(point.tabKey);
        const isChosen = chosen.has(point.tabKey);
        return (
          <g
            key={point.tabKey}
            className={styles.point}
            data-tab={point.tabKey}
            data-line={point.lineKey}
            data-lit={isLit || undefined}
            data-picked={isChosen || undefined}
            role="button"
            tabIndex={point.tabKey === current ? 0 : -1}
            aria-label={say("charts.point", {
              id: point.tabId,
              side: point.side,
              row,
              deviation: deviationText(point.deviationM),
            })}
            aria-pressed={isChosen}
            onFocus={() => {
              setStop(point.tabKey);
              props.onHover(point.lineKey);
            }}
            onBlur={() => props.onHover(undefined)}
            onKeyDown={(event) => walk(event, entry)}
          >
            {isLit || isChosen ? (
              <circle
                cx={px}
                cy={py}
                r={isLit ? 9 : 7.5}
                fill="var(--mark)"
                stroke="var(--ink)"
                strokeWidth={isLit ? 2 : 1}
              />
            ) : null}
            <circle
              cx={px}
              cy={py}
              r={4.25}
              fill={deviationColour(point.deviationM, scale).hex}
              stroke="var(--panel)"
            />
          </g>
        );
      })}
    </g>
  );
}

/** Left and right: the next point of the same row; up and down: the nearest point above or below. Home and End: the tips. */
function neighbour(placed: readonly Placed[], from: Placed, key: string): Placed | undefined {
  const same = placed.filter(({ row }) => row === from.row);
  const index = same.indexOf(from);
  switch (key) {
    case "ArrowLeft":
      return same[index - 1];
    case "ArrowRight":
      return same[index + 1];
    case "Home":
      return same[0];
    case "End":
      return same[same.length - 1];
    case "ArrowUp":
    case "ArrowDown": {
      const sign = key === "ArrowUp" ? -1 : 1;
      const others = placed.filter((entry) => entry.row !== from.row && (entry.py - from.py) * sign >= 0);
      const cost = (entry: Placed): number => Math.abs(entry.px - from.px) * 3 + Math.abs(entry.py - from.py);
      return others.sort((a, b) => cost(a) - cost(b))[0];
    }
    default:
      return undefined;
  }
}
