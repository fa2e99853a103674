/** Incidence change per rib: a stem from the zero line to a dot, and around them how well it is known. */
import { type ScaleLinear, scaleLinear } from "d3-scale";
import { area, line } from "d3-shape";
import { type KeyboardEvent, useId, useRef } from "react";
import type { Interval } from "../../diagnosis/bands.ts";
import { say } from "../../words/index.ts";
import { betweenText, plusMinus } from "../model/bandTable.ts";
import { signed } from "../model/format.ts";
import type { BandSort } from "../model/incidenceKey.ts";
import { cutBands, type IncidencePoint, widestBand } from "../model/incidenceSeries.ts";
import styles from "./Charts.module.css";
import { bandLook } from "./IncidenceKey.tsx";

export function IncidencePanel(props: {
  readonly points: readonly IncidencePoint[];
  /** The same ribs in the state that this one is held against; empty where there is none. */
  readonly held?: readonly IncidencePoint[];
  readonly heldName?: string;
  readonly x: ScaleLinear<number, number>;
  readonly left: number;
  readonly right: number;
  readonly height: number;
  /** Lowest and highest value on the axis [degrees]. */
  readonly domain: readonly [number, number];
  /** Name of the pattern that the outer band is filled with. */
  readonly hatch: string;
  /** The rib that is seen from the side, marked on both sides. */
  readonly chosen: number | undefined;
  readonly onChoose: (point: IncidencePoint) => void;
}) {
  const { x, left, right, height, domain, points, held = [] } = props;
  const group = useRef<SVGGElement>(null);
  const y = scaleLinear()
    .domain([domain[1], domain[0]])
    .range([2, height - 2]);
  const shade = area<readonly [IncidencePoint, Interval]>()
    .x(([point]) => x(point.x))
    .y0(([, band]) => y(band.low))
    .y1(([, band]) => y(band.high));
  const bands = bandsOf(points);
  const path = line<IncidencePoint>()
    .x((point) => x(point.x))
    .y((point) => y(point.degrees));
  const within = useId();
  const stop = points.find((point) => point.rib === props.chosen) ?? points[0];

  const walk = (event: KeyboardEvent<SVGElement>, index: number): void => {
    if (event.key === "Enter" || event.key === " ") {
      event.preventDefault();
      const point = points[index];
      if (point !== undefined) props.onChoose(point);
      return;
    }
    const step = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
    if (step === undefined) return;
    event.preventDefault();
    group.current?.querySelectorAll<SVGElement>("[data-incidence]")[index + step]?.focus();
  };

  return (
    <g ref={group} data-chart="incidence">
      <rect x={left} y={0} width={Math.max(0, right - left)} height={height} fill="var(--chart-ground)" />
      <clipPath id={within}>
        <rect x={left - 4} y={0} width={Math.max(0, right - left + 8)} height={height} />
      </clipPath>
      <g clipPath={`url(#${within})`}>
        {bands.map(({ sort, ribs }) => (
          <path
            key={sort}
            d={shade([...ribs]) ?? ""}
            {...bandLook(sort, props.hatch)}
            data-band={ribs.length}
            data-band-sort={sort}
          />
        ))}
      </g>
      <line x1={left} x2={right} y1={y(0)} y2={y(0)} stroke="var(--ink)" />
      {[domain[1], 0, domain[0]]
        .map((value) => ({ value, at: Math.min(height, Math.max(11, y(value) + 5)) }))
        .filter(({ value, at }) => value === 0 || Math.abs(at - y(0) - 5) > 13)
        .map(({ value, at }) => (
          <text key={value} x={left - 8} y={at} textAnchor="end" className={styles.figure}>
            {signed(value, 1)}
          </text>
        ))}
      {held.length === 0 ? null : (
        <>
          <path
            d={path([...held]) ?? ""}
            fill="none"
            stroke="var(--ink)"
            strokeWidth={1.5}
            strokeDasharray="4 3"
            data-held={held.length}
          />
          <path d={path([...points]) ?? ""} fill="none" stroke="var(--ink)" strokeWidth={1.5} />
        </>
      )}
      {points.map((point, index) => {
        const other = held.find((each) => each.rib === point.rib && each.side === point.side);
        const name = say("charts.rib.point", {
          rib: point.rib,
          side: point.side,
          angle: `${signed(point.degrees, 2)}°`,
          ...knownText(point),
          compared: other === undefined ? "no" : "yes",
          held: props.heldName ?? "",
          other: other === undefined ? "" : `${signed(other.degrees, 2)}°`,
        });
        const before = points[index - 1];
        const after = points[index + 1];
        const from = before === undefined ? left : (x(before.x) + x(point.x)) / 2;
        const to = after === undefined ? right : (x(after.x) + x(point.x)) / 2;
        return (
          <g
            key={`${point.side}${point.rib}`}
            className={styles.point}
            role="button"
            aria-label={say("charts.rib.see", { name })}
            tabIndex={point === stop ? 0 : -1}
            data-incidence={`${point.side}:${point.rib}`}
            onClick={() => props.onChoose(point)}
            onKeyDown={(event) => walk(event, index)}
          >
            <title>{name}</title>
            <rect x={from} y={0} width={Math.max(0, to - from)} height={height} fill="transparent" />
            <line
              x1={x(point.x)}
              x2={x(point.x)}
              y1={other === undefined ? y(0) : y(other.degrees)}
              y2={y(point.degrees)}
              stroke="var(--ink)"
              strokeWidth={other === undefined ? 2 : 1}
            />
            {other === undefined ? null : (
              <circle
                cx={x(other.x)}
                cy={y(other.degrees)}
                r={3.25}
                fill="var(--panel)"
                stroke="var(--ink)"
                strokeWidth={1.5}
              />
            )}
            <circle
              cx={x(point.x)}
              cy={y(point.degrees)}
              r={point.rib === props.chosen ? 5.5 : 3.5}
              fill={point.rib === props.chosen ? "var(--mark)" : "var(--ink)"}
              stroke="var(--ink)"
              strokeWidth={point.rib === props.chosen ? 1.5 : 0}
            />
          </g>
        );
      })}
      {cutBands(points, domain).map(({ point, below, above }) => (
        <g key={`${point.side}${point.rib}`} fill="var(--ink)" pointerEvents="none" data-cut={point.rib}>
          {above ? <path d={`M${x(point.x) - 4.5} 9h9l-4.5 -8z`} /> : null}
          {below ? <path d={`M${x(point.x) - 4.5} ${height - 9}h9l-4.5 8z`} /> : null}
        </g>
      ))}
    </g>
  );
}

