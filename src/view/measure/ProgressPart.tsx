/** How far the session is, and how long the rest will take. */
import { type Progress, paceMs, type Session } from "../../readings/session/index.ts";
import { fixed, say } from "../../words/index.ts";
import { timeLeftText } from "../model/measure-told.ts";
import styles from "./Overview.module.css";

export function ProgressLine({ progress }: { readonly progress: Progress }) {
  const { total, read } = progress;
  const left = read < total ? timeLeftText(progress.leftMs) : undefined;
  return (
    <div className={styles.progress} data-progress={`${read}/${total}`}>
      <p>
        <b>{say("measure.progress", { read, total })}</b>
        {left === undefined ? null : <span>{left}</span>}
      </p>
      <progress max={total} value={read} aria-label={say("measure.progress", { read, total })} />
    </div>
  );
}

export function ProgressTable({
  session,
  progress,
}: {
  readonly session: Session;
  readonly progress: Progress;
}) {
  const pace = paceMs(session.journal);
  return (
    <div className={styles.rows}>
      <p>
        {pace === undefined
          ? say("measure.pace.unknown")
          : say("measure.pace", { seconds: fixed(pace / 1000, 0) })}
      </p>
      <p>{say("measure.behind", { skipped: progress.skipped.length, doubtful: progress.doubtful.length })}</p>
    </div>
  );
}
