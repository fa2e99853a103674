/** A number that is taken over once it is done, so that half of one never counts; empty where none is wanted. */
import { type ReactNode, useId, useState } from "react";
import { readNumber } from "../judging/NumberField.tsx";
import styles from "./Loops.module.css";

export function LoopsNumber(props: {
  readonly label: string;
  readonly what?: ReactNode;
  readonly unit: string;
  /** As it is typed; undefined: none. */
  readonly value: number | undefined;
  readonly min: number;
  readonly max: number;
  readonly whole?: boolean;
  /** Shown while it is empty; where it is left out, there must be a number. */
  readonly none?: string;
  readonly name: string;
  readonly onChange: (value: number | undefined) => void;
}) {
  const { value, min, max, none } = props;
  const id = useId();
  const shown = value === undefined ? "" : String(Number(value.toFixed(3)));
  const [typed, setTyped] = useState<string>();
  const read = (text: string): number | undefined => {
    const number = readNumber(text, min, max);
    return number === undefined || (props.whole === true && !Number.isInteger(number)) ? undefined : number;
  };
  const empty = typed?.trim() === "";
  const wrong = typed !== undefined && read(typed) === undefined && !(empty && none !== undefined);
  const take = (): void => {
    if (typed !== undefined && !wrong) {
      const next = empty ? undefined : read(typed);
      if (next !== value) props.onChange(next);
    }
    setTyped(undefined);
  };
  return (
    <label className={styles.number}>
      <span>{props.label}</span>
      <span className={styles.entry}>
        <input
          type="text"
          inputMode="decimal"
          autoComplete="off"
          data-number={props.name}
          placeholder={none}
          value={typed ?? shown}
          aria-invalid={wrong}
          aria-describedby={wrong || props.what !== undefined ? id : undefined}
          onChange={(event) => setTyped(event.target.value)}
          onBlur={take}
          onKeyDown={(event) => {
            if (event.key === "Enter") take();
            else if (event.key === "Escape" && typed !== undefined) {
              event.stopPropagation();
              setTyped(undefined);
            }
          }}
        />
        {props.unit}
      </span>
      <small id={id}>
        {wrong ? (
          <strong>
            {min} to {max}
            {props.whole === true ? ", a whole number" : ""}
          </strong>
        ) : (
          props.what
        )}
      </small>
    </label>
  );
}
