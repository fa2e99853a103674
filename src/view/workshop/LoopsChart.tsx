/** What is left against the number of changes: each plan a column to be chosen, by the pointer or the keyboard. */
import { scaleLinear } from "d3-scale";
import { type KeyboardEvent, useRef, useState } from "react";
import { lengthNumber, lengthUnitName, say } from "../../words/index.ts";
import type { LoopPlan } from "../../workshop/index.ts";
import type { PlanPoint } from "../model/workshop-loops.ts";
import { useSize } from "../parts/hooks.ts";
import styles from "./LoopsChart.module.css";

const LEFT = 20;
const RIGHT = 12;
const TOP = 22;
/** Foot of the upper plot, head and foot of the lower, and the whole [px]. */
const FLOOR = 108;
const LOW_TOP = 112;
const LOW_FLOOR = 152;
const HEIGHT = 188;

export interface OwnPoint {
  readonly changes: number;
  readonly rmsM: number;
  readonly beyond: number;
}

export function LoopsChart(props: {
  readonly points: readonly PlanPoint[];
  readonly lead: LoopPlan;
  /** The plan that is tried; undefined where none of them is. */
  readonly current: LoopPlan | undefined;
  /** What is tried by hand, where it is none of the plans. */
  readonly own: OwnPoint | undefined;
  readonly onChoose: (plan: LoopPlan) => void;
}) {
  const { points, lead, current, own, onChoose } = props;
  const [room, size] = useSize<HTMLDivElement>();
  const area = useRef<SVGSVGElement>(null);
  const [pointed, setPointed] = useState<PlanPoint>();
  const width = Math.max(240, size.width);
  const all = own === undefined ? points : [...points, own];
  const x = scaleLinear()
    .domain([0, Math.max(1, ...all.map(({ changes }) => changes))])
    .range([LEFT + 12, width - RIGHT - 10]);
  const y = scaleLinear()
    .domain([0, Math.max(0.0005, ...all.map(({ rmsM }) => rmsM))])
    .range([FLOOR, TOP + 10]);
  const most = Math.max(1, ...all.map(({ beyond }) => beyond));
  const height = scaleLinear()
    .domain([0, most])
    .range([0, LOW_FLOOR - LOW_TOP - 14]);
  const pitch =
    points.length > 1 ? (x(points[points.length - 1]?.changes ?? 1) - x(0)) / (points.length - 1) : 60;
  const half = Math.min(22, pitch / 2);
  const leadX = x(lead.changes.length);
  const currentPoint = points.find(({ plan }) => plan === current);
  const stop = currentPoint ?? points.find(({ plan }) => plan === lead) ?? points[0];
  const said = pointed ?? currentPoint ?? points.find(({ plan }) => plan === lead);

  const walk = (event: KeyboardEvent, from: number): void => {
    const to = { ArrowRight: from + 1, ArrowLeft: from - 1, Home: 0, End: points.length - 1 }[event.key];
    if (to === undefined) return;
    event.preventDefault();
    area.current
      ?.querySelectorAll<SVGElement>("[data-plan]")
      [Math.max(0, Math.min(points.length - 1, to))]?.focus();
  };
  const labelled = new Set<PlanPoint["standing"]>(["as it is", "nine tenths", "best"]);
  const [tenths, rest] = [say("loops.chart.tenths"), say("loops.chart.rest")];

  return (
    <figure className={styles.figure} data-loops-chart={points.length}>
      <div ref={room}>
        {/* biome-ignore lint/a11y/noSvgWithoutTitle: the figure's caption names it, and a title would hang over the points */}
        <svg
          ref={area}
          width={width}
          height={HEIGHT}
          viewBox={`0 0 ${width} ${HEIGHT}`}
          className={styles.chart}
        >
          <rect x={LEFT} y={TOP} width={width - LEFT - RIGHT} height={LOW_FLOOR - TOP} fill="var(--paper)" />
          {lead.changes.length > 0 && leadX < width - RIGHT - 20 ? (
            <g>
              <rect
                x={leadX}
                y={TOP}
                width={width - RIGHT - leadX}
                height={LOW_FLOOR - TOP}
                className={styles.rest}
              />
              <line
                x1={leadX}
                x2={leadX}
                y1={TOP - 4}
                y2={LOW_FLOOR}
                stroke="var(--ink)"
                strokeDasharray="3 3"
              />
              <text x={leadX - 6} y={TOP - 8} textAnchor="end" className={styles.strong}>
                {leadX > 32 + 7 * tenths.length ? tenths : "9/10"}
              </text>
              {width - RIGHT - leadX > 5.3 * rest.length ? (
                <text x={leadX + 6} y={TOP - 8}>
                  {rest}
                </text>
              ) : null}
            </g>
          ) : null}
          <line x1={LEFT} x2={width - RIGHT} y1={FLOOR} y2={FLOOR} stroke="var(--hair-strong)" />
          <line x1={LEFT} x2={width - RIGHT} y1={LOW_FLOOR} y2={LOW_FLOOR} stroke="var(--ink)" />
          <text x={width - RIGHT - 4} y={LOW_TOP + 12} textAnchor="end" className={styles.soft}>
            {say("loops.chart.beyond")}
          </text>
          <text x={LEFT - 6} y={FLOOR + 4} textAnchor="end" className={styles.number}>
            0
          </text>
          <text x={LEFT + 4} y={FLOOR - 6} className={styles.soft}>
            {say("loops.chart.left", { unit: lengthUnitName() })}
          </text>
          <polyline
            points={points.map((point) => `${x(point.changes)},${y(point.rmsM)}`).join(" ")}
            fill="none"
            stroke="var(--ink)"
            strokeWidth={1.5}
          />
          {own === undefined ? null : (
            <g data-own-point>
              <rect
                x={x(own.changes) - 5.5}
                y={y(own.rmsM) - 5.5}
                width={11}
                height={11}
                transform={`rotate(45 ${x(own.changes)} ${y(own.rmsM)})`}
                fill="var(--mark)"
                stroke="var(--ink)"
                strokeWidth={1.5}
              />
            </g>
          )}
          {points.map((point, index) => {
            const at = x(point.changes);
            const chosen = point === currentPoint;
            return (
              <g
                key={point.changes}
                className={styles.plan}
                data-plan={point.changes}
                data-standing={point.standing}
                role="button"
                aria-label={point.text}
                aria-pressed={chosen}
                tabIndex={point === stop ? 0 : -1}
                onClick={() => onChoose(point.plan)}
                onPointerEnter={() => setPointed(point)}
                onPointerLeave={() => setPointed(undefined)}
                onFocus={() => setPointed(point)}
                onBlur={() => setPointed(undefined)}
                onKeyDown={(event) => {
                  if (event.key === "Enter" || event.key === " ") {
                    event.preventDefault();
                    onChoose(point.plan);
                  } else walk(event, index);
                }}
              >
                <rect x={at - half} y={TOP} width={2 * half} height={HEIGHT - TOP} fill="transparent" />
                {chosen ? (
                  <circle
                    cx={at}
                    cy={y(point.rmsM)}
                    r={11}
                    fill="var(--mark)"
                    stroke="var(--ink)"
                    strokeWidth={1.5}
                  />
                ) : null}
                <PlanMark standing={point.standing} x={at} y={y(point.rmsM)} />
                {labelled.has(point.standing) ? (
                  <text
                    x={at - (point.standing === "nine tenths" ? 5 : 0)}
                    y={y(point.rmsM) - 14}
                    textAnchor={point.standing === "nine tenths" ? "end" : "middle"}
                    className={styles.number}
                  >
                    {lengthNumber(point.rmsM, 1)}
                  </text>
                ) : null}
                <rect
                  x={at - Math.min(7, half - 1)}
                  y={LOW_FLOOR - height(point.beyond)}
                  width={2 * Math.min(7, half - 1)}
                  height={height(point.beyond)}
                  fill="var(--ink-soft)"
                />
                {pitch > 15 || labelled.has(point.standing) ? (
                  <text
                    x={at}
                    y={LOW_FLOOR - height(point.beyond) - 3}
                    textAnchor="middle"
                    className={styles.small}
                  >
                    {point.beyond}
                  </text>
                ) : null}
                {pitch > 20 || labelled.has(point.standing) ? (
                  <text
                    x={at}
                    y={LOW_FLOOR + 16}
                    textAnchor="middle"
                    className={
                      point.standing === "nine tenths" || point.standing === "best"
                        ? styles.numberStrong
                        : styles.number
                    }
                  >
                    {point.changes}
                  </text>
                ) : null}
                <rect
                  className={styles.ring}
                  x={at - half}
                  y={TOP}
                  width={2 * half}
                  height={LOW_FLOOR + 20 - TOP}
                />
              </g>
            );
          })}
          <text x={(LEFT + width - RIGHT) / 2} y={HEIGHT - 4} textAnchor="middle" className={styles.soft}>
            {say("loops.chart.changes")}
          </text>
        </svg>
      </div>
      <figcaption className={styles.said} aria-live="polite">
        {said === undefined ? "" : `${said.text}.`}
      </figcaption>
      <ul className={styles.key}>
        {points.some(({ standing }) => standing === "nine tenths") ? (
          <Key standing="nine tenths" label={say("loops.chart.key.tenths")} />
        ) : null}
        <Key standing="best" label={say("loops.chart.key.best")} />
        {points.some(({ standing }) => standing === "nearly as good") ? (
          <Key standing="nearly as good" label={say("loops.chart.key.nearly")} />
        ) : null}
        {own === undefined ? null : (
          <li>
            <svg width={16} height={16} aria-hidden="true">
              <rect
                x={3.5}
                y={3.5}
                width={9}
                height={9}
                transform="rotate(45 8 8)"
                fill="var(--mark)"
                stroke="var(--ink)"
              />
            </svg>
            {say("loops.chart.key.own")}
          </li>
        )}
      </ul>
    </figure>
  );
}

