/** A number that is taken over once it is done, so that half of one never counts; empty where none is wanted. */
import { type ReactNode, useId, useState } from "react";
import { say } from "../../words/index.ts";
import { readNumber } from "../judging/NumberField.tsx";
import { trimmed } from "../model/workshop-figures.ts";
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
  /** Decimals that are shown at most; 3 where it is left out. */
  readonly decimals?: number;
  /** Shown while it is empty; where it is left out, there must be a number. */
  readonly none?: string;
  readonly name: string;
  readonly onChange: (value: number | undefined) => void;
}) {
  const { value, min, max, none, decimals = 3 } = props;
  const id = useId();
  const shown = value === undefined ? "" : trimmed(value, decimals);
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
            {say("loops.number.range", {
              least: trimmed(min, decimals),
              most: trimmed(max, decimals),
              whole: props.whole === true ? "yes" : "no",
            })}
          </strong>
        ) : (
          props.what
        )}
      </small>
    </label>
  );
}
