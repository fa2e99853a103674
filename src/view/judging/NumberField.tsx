/** A number in the unit of the trade, kept as typed until it is one: half a number is never handed on. */
import { useId, useState } from "react";
import { trimmed } from "../../diagnosis/wording.ts";
import { say } from "../../words/index.ts";
import styles from "./JudgingSettings.module.css";

export interface NumberFieldProps {
  readonly label: string;
  readonly unit: string;
  /** SI. */
  readonly value: number;
  /** SI value × factor = what is typed. */
  readonly factor: number;
  /** In what is typed. */
  readonly min: number;
  readonly max: number;
  readonly onChange: (value: number) => void;
}

export function NumberField(props: NumberFieldProps) {
  const { value, factor, min, max } = props;
  const id = useId();
  const shown = trimmed(value * factor, 3);
  const [typed, setTyped] = useState<string>();
  const wrong = typed !== undefined && readNumber(typed, min, max) === undefined;
  return (
    <label className={styles.field}>
      <span>{props.label}</span>
      <span>
        <input
          type="text"
          inputMode="decimal"
          autoComplete="off"
          value={typed ?? shown}
          aria-invalid={wrong}
          aria-describedby={wrong ? id : undefined}
          onChange={(event) => {
            setTyped(event.target.value);
            const number = readNumber(event.target.value, min, max);
            if (number !== undefined) props.onChange(number / factor);
          }}
          onBlur={() => setTyped(undefined)}
        />
        <span className={styles.unit}>{props.unit}</span>
      </span>
      {wrong ? (
        <span id={id} className={styles.wrong}>
          {say("judging.range", { min: trimmed(min, 3), max: trimmed(max, 3) })}
        </span>
      ) : null}
    </label>
  );
}

/** A number within its range, with a point or a comma; undefined for anything else. */
export function readNumber(text: string, min: number, max: number): number | undefined {
  const trimmed = text.trim().replace(",", ".");
  if (!/^\d*\.?\d+$|^\d+\.$/.test(trimmed)) return undefined;
  const number = Number(trimmed);
  return number >= min && number <= max ? number : undefined;
}