/** Form alone tells the plans apart. */
function PlanMark({
  standing,
  x,
  y,
}: {
  readonly standing: PlanPoint["standing"];
  readonly x: number;
  readonly y: number;
}) {
  switch (standing) {
    case "nine tenths":
      return <circle cx={x} cy={y} r={6.5} fill="var(--ink)" stroke="var(--panel)" />;
    case "best":
      return (
        <>
          <circle cx={x} cy={y} r={7} fill="var(--panel)" stroke="var(--ink)" strokeWidth={1.5} />
          <circle cx={x} cy={y} r={3} fill="var(--ink)" />
        </>
      );
    case "nearly as good":
      return <circle cx={x} cy={y} r={5} fill="var(--panel)" stroke="var(--ink)" strokeWidth={2} />;
    case "as it is":
      return <rect x={x - 4} y={y - 4} width={8} height={8} fill="var(--ink)" />;
    case "other":
      return <circle cx={x} cy={y} r={3} fill="var(--ink)" />;
  }
}

function Key({ standing, label }: { readonly standing: PlanPoint["standing"]; readonly label: string }) {
  return (
    <li>
      <svg width={18} height={18} aria-hidden="true">
        <PlanMark standing={standing} x={9} y={9} />
      </svg>
      {label}
    </li>
  );
}