/** Bands to draw, the outer one first: both of what is judged, else what assumptions leave. */
function bandsOf(points: readonly IncidencePoint[]): readonly {
  readonly sort: BandSort;
  readonly ribs: readonly (readonly [IncidencePoint, Interval])[];
}[] {
  const judged = points.some(({ together }) => together !== undefined);
  const of = (sort: BandSort, band: (point: IncidencePoint) => Interval | undefined) => {
    const ribs = points.flatMap((point) => {
      const interval = band(point);
      return interval === undefined ? [] : [[point, interval] as const];
    });
    return ribs.length === 0 ? [] : [{ sort, ribs }];
  };
  return judged
    ? [...of("together", ({ together }) => together), ...of("readings", ({ readings }) => readings)]
    : of("assumptions", widestBand);
}

/** How well a rib's change is known, for the places of its name. */
function knownText({ assumptions, readings, together }: IncidencePoint) {
  const known =
    together !== undefined
      ? readings === undefined
        ? "together"
        : "both"
      : assumptions === undefined
        ? "none"
        : "assumptions";
  return {
    known,
    between: together === undefined ? "" : betweenText(together),
    readings: readings === undefined ? "" : betweenText(readings),
    assumptions: assumptions === undefined ? "" : plusMinus((assumptions * Math.PI) / 180),
  };
}
