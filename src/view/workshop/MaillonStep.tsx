/** What hangs on the maillons that are opened: recorded before, ticked off on closing. */
import { say } from "../../words/index.ts";
import { jobName } from "../model/workshop-replace.ts";
import { maillonsOpened } from "../model/workshop-replace-swap.ts";
import type { ReplaceDesk } from "../state/replace.ts";
import styles from "./Damaged.module.css";
import { MaillonCardPart } from "./MaillonCardPart.tsx";

export function MaillonStep({ desk, today }: { readonly desk: ReplaceDesk; readonly today: string }) {
  const { job, document } = desk;
  if (job === undefined) return null;
  const opened = maillonsOpened([job]);
  const on = job.lines[0]?.line.hangsOn;
  if (opened.length === 0)
    return (
      <section className={styles.section} data-empty="maillon">
        <h3>{say("replace.maillon.none")}</h3>
        <p className={styles.text}>
          {on?.kind === "pulley"
            ? say("replace.maillon.brake", { line: jobName(job) })
            : say("replace.maillon.joint", {
                line: jobName(job),
                below:
                  on?.kind === "line" ? (document.cascade.lines.get(on.lineKey)?.id ?? on.lineKey) : "none",
              })}
        </p>
      </section>
    );
  return (
    <>
      <section className={styles.section}>
        <h3>{say("replace.maillon.before")}</h3>
        <p className={styles.text}>{say("replace.maillon.intro")}</p>
      </section>
      {opened.map(({ maillonId, side }) => (
        <MaillonCardPart
          key={`${maillonId} ${side}`}
          desk={desk}
          job={job}
          maillonId={maillonId}
          side={side}
          today={today}
        />
      ))}
    </>
  );
}
