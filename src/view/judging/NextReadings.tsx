/** The few single lines whose own reading would settle most. */
import { useMemo } from "react";
import type { NextReadings as NextReadingsAnswer } from "../../diagnosis/next-reading.ts";
import type { Wing } from "../../plan/model.ts";
import { say } from "../../words/index.ts";
import { nextEntries } from "../model/judging-next.ts";
import judging from "./Judging.module.css";
import styles from "./NextReadings.module.css";
import { JudgingCaution } from "./Verdict.tsx";

export interface NextReadingsProps {
  readonly wing: Wing;
  /** From `nextReadings`. */
  readonly next: NextReadingsAnswer;
  readonly pickedKey: string | undefined;
  /** The line picked already gives undefined. */
  readonly onPick: (lineKey: string | undefined) => void;
}

export function NextReadings({ wing, next, pickedKey, onPick }: NextReadingsProps) {
  const entries = useMemo(() => nextEntries(wing, next), [wing, next]);
  const extentM = Math.max(0.001, ...entries.map(({ beforeM }) => beforeM));
  return (
    <section className={judging.section} aria-label={say("judging.next")} data-judging="next">
      <header className={judging.head}>
        <h2>{say("judging.next")}</h2>
      </header>
      {entries.length === 0 ? (
        <p className={judging.empty}>{say("judging.next.none")}</p>
      ) : (
        <>
          <p className={judging.lead}>{say("judging.next.lead")}</p>
          <ol className={styles.list}>
            {entries.map((entry) => (
              <li key={entry.lineKey}>
                <button
                  type="button"
                  className={styles.entry}
                  data-line={entry.lineKey}
                  aria-pressed={pickedKey === entry.lineKey}
                  onClick={() => onPick(pickedKey === entry.lineKey ? undefined : entry.lineKey)}
                >
                  <span className={styles.name}>{entry.name}</span>
                  <span className={styles.gain}>{entry.gain}</span>
                  <span className={styles.others}>{entry.others}</span>
                  <span className={styles.tape}>
                    <Doubt beforeM={entry.beforeM} afterM={entry.afterM} extentM={extentM} />
                  </span>
                  <span className={styles.figures}>{entry.figures}</span>
                </button>
              </li>
            ))}
          </ol>
        </>
      )}
      <JudgingCaution />
    </section>
  );
}

/** Doubt now as a hatched width, doubt after in full ink, both about one middle. */
export function Doubt(props: {
  readonly beforeM: number;
  readonly afterM: number;
  readonly extentM: number;
}) {
  const half = (valueM: number): number => (Math.min(1, valueM / props.extentM) * 96) / 2;
  const [before, after] = [half(props.beforeM), half(props.afterM)];
  return (
    <svg width="100%" height={18} aria-hidden="true" style={{ display: "block" }}>
      <rect x={`${50 - before}%`} width={`${2 * before}%`} y={3} height={12} fill="var(--hair)" />
      {[50 - before, 50 + before].map((at) => (
        <line
          key={at}
          x1={`${at}%`}
          x2={`${at}%`}
          y1={1}
          y2={17}
          stroke="var(--hair-strong)"
          strokeWidth={1.5}
        />
      ))}
      <rect x={`${50 - after}%`} width={`${2 * after}%`} y={6} height={6} fill="var(--ink)" />
    </svg>
  );
}
