/** The row's paths on one side from the middle outwards: as they are, and those above the new line as they land. */
import { scaleLinear } from "d3-scale";
import { signedMm } from "../model/format.ts";
import type { LandingMark } from "../model/workshop-replace-swap.ts";
import own from "./Swap.module.css";

const HEIGHT = 176;
const LEFT = 42;
const RIGHT = 12;
const TOP = 14;
const FOOT = 34;

export function SwapChart(props: {
  readonly marks: readonly LandingMark[];
  /** What the paths above the new line are to meet [m]. */
  readonly targetM: number | undefined;
  readonly width: number;
  readonly label: string;
}) {
  const { marks, targetM, width, label } = props;
  const values = marks.flatMap(({ nowM, landsM }) => [nowM, landsM]).filter((value) => value !== undefined);
  if (values.length === 0) return null;
  const y = scaleLinear(
    [Math.min(0, ...values) - 0.002, Math.max(0, ...values) + 0.002],
    [HEIGHT - FOOT, TOP],
  ).nice(4);
  const x = (at: number): number => LEFT + ((at + 0.5) / marks.length) * (width - LEFT - RIGHT);
  const widest = 9 * Math.max(...marks.map(({ tabId }) => tabId.length));
  const every = Math.ceil(widest / (x(1) - x(0)));
  const places = marks.map((mark, at) => ({ ...mark, at }));
  const landing = places.filter(({ landsM }) => landsM !== undefined);
  const [first, last] = [landing[0], landing.at(-1)];
  return (
    <svg className={own.drawing} width={width} height={HEIGHT} role="img" aria-label={label}>
      {y.ticks(4).map((tick) => (
        <g key={tick}>
          <line
            x1={LEFT}
            x2={width - RIGHT}
            y1={y(tick)}
            y2={y(tick)}
            stroke={tick === 0 ? "var(--ink)" : "var(--hair)"}
          />
          <text x={LEFT - 6} y={y(tick) + 4} textAnchor="end">
            {signedMm(tick)}
          </text>
        </g>
      ))}
      {targetM === undefined || first === undefined || last === undefined ? null : (
        <line
          x1={x(first.at) - 16}
          x2={x(last.at) + 16}
          y1={y(targetM)}
          y2={y(targetM)}
          stroke="var(--mark)"
          strokeWidth={6}
        />
      )}
      {places.map(({ tabId, nowM, landsM, beside, at }) => (
        <g key={tabId}>
          {nowM === undefined || landsM === undefined ? null : (
            <line
              x1={x(at)}
              x2={x(at)}
              y1={y(nowM)}
              y2={y(landsM)}
              stroke="var(--hair-strong)"
              strokeDasharray="2 3"
            />
          )}
          {nowM === undefined ? null : (
            <circle
              cx={x(at)}
              cy={y(nowM)}
              r={4.5}
              fill={landsM === undefined && beside ? "var(--ink)" : "var(--panel)"}
              stroke="var(--ink)"
              strokeWidth={1.5}
            />
          )}
          {landsM === undefined ? null : (
            <rect
              x={x(at) - 5.5}
              y={y(landsM) - 5.5}
              width={11}
              height={11}
              fill="var(--ink)"
              transform={`rotate(45 ${x(at)} ${y(landsM)})`}
            />
          )}
          {at % every === 0 ? (
            <text x={x(at)} y={HEIGHT - FOOT + 15} textAnchor="middle">
              {tabId}
            </text>
          ) : null}
        </g>
      ))}
      <g className={own.key} transform={`translate(${LEFT} ${HEIGHT - 6})`}>
        <circle cx={5} cy={-4} r={4.5} fill="var(--panel)" stroke="var(--ink)" strokeWidth={1.5} />
        <text x={14}>as read</text>
        <circle cx={73} cy={-4} r={4.5} fill="var(--ink)" />
        <text x={82}>beside it</text>
        <rect x={143} y={-9} width={10} height={10} fill="var(--ink)" transform="rotate(45 148 -4)" />
        <text x={160}>lands here</text>
        <line x1={236} x2={254} y1={-4} y2={-4} stroke="var(--mark)" strokeWidth={6} />
        <text x={260}>to meet</text>
      </g>
    </svg>
  );
}
