/** A value with its uncertainty against its limits, on a little tape: why it conforms, doesn't, or can't be decided. */
import { deviationColour } from "../../diagnosis/colour.ts";
import type { Limits } from "../../diagnosis/conformance.ts";
import { usePathScale } from "../parts/scale.ts";

/**
 * @param axisM ends of the tape [m]; what lies beyond is drawn at the end as a pointer outwards
 * @param rangeM anything but undefined for a deviation, coloured by the page's scale; a value that is none is drawn in ink
 */
export function DecisionTape(props: {
  readonly valueM: number;
  /** Expanded, k = 2 [m]. */
  readonly expandedM: number;
  readonly limits: Limits;
  readonly axisM: readonly [number, number];
  readonly rangeM: number | undefined;
  readonly height?: number;
}) {
  const { valueM, expandedM, limits, height = 22 } = props;
  const scale = usePathScale();
  const [low, high] = props.axisM;
  const at = (value: number): number =>
    4 + (Math.max(0, Math.min(1, (value - low) / (high - low))) || 0) * 92;
  const middle = height / 2;
  const from = limits.lower === undefined ? 0 : at(limits.lower);
  const to = limits.upper === undefined ? 100 : at(limits.upper);
  const fill = props.rangeM === undefined ? "var(--ink)" : deviationColour(valueM, scale).hex;
  const beyond = valueM < low ? -1 : valueM > high ? 1 : 0;
  return (
    <svg width="100%" height={height} aria-hidden="true" style={{ display: "block", overflow: "visible" }}>
      <rect x={`${from}%`} width={`${to - from}%`} y={0} height={height} fill="var(--hair)" opacity={0.75} />
      {[limits.lower, limits.upper].map((limit) =>
        limit === undefined ? null : (
          <line
            key={limit}
            x1={`${at(limit)}%`}
            x2={`${at(limit)}%`}
            y1={0}
            y2={height}
            stroke="var(--hair-strong)"
          />
        ),
      )}
      <line x1="4%" x2="96%" y1={middle} y2={middle} stroke="var(--hair-strong)" strokeWidth={0.75} />
      {low < 0 && high > 0 ? (
        <line x1={`${at(0)}%`} x2={`${at(0)}%`} y1={0} y2={height} stroke="var(--ink)" />
      ) : null}
      <line
        x1={`${at(valueM - expandedM)}%`}
        x2={`${at(valueM + expandedM)}%`}
        y1={middle}
        y2={middle}
        stroke="var(--ink)"
        strokeWidth={2}
      />
      <svg x={`${at(valueM)}%`} y={middle} overflow="visible" aria-hidden="true">
        {beyond === 0 ? (
          <rect x={-4.5} y={-6.5} width={9} height={13} fill={fill} stroke="var(--panel)" strokeWidth={1.5} />
        ) : (
          <path d={`M${5 * beyond} 0L${-5 * beyond} -6.5V6.5Z`} fill={fill} stroke="var(--panel)" />
        )}
      </svg>
    </svg>
  );
}
