/** Once the new line hangs: whether every line has to be checked, why, and what comes next. */
import { useState } from "react";
import { counted, dateText } from "../model/format.ts";
import { jobName } from "../model/workshop-replace.ts";
import { useApp, usePickBy } from "../state/app.ts";
import { dateJob, type ReplaceDesk } from "../state/replace.ts";
import own from "./AfterSwap.module.css";
import styles from "./Damaged.module.css";

export function AfterSwapStep({ desk, today }: { readonly desk: ReplaceDesk; readonly today: string }) {
  const { after, job, document } = desk;
  const { cascade } = document;
  const [by, pick] = usePickBy();
  const choose = useApp((state) => state.choose);
  const [date, setDate] = useState(today);
  if (job === undefined) return null;
  return (
    <>
      <section className={styles.section}>
        <h3>{after.fullCheck ? "A full check is needed" : "What is known here asks for no full check"}</h3>
        {after.first === undefined ? null : (
          <p className={styles.stop} data-stop>
            {after.first}
          </p>
        )}
        <p className={own.conclusion} data-full-check={after.fullCheck}>
          {after.conclusion}
        </p>
        {after.reasons.length === 0 ? null : (
          <ul className={own.reasons} data-list="reasons">
            {after.reasons.map(({ kind, text, weight, lineKeys, tabKeys }) => {
              const id = `swap ${kind} ${text}`;
              const keys = [...lineKeys, ...tabKeys.flatMap((key) => cascade.tabs.get(key)?.lineKey ?? [])];
              return (
                <li key={id} data-reason={kind} data-weight={weight} data-picked={by === id || undefined}>
                  <span className={own.weight}>{weight === "check" ? "full check" : "look at it"}</span>
                  <p>{text}</p>
                  {keys.length === 0 ? null : (
                    <button
                      type="button"
                      className={styles.link}
                      aria-pressed={by === id}
                      onClick={() => pick(by === id ? undefined : id, keys)}
                    >
                      {by === id ? "Let go" : `Show ${counted(keys.length, "line")}`}
                    </button>
                  )}
                </li>
              );
            })}
          </ul>
        )}
      </section>
      <section className={styles.section}>
        <h3>What comes next</h3>
        {job.date === undefined ? (
          <>
            <p className={styles.text}>
              When {jobName(job)} {job.lines.length === 1 ? "hangs" : "hang"} and the maillon is closed, write
              it down.
            </p>
            <div className={styles.actions}>
              <label className={own.date}>
                <span>Replaced on</span>
                <input
                  type="date"
                  value={date}
                  max={today}
                  onChange={(event) => setDate(event.target.value)}
                />
              </label>
              <button
                type="button"
                className={styles.button}
                data-act="replaced"
                disabled={!/^\d{4}-\d{2}-\d{2}$/.test(date)}
                onClick={() => dateJob(job, date)}
              >
                Write it down
              </button>
            </div>
          </>
        ) : (
          <div className={styles.actions}>
            <p className={styles.text} role="status">
              {jobName(job)}: replaced {dateText(job.date)}.
            </p>
            <button type="button" className={styles.link} onClick={() => dateJob(job, undefined)}>
              It isn’t done yet
            </button>
          </div>
        )}
        <p className={styles.text}>
          Then measure again and hold the new readings against the old ones:{" "}
          {after.fullCheck ? "every line" : "at least the paths above the new lines and beside them"}, both
          sides, the brakes too.
        </p>
        <div className={styles.actions}>
          <button type="button" className={styles.plain} onClick={() => choose({ pane: "after" })}>
            To the recheck
          </button>
          <button type="button" className={styles.plain} onClick={() => print()}>
            Print it all
          </button>
        </div>
      </section>
      <section className={styles.section}>
        {after.cautions.map((text) => (
          <p key={text} className={styles.soft}>
            {text}
          </p>
        ))}
      </section>
    </>
  );
}
