/** The colour scale, drawn as the end of a steel tape: a hook, a scale in the unit of lengths, the colours along it. */
import { legendStops } from "../../diagnosis/colour.ts";
import type { DeviationScale } from "../../diagnosis/scale.ts";
import { trimmedMm } from "../../diagnosis/wording.ts";
import { inUnit, lengthDecimals, length as lengthText, say, speech } from "../../words/index.ts";
import { signed } from "../model/format.ts";
import { tapeTicks } from "../model/tape.ts";
import styles from "./Tape.module.css";

const STOPS = 121;

/** Distance of the finest marks for what the scale holds, in the unit that is set: every tenth is written. */
function divisionOf(range: number): number {
  if (speech().unit === "in") return range > 2.4 ? 0.2 : range > 1.2 ? 0.1 : range > 0.6 ? 0.05 : 0.02;
  return range > 60 ? 4 : range > 30 ? 2 : 1;
}

export function LegendTape(props: {
  readonly scale: DeviationScale;
  /** Marked on both sides where it lies on the scale. */
  readonly toleranceM: number;
  readonly width: number;
  /** A reading to point at along the scale [m]. */
  readonly pointM: number | undefined;
  /** Whether it is of what two states differ by. */
  readonly difference?: boolean;
}) {
  const { scale, width } = props;
  const { rangeM } = scale;
  const range = inUnit(rangeM);
  const inset = 22;
  const length = Math.max(10, width - 2 * inset);
  const step = divisionOf(range);
  const labelEvery = step * 10;
  const at = (value: number): number => inset + ((value + range) / (2 * range)) * length;
  const tolerance = inUnit(props.toleranceM);
  const neutral = inUnit(scale.neutralM);
  const point =
    props.pointM === undefined ? undefined : Math.max(-range, Math.min(range, inUnit(props.pointM)));
  const labels = new Set([-range, 0, range]);
  for (let place = 1; place * labelEvery < range * 0.8; place += 1)
    labels.add(place * labelEvery).add(-place * labelEvery);
  return (
    <svg
      className={styles.svg}
      width={width}
      height={50}
      role="img"
      aria-label={say("frame.legend", {
        range: lengthText(rangeM),
        of: props.difference === true ? "difference" : "specified",
        within: neutral === 0 ? "none" : trimmedMm(scale.neutralM),
      })}
    >
      <rect x={inset} y={8} width={length} height={21} fill="var(--panel)" />
      {legendStops(scale, STOPS).map(({ deviationM, colour }, index) => (
        <rect
          key={deviationM}
          x={inset + (index / STOPS) * length}
          y={8}
          width={length / STOPS + 0.6}
          height={12}
          fill={colour.hex}
        />
      ))}
      {/* the tape's edge and its hook */}
      <path
        d={`M${inset - 6} 3V34M${inset - 6} 8H${inset + length + 1}V29H${inset - 6}`}
        fill="none"
        stroke="var(--ink)"
        strokeWidth={1.5}
      />
      {tapeTicks(-range, range, step).map(({ value, grade }) => (
        <line
          key={value}
          x1={at(value)}
          x2={at(value)}
          y1={29}
          y2={grade === "major" ? 20 : grade === "half" ? 22 : 25}
          stroke="var(--ink)"
          strokeWidth={grade === "minor" ? 0.75 : 1.25}
        />
      ))}
      {[-tolerance, tolerance]
        .filter((value) => Math.abs(value) < range)
        .map((value) => (
          <line
            key={value}
            x1={at(value)}
            x2={at(value)}
            y1={3}
            y2={20}
            stroke="var(--ink)"
            strokeWidth={1.5}
          />
        ))}
      {neutral === 0 ? null : (
        <rect
          x={at(-neutral)}
          y={8}
          width={at(neutral) - at(-neutral)}
          height={12}
          fill="none"
          stroke="var(--panel)"
          strokeWidth={1.5}
          data-neutral
        />
      )}
      {[...labels].map((value) => (
        <text key={value} x={at(value)} y={46} className={styles.label} textAnchor="middle">
          {signed(value, lengthDecimals(0))}
        </text>
      ))}
      {point === undefined ? null : (
        <path
          d={`M${at(point)} 9l-6 -9h12z`}
          fill="var(--mark)"
          stroke="var(--ink)"
          strokeWidth={1.5}
          strokeLinejoin="round"
        />
      )}
    </svg>
  );
}
