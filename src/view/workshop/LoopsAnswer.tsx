/** The short answer: how few changes do most of it, what fewer and more would leave, and the way to try one of the plans. */

import { say } from "../../words/index.ts";
import type { LoopPlan } from "../../workshop/index.ts";
import { leadRule, leadText, planPoints } from "../model/workshop-loops.ts";
import { choosePlan, type LoopDesk } from "../state/loops.ts";
import styles from "./Loops.module.css";
import { LoopsChart } from "./LoopsChart.tsx";

export function LoopsAnswer({
  desk,
  summary,
}: {
  readonly desk: LoopDesk;
  readonly summary: string | undefined;
}) {
  const { plans, lead, tried, document } = desk;
  if (plans === undefined || lead === undefined) return null;
  const toleranceM = document.wing.tolerances.pathM;
  const { head, body } = leadText(plans, toleranceM);
  const points = planPoints(plans, toleranceM);
  const current = tried.offered ? tried.plan : undefined;
  const at = points.findIndex(({ plan }) => plan === current);
  const own =
    tried.offered || tried.plan === undefined
      ? undefined
      : { changes: tried.changes.length, rmsM: tried.plan.rmsM, beyond: tried.plan.beyond };
  const step = (by: number): LoopPlan | undefined => (at < 0 ? undefined : points[at + by]?.plan);
  const leads = current !== lead && lead.changes.length > 0;
  return (
    <section
      className={styles.section}
      aria-label={say("loops.answer.title")}
      data-loops-answer={lead.changes.length}
    >
      <h2 className={styles.answer}>{head}</h2>
      <p className={styles.body}>{body}</p>
      {points.length < 2 ? (
        <p className={styles.small}>
          {plans.blocked.length > 0 && plans.blocked.length >= document.loops.length
            ? say("loops.answer.locked")
            : say("loops.answer.none")}
        </p>
      ) : (
        <>
          <LoopsChart points={points} lead={lead} current={current} own={own} onChoose={choosePlan} />
          <div className={styles.actions}>
            {leads ? (
              <button type="button" className={styles.primary} onClick={() => choosePlan(lead)}>
                {say("loops.answer.try", { count: lead.changes.length })}
              </button>
            ) : null}
            {at < 0 ? null : (
              <>
                <StepButton label={say("loops.answer.fewer")} plan={step(-1)} />
                <StepButton label={say("loops.answer.more")} plan={step(1)} />
              </>
            )}
          </div>
          <p className={styles.small}>
            {leadRule(plans, lead)} {say("loops.answer.any")}
          </p>
        </>
      )}
      {summary === undefined || points.length < 2 ? null : (
        <p className={styles.summary} data-loops-summary>
          <span>{tried.changes.length > 0 ? say("loops.answer.tried") : say("loops.answer.plan")}</span>{" "}
          {summary}
        </p>
      )}
    </section>
  );
}

function StepButton({ label, plan }: { readonly label: string; readonly plan: LoopPlan | undefined }) {
  return (
    <button
      type="button"
      className={styles.plain}
      disabled={plan === undefined}
      onClick={() => plan !== undefined && choosePlan(plan)}
    >
      {label}
    </button>
  );
}
