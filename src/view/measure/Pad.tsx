/** The session's own number pad, under the thumb: the system's keyboard needn't come up. */
import { decimalMark, say } from "../../words/index.ts";
import { measure } from "../state/measure-app.ts";
import styles from "./Pad.module.css";

const DIGITS = ["1", "2", "3", "4", "5", "6", "7", "8", "9", "0"] as const;

export function Pad({ onTake, canTake }: { readonly onTake: () => void; readonly canTake: boolean }) {
  const mark = decimalMark();
  const type = (text: string): void => {
    const { field, setField } = measure.getState();
    setField(field + text);
  };
  const erase = (): void => {
    const { field, setField } = measure.getState();
    setField(field.slice(0, -1));
  };
  return (
    <div className={styles.pad} role="group" aria-label={say("measure.pad")} data-pad>
      {DIGITS.map((digit) => (
        <button key={digit} type="button" data-key={digit} onClick={() => type(digit)}>
          {digit}
        </button>
      ))}
      <button
        type="button"
        data-key="erase"
        className={styles.erase}
        aria-label={say("measure.erase")}
        onClick={erase}
      >
        <svg viewBox="0 0 32 24" width="32" height="24" aria-hidden="true">
          <path
            d="M11 3H29V21H11L3 12Z M15 8L23 16 M23 8L15 16"
            fill="none"
            stroke="currentColor"
            strokeWidth="2.2"
          />
        </svg>
      </button>
      <button type="button" data-key="mark" className={styles.mark} onClick={() => type(mark)}>
        {mark}
      </button>
      <button type="button" data-key="take" className={styles.take} disabled={!canTake} onClick={onTake}>
        {say("measure.take")}
      </button>
    </div>
  );
}
