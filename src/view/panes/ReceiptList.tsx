/** What became of each file: where something is wrong, what was found and expected, what to do. */
import type { Problem } from "../../plan/model.ts";
import { type Key, say } from "../../words/index.ts";
import type { Receipt } from "../state/document.ts";
import styles from "./Panes.module.css";

const OUTCOME: Readonly<Record<Receipt["outcome"], Key>> = {
  taken: "intake.outcome.taken",
  "taken in part": "intake.outcome.inPart",
  "not taken": "intake.outcome.not",
  asks: "intake.outcome.asks",
};

/** More than this at once helps no one; the rest is counted. */
const MOST = 40;

export function ReceiptList({ receipts }: { readonly receipts: readonly Receipt[] }) {
  return (
    <ul className={styles.receipts} aria-live="polite">
      {receipts.map((receipt, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: newest first, never reordered; the count from the end is stable
        <li key={receipts.length - index} className={styles.receipt} data-outcome={receipt.outcome}>
          <p>
            <strong className={styles.severity}>{say(OUTCOME[receipt.outcome])}</strong>{" "}
            <span className={styles.fileName}>{receipt.file}</span>
          </p>
          <p>{receipt.text}</p>
          {receipt.problems.length === 0 ? null : (
            <details open={index === 0}>
              <summary>{say("intake.remarks", { count: receipt.problems.length })}</summary>
              <ol className={styles.problems}>
                {receipt.problems.slice(0, MOST).map((problem, place) => (
                  // biome-ignore lint/suspicious/noArrayIndexKey: a fixed list
                  <ProblemItem key={place} problem={problem} />
                ))}
              </ol>
              {receipt.problems.length > MOST ? (
                <p>{say("intake.more", { count: receipt.problems.length - MOST })}</p>
              ) : null}
            </details>
          )}
        </li>
      ))}
    </ul>
  );
}

function ProblemItem({ problem }: { readonly problem: Problem }) {
  return (
    <li data-problem={problem.severity}>
      <p className={styles.where}>
        {problem.where}
        {problem.subject === undefined ? "" : ` · ${problem.subject}`}
      </p>
      <p>{problem.message}</p>
      <p className={styles.remedy}>{problem.remedy}</p>
    </li>
  );
}
