/** Once the new line hangs: whether every line has to be checked, why, and what comes next. */
import { useState } from "react";
import { longDate, say } from "../../words/index.ts";
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
        <h3>{say("replace.after.title", { check: after.fullCheck ? "full" : "none" })}</h3>
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
                  <span className={own.weight}>{say("replace.weight", { weight })}</span>
                  <p>{text}</p>
                  {keys.length === 0 ? null : (
                    <button
                      type="button"
                      className={styles.link}
                      aria-pressed={by === id}
                      onClick={() => pick(by === id ? undefined : id, keys)}
                    >
                      {by === id
                        ? say("replace.after.let-go")
                        : say("replace.after.show", { count: keys.length })}
                    </button>
                  )}
                </li>
              );
            })}
          </ul>
        )}
      </section>
      <section className={styles.section}>
        <h3>{say("replace.after.next")}</h3>
        {job.date === undefined ? (
          <>
            <p className={styles.text}>
              {say("replace.after.write", { lines: jobName(job), count: job.lines.length })}
            </p>
            <div className={styles.actions}>
              <label className={own.date}>
                <span>{say("replace.after.on")}</span>
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
                {say("replace.after.keep")}
              </button>
            </div>
          </>
        ) : (
          <div className={styles.actions}>
            <p className={styles.text} role="status">
              {say("replace.after.done", { lines: jobName(job), date: longDate(job.date) })}
            </p>
            <button type="button" className={styles.link} onClick={() => dateJob(job, undefined)}>
              {say("replace.after.undone")}
            </button>
          </div>
        )}
        <p className={styles.text}>
          {say("replace.after.measure", { check: after.fullCheck ? "full" : "some" })}
        </p>
        <div className={styles.actions}>
          <button type="button" className={styles.plain} onClick={() => choose({ pane: "after" })}>
            {say("replace.after.recheck")}
          </button>
          <button type="button" className={styles.plain} onClick={() => print()}>
            {say("replace.after.print")}
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
