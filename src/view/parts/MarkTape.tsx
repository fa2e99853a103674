/** A little tape with a zero line and marks on it: left above, right below. */
import { deviationColour } from "../../diagnosis/colour.ts";
import { deviationScaleOf } from "../../diagnosis/scale.ts";
import type { Side } from "../../plan/model.ts";
import { usePathScale } from "./scale.ts";
import styles from "./Tape.module.css";

export interface TapeMark {
  readonly key: string;
  readonly side: Side | undefined;
  readonly deviationM: number;
  readonly strong?: boolean;
}

/**
 * @param extentM deviation at the tape's ends; marks beyond are drawn at the end as a pointer outwards
 * @param rangeM colours of their own range and without a neutral zone, for what isn't read off a wing; the page's scale if left out
 */
export function MarkTape(props: {
  readonly marks: readonly TapeMark[];
  readonly extentM: number;
  readonly rangeM?: number;
  readonly toleranceM: number | undefined;
  readonly height: number;
  readonly meanM?: number | undefined;
}) {
  const { extentM, height } = props;
  const page = usePathScale();
  const scale = props.rangeM === undefined ? page : deviationScaleOf(props.rangeM);
  const at = (deviationM: number): number => 50 + Math.max(-1, Math.min(1, deviationM / extentM)) * 47;
  const middle = height / 2;
  return (
    <svg className={styles.marks} height={height} width="100%" aria-hidden="true">
      {props.toleranceM === undefined ? null : (
        <rect
          x={`${at(-props.toleranceM)}%`}
          width={`${at(props.toleranceM) - at(-props.toleranceM)}%`}
          y={0}
          height={height}
          fill="var(--hair)"
          opacity={0.55}
        />
      )}
      <line x1="1%" x2="99%" y1={middle} y2={middle} stroke="var(--hair-strong)" />
      <line x1="50%" x2="50%" y1={0} y2={height} stroke="var(--ink)" strokeWidth={1.5} />
      {props.marks.map((mark) => {
        const x = `${at(mark.deviationM)}%`;
        if (Math.abs(mark.deviationM) > extentM) {
          const [out, back] = mark.deviationM < 0 ? [-5, 5] : [5, -5];
          return (
            <svg key={mark.key} x={x} y={middle} overflow="visible" aria-hidden="true">
              <path d={`M${out} 0L${back} -6V6Z`} fill={deviationColour(mark.deviationM, scale).hex} />
            </svg>
          );
        }
        const [from, to] =
          mark.side === undefined
            ? [1, height - 1]
            : mark.side === "left"
              ? [1, middle - 1]
              : [middle + 1, height - 1];
        return (
          <line
            key={mark.key}
            x1={x}
            x2={x}
            y1={from}
            y2={to}
            stroke={deviationColour(mark.deviationM, scale).hex}
            strokeWidth={mark.strong === true ? 6 : 3}
          />
        );
      })}
      {props.meanM === undefined ? null : (
        <circle
          cx={`${at(props.meanM)}%`}
          cy={middle}
          r={4}
          fill="var(--panel)"
          stroke="var(--ink)"
          strokeWidth={2}
        />
      )}
    </svg>
  );
}
