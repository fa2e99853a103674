/** What no verdict here may be taken for: a line always in sight, the whole on request. */
import { cautionFull, cautionShort } from "../../diagnosis/caution.ts";
import { say } from "../../words/index.ts";
import styles from "./Panes.module.css";

export function CautionText() {
  return (
    <div className={styles.cautionText}>
      {cautionFull().map((paragraph) => (
        <p key={paragraph}>{paragraph}</p>
      ))}
    </div>
  );
}

/** What the program can't know, whatever it is given. */
export function Unknowns() {
  return (
    <div className={styles.cautionText}>
      <p>{say("panes.unknown.seen")}</p>
      <p>{say("panes.unknown.told")}</p>
    </div>
  );
}

export function CautionLine() {
  return (
    <details className={styles.caution} data-caution>
      <summary data-more={say("panes.caution.more")} data-less={say("panes.caution.less")}>
        <span>{cautionShort()}</span>
      </summary>
      <CautionText />
    </details>
  );
}
