/** How a draft is written, at hand beside the text. */
import { memo } from "react";
import { type Key, say } from "../../../words/index.ts";
import styles from "./Build.module.css";

/** In the notation, which is the same in every language. */
type Example =
  | "2"
  | "3+2"
  | "(2+2)+2"
  | "3x2+2"
  | "4*(2+2)"
  | "2+D2"
  | "T on B: 2"
  | "totals A: 7421 7418 -"
  | "lower A: 4210 4205"
  | "ribs A B: 2-26/2"
  | "chord A: 9"
  | "diameters: 1.8 1.3 0.9"
  | "loop C: 13 girth hitch"
  | "canopy: flat area 25.4";

const KEY: readonly (readonly [code: Example, means: Key])[] = [
  ["2", "build.key.2"],
  ["3+2", "build.key.3+2"],
  ["(2+2)+2", "build.key.brackets"],
  ["3x2+2", "build.key.times"],
  ["4*(2+2)", "build.key.star"],
  ["2+D2", "build.key.other"],
  ["T on B: 2", "build.key.on"],
  ["totals A: 7421 7418 -", "build.key.totals"],
  ["lower A: 4210 4205", "build.key.lengths"],
  ["ribs A B: 2-26/2", "build.key.ribs"],
  ["chord A: 9", "build.key.chord"],
  ["diameters: 1.8 1.3 0.9", "build.key.diameters"],
  ["loop C: 13 girth hitch", "build.key.loop"],
  ["canopy: flat area 25.4", "build.key.canopy"],
];

export const BuildKey = memo(function BuildKey() {
  return (
    <details className={styles.fold} data-fold="key">
      <summary>{say("build.key")}</summary>
      <p className={styles.lead}>{say("build.key.outwards")}</p>
      <dl className={styles.key}>
        {KEY.map(([code, means]) => (
          <div key={code}>
            <dt>{code}</dt>
            <dd>{say(means)}</dd>
          </div>
        ))}
      </dl>
    </details>
  );
});
