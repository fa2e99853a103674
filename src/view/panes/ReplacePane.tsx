/** A damaged line, from finding which it is to what comes after it: five steps that can be left and come back to. */
import type { Analysis } from "../../diagnosis/model.ts";
import { counted } from "../model/format.ts";
import { jobName, REPLACE_STEPS, type ReplaceStep, sayJobs } from "../model/workshop-replace.ts";
import { maillonsOpened } from "../model/workshop-replace-swap.ts";
import {
  giveRoom,
  goToStep,
  type ReplaceDesk,
  replaceLine,
  takeInHand,
  useReplaceDesk,
} from "../state/replace.ts";
import { AfterSwapStep } from "../workshop/AfterSwapStep.tsx";
import styles from "../workshop/Damaged.module.css";
import { DamagedStep } from "../workshop/DamagedStep.tsx";
import { MaillonStep } from "../workshop/MaillonStep.tsx";
import { OrderStep } from "../workshop/OrderStep.tsx";
import { SwapPaper } from "../workshop/SwapPaper.tsx";
import { SwapStep } from "../workshop/SwapStep.tsx";
import { CautionLine } from "./Caution.tsx";
import panes from "./Panes.module.css";

const LABEL: Readonly<Record<ReplaceStep, string>> = {
  line: "Line",
  order: "Order",
  maillon: "Maillon",
  swap: "Swap",
  after: "After it",
};

/** Today by this place's calendar, as an ISO date. */
function isoToday(): string {
  const now = new Date();
  const two = (value: number): string => String(value).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

export function ReplacePane(_: { readonly analysis: Analysis }) {
  const today = isoToday();
  const desk = useReplaceDesk(today);
  if (desk === undefined) return null;
  const { job, other } = desk;
  const step = job === undefined ? "line" : desk.step;
  // What is written down at the maillon, or ordered, needs no wing beside it.
  const roomy = desk.roomy ?? (step === "order" || step === "maillon");
  const next = REPLACE_STEPS[REPLACE_STEPS.indexOf(step) + 1];
  return (
    <div className={panes.pane} data-replace={job?.lineId ?? "none"} data-roomy={roomy}>
      <div className={styles.screen} data-step-shown={step}>
        <div className={styles.head} data-sticky>
          <header className={styles.title}>
            <h2>{job === undefined ? "A damaged line" : jobName(job)}</h2>
            <span>
              {job === undefined
                ? "from finding it to what comes after"
                : job.date === undefined
                  ? "to be replaced"
                  : "replaced"}
            </span>
            <button
              type="button"
              className={`${styles.link} ${styles.room}`}
              data-act="room"
              onClick={() => giveRoom(!roomy)}
            >
              {roomy ? "Show the wing" : "More room"}
            </button>
          </header>
          <nav aria-label="Steps">
            <ol className={styles.steps}>
              {REPLACE_STEPS.map((name, at) => (
                <li key={name}>
                  <button
                    type="button"
                    data-go={name}
                    aria-current={step === name ? "step" : undefined}
                    disabled={job === undefined && name !== "line"}
                    onClick={() => goToStep(name)}
                  >
                    <b>
                      {at + 1} {LABEL[name]}
                    </b>
                    <small>{statusOf(desk, name)}</small>
                  </button>
                </li>
              ))}
            </ol>
          </nav>
          {other !== undefined && job !== undefined && step !== "line" ? (
            <p className={styles.other} data-other={other.key}>
              <b>
                {other.id} {other.side}
              </b>{" "}
              is picked.
              <button type="button" className={styles.link} onClick={() => goToStep("line")}>
                Look at it
              </button>
              <button type="button" className={styles.link} onClick={() => replaceLine(other.key)}>
                Replace it too
              </button>
              <button type="button" className={styles.link} onClick={() => takeInHand(job)}>
                Back to {job.lineId}
              </button>
            </p>
          ) : null}
        </div>
        {step === "line" ? <DamagedStep desk={desk} /> : null}
        {step === "order" ? <OrderStep desk={desk} /> : null}
        {step === "maillon" ? <MaillonStep desk={desk} today={today} /> : null}
        {step === "swap" ? <SwapStep desk={desk} /> : null}
        {step === "after" ? <AfterSwapStep desk={desk} today={today} /> : null}
        {job === undefined || next === undefined || (step === "line" && other !== undefined) ? null : (
          <div className={styles.next}>
            <button type="button" className={styles.button} data-act="next" onClick={() => goToStep(next)}>
              Next: {LABEL[next].toLowerCase()}
            </button>
            {desk.jobs.filter(({ date }) => date === undefined).length > 1 ? (
              <span className={styles.soft}>
                At work: {sayJobs(desk.jobs.filter(({ date }) => date === undefined))}
              </span>
            ) : null}
          </div>
        )}
      </div>
      <SwapPaper desk={desk} today={today} />
      <CautionLine />
    </div>
  );
}

/** How far a step is, in a word or two. */
function statusOf(desk: ReplaceDesk, step: ReplaceStep): string {
  const { job, order, sheet, ticked, after, document } = desk;
  if (job === undefined) return "";
  switch (step) {
    case "line":
      return job.lines[0]?.line.row === undefined ? "" : job.lineId;
    case "order":
      return counted(order.quantity, "line");
    case "maillon": {
      const opened = maillonsOpened([job]);
      if (opened.length === 0) return "stays shut";
      const cards = opened.map(({ maillonId, side }) =>
        document.book.maillons.find((one) => one.maillonId === maillonId && one.side === side),
      );
      const closed = cards.filter((card) => card !== undefined && card.closed.length === card.order.length);
      if (closed.length === opened.length) return "closed";
      const recorded = cards.filter((card) => card?.recorded !== undefined);
      return `${recorded.length}/${opened.length} cards`;
    }
    case "swap":
      return `${sheet?.steps.filter(({ id }) => ticked.includes(id)).length ?? 0}/${sheet?.steps.length ?? 0} done`;
    case "after":
      return after.fullCheck ? "full check" : "look at it";
  }
}
