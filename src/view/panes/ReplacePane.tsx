/** A damaged line, from finding which it is to what comes after it: five steps that can be left and come back to. */

import { Children } from "react";
import type { Analysis } from "../../diagnosis/model.ts";
import { type Key, say, sayParts } from "../../words/index.ts";
import { sidedName } from "../model/format.ts";
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

const LABEL: Readonly<Record<ReplaceStep, Key>> = {
  line: "replace.step.line",
  order: "replace.step.order",
  maillon: "replace.step.maillon",
  swap: "replace.step.swap",
  after: "replace.step.after",
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
            <h2>{job === undefined ? say("replace.title") : jobName(job)}</h2>
            <span>
              {job === undefined
                ? say("replace.title.what")
                : say("replace.state", { state: job.date === undefined ? "open" : "done" })}
            </span>
            <button
              type="button"
              className={`${styles.link} ${styles.room}`}
              data-act="room"
              onClick={() => giveRoom(!roomy)}
            >
              {say("replace.room", { room: roomy ? "wide" : "usual" })}
            </button>
          </header>
          <nav aria-label={say("replace.steps")}>
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
                      {at + 1} {say(LABEL[name])}
                    </b>
                    <small>{statusOf(desk, name)}</small>
                  </button>
                </li>
              ))}
            </ol>
          </nav>
          {other !== undefined && job !== undefined && step !== "line" ? (
            <p className={styles.other} data-other={other.key}>
              {Children.toArray(
                sayParts("replace.picked", { line: <b>{sidedName(other.id, other.side)}</b> }),
              )}
              <button type="button" className={styles.link} onClick={() => goToStep("line")}>
                {say("replace.picked.look")}
              </button>
              <button type="button" className={styles.link} onClick={() => replaceLine(other.key)}>
                {say("replace.picked.too")}
              </button>
              <button type="button" className={styles.link} onClick={() => takeInHand(job)}>
                {say("replace.picked.back", { line: job.lineId })}
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
              {say("replace.next", { step: next })}
            </button>
            {desk.jobs.filter(({ date }) => date === undefined).length > 1 ? (
              <span className={styles.soft}>
                {say("replace.at-work", {
                  lines: sayJobs(desk.jobs.filter(({ date }) => date === undefined)),
                })}
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
      return say("loops.lines", { count: order.quantity });
    case "maillon": {
      const opened = maillonsOpened([job]);
      if (opened.length === 0) return say("replace.status.shut");
      const cards = opened.map(({ maillonId, side }) =>
        document.book.maillons.find((one) => one.maillonId === maillonId && one.side === side),
      );
      const closed = cards.filter((card) => card !== undefined && card.closed.length === card.order.length);
      if (closed.length === opened.length) return say("replace.status.closed");
      const recorded = cards.filter((card) => card?.recorded !== undefined);
      return say("replace.status.cards", { done: recorded.length, all: opened.length });
    }
    case "swap":
      return say("replace.status.done", {
        done: sheet?.steps.filter(({ id }) => ticked.includes(id)).length ?? 0,
        all: sheet?.steps.length ?? 0,
      });
    case "after":
      return say("replace.weight", { weight: after.fullCheck ? "check" : "look" });
  }
}
