/** The short answer: how few changes do most of it, what fewer and more would leave, and the way to try one of the plans. */
import type { LoopPlan } from "../../workshop/index.ts";
import { counted } from "../model/format.ts";
import { LEAD_RULE, leadText, NO_SMALLER, planPoints } from "../model/workshop-loops.ts";
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
      : { changes: tried.changes.length, rmsMm: tried.plan.rmsM * 1000, beyond: tried.plan.beyond };
  const step = (by: number): LoopPlan | undefined => (at < 0 ? undefined : points[at + by]?.plan);
  const leads = current !== lead && lead.changes.length > 0;
  return (
    <section className={styles.section} aria-label="The best loops" data-loops-answer={lead.changes.length}>
      <h2 className={styles.answer}>{head}</h2>
      <p className={styles.body}>{body}</p>
      {points.length < 2 ? (
        <p className={styles.small}>
          {plans.blocked.length > 0 && plans.blocked.length >= document.loops.length
            ? "No line may change, by the choices below."
            : "No other loops would leave less. They can still be tried by hand below."}
        </p>
      ) : (
        <>
          <LoopsChart points={points} lead={lead} current={current} own={own} onChoose={choosePlan} />
          <div className={styles.actions}>
            {leads ? (
              <button type="button" className={styles.primary} onClick={() => choosePlan(lead)}>
                Try {counted(lead.changes.length, "change")}
              </button>
            ) : null}
            {at < 0 ? null : (
              <>
                <StepButton label="Fewer changes" plan={step(-1)} />
                <StepButton label="More changes" plan={step(1)} />
              </>
            )}
          </div>
          <p className={styles.small}>
            {lead === plans.best ? NO_SMALLER : LEAD_RULE} Any point of the chart can be tried.
          </p>
        </>
      )}
      {summary === undefined || points.length < 2 ? null : (
        <p className={styles.summary} data-loops-summary>
          <span>{tried.changes.length > 0 ? "As tried" : "This plan"}</span> {summary}
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
