/** What no verdict here may be taken for: a line always in sight, the whole on request. */
import { CAUTION_FULL, CAUTION_SHORT } from "../../diagnosis/caution.ts";
import styles from "./Panes.module.css";

export function CautionText() {
  return (
    <div className={styles.cautionText}>
      {CAUTION_FULL.map((paragraph) => (
        <p key={paragraph}>{paragraph}</p>
      ))}
    </div>
  );
}

/** What the program can't know, whatever it is given. */
export function Unknowns() {
  return (
    <div className={styles.cautionText}>
      <p>
        It knows only what was read and typed in. It sees no damage, wear, porosity or sewing; it doesn’t
        measure strength; it doesn’t know what the maker allows for this wing. Tolerances are a setting, and
        the maker’s word only where the plan says so.
      </p>
      <p>
        From the readings of whole paths alone, nobody can tell which line of a path has changed, nor whether
        a uniform difference is the wing’s or the measuring point’s. One steady flight state is calculated;
        the profile follows the lines.
      </p>
    </div>
  );
}

export function CautionLine() {
  return (
    <details className={styles.caution} data-caution>
      <summary>
        <span>{CAUTION_SHORT}</span>
      </summary>
      <CautionText />
    </details>
  );
}
