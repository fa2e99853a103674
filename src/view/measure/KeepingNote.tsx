/** Said where the browser doesn't keep what is entered. */
import { say } from "../../words/index.ts";
import { useMeasure } from "../state/measure-app.ts";
import styles from "./Session.module.css";

export function KeepingNote() {
  const keeping = useMeasure((state) => state.keeping);
  return keeping === "page" ? (
    <p className={styles.unkept} role="alert" data-unkept>
      {say("measure.keeping.page")}
    </p>
  ) : null;
}
