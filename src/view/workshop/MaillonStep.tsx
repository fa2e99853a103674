/** What hangs on the maillons that are opened: recorded before, ticked off on closing. */
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
        <h3>No maillon is opened</h3>
        <p className={styles.text}>
          {on?.kind === "pulley"
            ? `${jobName(job)} runs through the pulley to the brake handle: there is no loop and no order to record. Mark where it’s tied to the handle, and photograph the knot, before you undo it.`
            : `${jobName(job)} hangs on ${on?.kind === "line" ? (document.cascade.lines.get(on.lineKey)?.id ?? on.lineKey) : "another line"}, not on a maillon. Leave the maillon closed; photograph the joint, so that it’s hitched again as it was.`}
        </p>
      </section>
    );
  return (
    <>
      <section className={styles.section}>
        <h3>Before it is opened</h3>
        <p className={styles.text}>
          Look at the bar from the side that is easiest to see again later, and put down what sits on it: in
          which order, and with which loop each. Then record it; only then open the maillon.
        </p>
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
