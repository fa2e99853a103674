/** What the colour of a line stands for: what was read of its paths, or what is put down to the line itself. */
import { OneOf } from "../parts/Choice.tsx";
import { COLOURED_BY, type ColouredBy } from "../state/choices.ts";
import styles from "./ColourBy.module.css";

export const COLOUR_LABEL: Readonly<Record<ColouredBy, string>> = {
  path: "Its whole paths",
  line: "The line alone",
};

export const COLOUR_MEANING: Readonly<Record<ColouredBy, string>> = {
  path: "A line has the colour of the mean deviation of the paths through it: what was read, from the measuring point to the tab.",
  line: "A line has the colour of the change put down to it alone: estimated from all readings, surest where a line was read on its own.",
};

export interface ColourByProps {
  readonly value: ColouredBy;
  readonly onChange: (value: ColouredBy) => void;
  /** Where there is no room for the meaning it is only the control's description. */
  readonly brief?: boolean;
}

export function ColourBy({ value, onChange, brief = false }: ColourByProps) {
  return (
    <div className={styles.set} data-judging="colour">
      <OneOf<ColouredBy>
        legend="A line’s colour shows"
        options={COLOURED_BY.map((each) => ({ value: each, label: COLOUR_LABEL[each] }))}
        value={value}
        onChange={onChange}
      />
      <p className={brief ? "unseen" : styles.meaning} aria-live="polite">
        {COLOUR_MEANING[value]}
      </p>
    </div>
  );
}
