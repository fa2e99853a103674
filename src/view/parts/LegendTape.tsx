/** The colour scale, drawn as the end of a steel tape: a hook, a scale in millimetres, the colours along it. */
import { legendStops } from "../../diagnosis/colour.ts";
import type { DeviationScale } from "../../diagnosis/scale.ts";
import { signed } from "../model/format.ts";
import { tapeTicks } from "../model/tape.ts";
import styles from "./Tape.module.css";

const STOPS = 121;

export function LegendTape(props: {
  readonly scale: DeviationScale;
  /** Marked on both sides where it lies on the scale. */
  readonly toleranceM: number;
  readonly width: number;
  /** A reading to point at along the scale [m]. */
  readonly pointM: number | undefined;
  /** What 0 is; "as specified" if left out. */
  readonly neutralName?: string;
}) {
  const { scale, width } = props;
  const { rangeM } = scale;
  const rangeMm = Math.round(rangeM * 1000);
  const inset = 22;
  const length = Math.max(10, width - 2 * inset);
  const step = rangeMm > 60 ? 4 : rangeMm > 30 ? 2 : 1;
  const labelEvery = step * 10;
  const at = (mm: number): number => inset + ((mm + rangeMm) / (2 * rangeMm)) * length;
  const toleranceMm = props.toleranceM * 1000;
  const neutralMm = scale.neutralM * 1000;
  const point =
    props.pointM === undefined ? undefined : Math.max(-rangeMm, Math.min(rangeMm, props.pointM * 1000));
  const labels = new Set([-rangeMm, 0, rangeMm]);
  for (let mm = labelEvery; mm < rangeMm * 0.8; mm += labelEvery) labels.add(mm).add(-mm);
  return (
    <svg
      className={styles.svg}
      width={width}
      height={50}
      role="img"
      aria-label={`Colour scale from ${rangeMm} mm short (rust) to ${rangeMm} mm long (blue); grey is ${props.neutralName ?? "as specified"}${neutralMm === 0 ? "" : ` to within ${neutralMm.toFixed(1)} mm`}.`}
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
      {tapeTicks(-rangeMm, rangeMm, step).map(({ value, grade }) => (
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
      {[-toleranceMm, toleranceMm]
        .filter((mm) => Math.abs(mm) < rangeMm)
        .map((mm) => (
          <line key={mm} x1={at(mm)} x2={at(mm)} y1={3} y2={20} stroke="var(--ink)" strokeWidth={1.5} />
        ))}
      {neutralMm === 0 ? null : (
        <rect
          x={at(-neutralMm)}
          y={8}
          width={at(neutralMm) - at(-neutralMm)}
          height={12}
          fill="none"
          stroke="var(--panel)"
          strokeWidth={1.5}
          data-neutral
        />
      )}
      {[...labels].map((mm) => (
        <text key={mm} x={at(mm)} y={46} className={styles.label} textAnchor="middle">
          {signed(mm, 0)}
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
