/** Signs of judging: the mark of a decision, the decision as mark and word, the caution that goes with every verdict. */
import type { ReactNode } from "react";
import { cautionShort } from "../../diagnosis/caution.ts";
import type { Outcome } from "../../diagnosis/conformity.ts";
import { outcomeText } from "../model/judging-words.ts";
import styles from "./Judging.module.css";

/** A ring for what conforms, a half-filled ring for undecided, a filled square with a cross for what doesn't conform. */
export function OutcomeMark(props: { readonly outcome: Outcome; readonly size?: number }) {
  const { size = 16 } = props;
  return (
    <svg width={size} height={size} viewBox="0 0 16 16" aria-hidden="true" data-mark={props.outcome}>
      {props.outcome === "does not conform" ? (
        <>
          <rect x={0.5} y={0.5} width={15} height={15} fill="var(--ink)" />
          <path d="M4.2 4.2l7.6 7.6m0 -7.6l-7.6 7.6" stroke="var(--panel)" strokeWidth={2.2} />
        </>
      ) : (
        <>
          <circle cx={8} cy={8} r={6.4} fill="var(--panel)" stroke="var(--ink)" strokeWidth={1.8} />
          {props.outcome === "undecided" ? <path d="M8 1.6a6.4 6.4 0 0 0 0 12.8z" fill="var(--ink)" /> : null}
        </>
      )}
    </svg>
  );
}

export function Verdict({ outcome, text }: { readonly outcome: Outcome; readonly text?: ReactNode }) {
  return (
    <span className={styles.verdict} data-outcome={outcome}>
      <OutcomeMark outcome={outcome} />
      <span>{text ?? outcomeText(outcome)}</span>
    </span>
  );
}

/** Always in sight beside a verdict; never folded away. */
export function JudgingCaution() {
  return (
    <p className={styles.caution} data-caution>
      {cautionShort()}
    </p>
  );
}
