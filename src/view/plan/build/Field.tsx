/** A field that writes a statement: what is being typed stays as it is typed, whatever the draft makes of it. */
import { useId, useState } from "react";
import styles from "./Build.module.css";

export function Field(props: {
  readonly label: string;
  readonly value: string;
  readonly onText: (text: string) => void;
  readonly numeric?: boolean;
  /** The label is heard, not seen. */
  readonly bare?: boolean;
  readonly field?: string;
  readonly placeholder?: string;
}) {
  const { label, value, onText, numeric = false, bare = false } = props;
  const id = useId();
  const [typed, setTyped] = useState<{ readonly text: string; readonly made: string }>();
  // What the draft says goes before what was typed, as soon as something else changed it.
  const same = (made: string): boolean =>
    made === value || (numeric && value !== "" && Number(made.replace(",", ".")) === Number(value));
  const shown = typed !== undefined && same(typed.made) ? typed.text : value;
  return (
    <div className={styles.field} data-numeric={numeric || undefined}>
      <label htmlFor={id} className={bare ? "unseen" : undefined}>
        {label}
      </label>
      <input
        id={id}
        type="text"
        inputMode={numeric ? "decimal" : "text"}
        autoComplete="off"
        spellCheck={false}
        value={shown}
        data-field={props.field}
        placeholder={props.placeholder}
        onChange={(event) => {
          const { value: text } = event.target;
          setTyped({ text, made: text.trim() });
          onText(text);
        }}
        onBlur={() => setTyped(undefined)}
      />
    </div>
  );
}
