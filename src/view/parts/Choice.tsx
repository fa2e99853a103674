/** One of several (radio) and several of several (checkbox), as a row of ruled fields. */
import { useId } from "react";
import styles from "./Choice.module.css";

interface Option<T extends string> {
  readonly value: T;
  readonly label: string;
}

/** One of several. */
export function OneOf<T extends string>(props: {
  readonly legend: string;
  readonly options: readonly Option<T>[];
  readonly value: T;
  readonly onChange: (value: T) => void;
  readonly disabled?: (value: T) => boolean;
}) {
  const name = useId();
  return (
    <fieldset className={styles.set}>
      <legend className="unseen">{props.legend}</legend>
      {props.options.map(({ value, label }) => (
        <label key={value} className={styles.field}>
          <input
            className={styles.input}
            type="radio"
            name={name}
            value={value}
            checked={props.value === value}
            disabled={props.disabled?.(value) ?? false}
            onChange={() => props.onChange(value)}
          />
          <span className={styles.face}>{label}</span>
        </label>
      ))}
    </fieldset>
  );
}

/** Several of several. */
export function SomeOf<T extends string>(props: {
  readonly legend: string;
  readonly options: readonly Option<T>[];
  readonly value: ReadonlySet<T>;
  readonly onToggle: (value: T) => void;
}) {
  return (
    <fieldset className={styles.set}>
      <legend className="unseen">{props.legend}</legend>
      {props.options.map(({ value, label }) => (
        <label key={value} className={styles.field}>
          <input
            className={styles.input}
            type="checkbox"
            checked={props.value.has(value)}
            onChange={() => props.onToggle(value)}
          />
          <span className={styles.tick}>{label}</span>
        </label>
      ))}
    </fieldset>
  );
}
