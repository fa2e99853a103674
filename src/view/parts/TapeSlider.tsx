/** A cursor on a measuring tape: a range input whose track is drawn in the tape's divisions. */
import { type ReactNode, useId } from "react";
import { tapeTicks } from "../model/tape.ts";
import styles from "./Tape.module.css";

export function TapeSlider(props: {
  readonly label: ReactNode;
  readonly min: number;
  readonly max: number;
  readonly value: number;
  /** Distance of the finest ticks; every fifth is a half mark, every tenth a major one. */
  readonly tick: number;
  readonly labels: readonly number[];
  readonly labelText?: (value: number) => string;
  /** The value as a screen reader says it. */
  readonly valueText: string;
  /** Where the reference setting stands, drawn as a longer mark. */
  readonly reference?: number | undefined;
  readonly name?: string;
  readonly onChange: (value: number) => void;
}) {
  const id = useId();
  const { min, max } = props;
  const at = (value: number): string => `${((value - min) / (max - min)) * 100}%`;
  return (
    <div className={styles.slider}>
      <label htmlFor={id} className={styles.sliderLabel}>
        {props.label}
      </label>
      <div className={styles.track}>
        <svg className={styles.trackSvg} aria-hidden="true">
          {tapeTicks(min, max, props.tick).map(({ value, grade }) => (
            <line
              key={value}
              x1={at(value)}
              x2={at(value)}
              y1={0}
              y2={grade === "major" || value === min ? 12 : grade === "half" ? 9 : 5}
              stroke="var(--ink)"
              strokeWidth={grade === "minor" ? 0.75 : 1.25}
            />
          ))}
          {props.reference === undefined ? null : (
            <line
              x1={at(props.reference)}
              x2={at(props.reference)}
              y1={-9}
              y2={14}
              stroke="var(--ink)"
              strokeWidth={2}
            />
          )}
          {props.labels.map((value) => (
            <text key={value} x={at(value)} y={31} className={styles.label} textAnchor="middle">
              {props.labelText?.(value) ?? value}
            </text>
          ))}
        </svg>
        <input
          id={id}
          className={styles.range}
          type="range"
          min={min}
          max={max}
          step={1}
          value={props.value}
          data-slider={props.name}
          aria-valuetext={props.valueText}
          onChange={(event) => props.onChange(Number(event.target.value))}
        />
      </div>
    </div>
  );
}
