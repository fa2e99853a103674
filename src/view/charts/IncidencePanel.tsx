/** Incidence change per rib: a stem from the zero line to a dot, and the band that assumptions leave around them. */
import { type ScaleLinear, scaleLinear } from "d3-scale";
import { area } from "d3-shape";
import { type KeyboardEvent, useRef } from "react";
import { signed } from "../model/format.ts";
import type { IncidencePoint } from "../model/spanSeries.ts";
import styles from "./Charts.module.css";

export function IncidencePanel(props: {
  readonly points: readonly IncidencePoint[];
  readonly x: ScaleLinear<number, number>;
  readonly left: number;
  readonly right: number;
  readonly height: number;
  /** Lowest and highest value on the axis [degrees]. */
  readonly domain: readonly [number, number];
  /** The rib that is seen from the side, marked on both sides. */
  readonly chosen: number | undefined;
  readonly onChoose: (point: IncidencePoint) => void;
}) {
  const { x, left, right, height, domain, points } = props;
  const group = useRef<SVGGElement>(null);
  const y = scaleLinear()
    .domain([domain[1], domain[0]])
    .range([2, height - 2]);
  const banded = points.some((point) => point.halfWidth !== undefined);
  const shade = area<IncidencePoint>()
    .x((point) => x(point.x))
    .y0((point) => y(point.degrees - (point.halfWidth ?? 0)))
    .y1((point) => y(point.degrees + (point.halfWidth ?? 0)));
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
      {banded ? (
        <path
          d={shade([...points]) ?? ""}
          fill="var(--hair-strong)"
          fillOpacity={0.42}
          data-band={points.filter((point) => point.halfWidth !== undefined).length}
        />
      ) : null}
      <line x1={left} x2={right} y1={y(0)} y2={y(0)} stroke="var(--ink)" />
      {[domain[1], 0, domain[0]]
        .filter((value) => value === 0 || Math.abs(y(value) - y(0)) > 13)
        .map((value) => (
          <text
            key={value}
            x={left - 8}
            y={Math.min(height, Math.max(11, y(value) + 5))}
            textAnchor="end"
            className={styles.figure}
          >
            {signed(value, 1)}
          </text>
        ))}
      {points.map((point, index) => {
        const band = point.halfWidth === undefined ? "" : ` ± ${point.halfWidth.toFixed(2)}°`;
        const name = `Rib ${point.rib} ${point.side}: ${signed(point.degrees, 2)}°${band}`;
        const before = points[index - 1];
        const after = points[index + 1];
        const from = before === undefined ? left : (x(before.x) + x(point.x)) / 2;
        const to = after === undefined ? right : (x(after.x) + x(point.x)) / 2;
        return (
          <g
            key={`${point.side}${point.rib}`}
            className={styles.point}
            role="button"
            aria-label={`${name}; see it from the side`}
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
              y1={y(0)}
              y2={y(point.degrees)}
              stroke="var(--ink)"
              strokeWidth={2}
            />
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
    </g>
  );
}
