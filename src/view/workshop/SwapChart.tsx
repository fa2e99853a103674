/** The row's paths on one side from the middle outwards: as they are, and those above the new line as they land. */
import { scaleLinear } from "d3-scale";
import type { ReactNode } from "react";
import { inUnit, lengthDecimals, say, signedFixed } from "../../words/index.ts";
import type { LandingMark } from "../model/workshop-replace-swap.ts";
import own from "./Swap.module.css";

const HEIGHT = 162;
const LEFT = 42;
const RIGHT = 12;
const TOP = 14;
const FOOT = 20;

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
  // In the unit that is set, so that its steps are round ones.
  const scale = scaleLinear(
    [inUnit(Math.min(0, ...values) - 0.002), inUnit(Math.max(0, ...values) + 0.002)],
    [HEIGHT - FOOT, TOP],
  ).nice(4);
  const y = (valueM: number): number => scale(inUnit(valueM));
  const x = (at: number): number => LEFT + ((at + 0.5) / marks.length) * (width - LEFT - RIGHT);
  const widest = 9 * Math.max(...marks.map(({ tabId }) => tabId.length));
  const every = Math.ceil(widest / (x(1) - x(0)));
  const places = marks.map((mark, at) => ({ ...mark, at }));
  const landing = places.filter(({ landsM }) => landsM !== undefined);
  const [first, last] = [landing[0], landing.at(-1)];
  return (
    <>
      <svg className={own.drawing} width={width} height={HEIGHT} role="img" aria-label={label}>
        {scale.ticks(4).map((tick) => (
          <g key={tick}>
            <line
              x1={LEFT}
              x2={width - RIGHT}
              y1={scale(tick)}
              y2={scale(tick)}
              stroke={tick === 0 ? "var(--ink)" : "var(--hair)"}
            />
            <text x={LEFT - 6} y={scale(tick) + 4} textAnchor="end">
              {signedFixed(tick, lengthDecimals(0))}
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
      </svg>
      <ul className={own.key}>
        <KeyItem text={say("replace.chart.read")}>
          <circle cx={8} cy={8} r={4.5} fill="var(--panel)" stroke="var(--ink)" strokeWidth={1.5} />
        </KeyItem>
        <KeyItem text={say("replace.chart.beside")}>
          <circle cx={8} cy={8} r={4.5} fill="var(--ink)" />
        </KeyItem>
        <KeyItem text={say("replace.chart.lands")}>
          <rect x={3} y={3} width={10} height={10} fill="var(--ink)" transform="rotate(45 8 8)" />
        </KeyItem>
        <KeyItem text={say("replace.chart.meet")}>
          <line x1={0} x2={16} y1={8} y2={8} stroke="var(--mark)" strokeWidth={6} />
        </KeyItem>
      </ul>
    </>
  );
}

function KeyItem({ text, children }: { readonly text: string; readonly children: ReactNode }) {
  return (
    <li>
      <svg width={16} height={16} aria-hidden="true">
        {children}
      </svg>
      {text}
    </li>
  );
}
