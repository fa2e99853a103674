/** What the colour of a line stands for: what was read of its paths, or what is put down to the line itself. */
import { type Key, say } from "../../words/index.ts";
import { OneOf } from "../parts/Choice.tsx";
import { COLOURED_BY, type ColouredBy } from "../state/choices.ts";
import styles from "./ColourBy.module.css";

const LABEL: Readonly<Record<ColouredBy, Key>> = {
  path: "judging.colour.path",
  line: "judging.colour.line",
};

const MEANING: Readonly<Record<ColouredBy, Key>> = {
  path: "judging.colour.path.meaning",
  line: "judging.colour.line.meaning",
};

export function colourLabel(by: ColouredBy): string {
  return say(LABEL[by]);
}

export function colourMeaning(by: ColouredBy): string {
  return say(MEANING[by]);
}

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
        legend={say("judging.colour")}
        options={COLOURED_BY.map((each) => ({ value: each, label: colourLabel(each) }))}
        value={value}
        onChange={onChange}
      />
      <p className={brief ? "unseen" : styles.meaning} aria-live="polite">
        {colourMeaning(value)}
      </p>
    </div>
  );
}
