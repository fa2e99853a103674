/** Readings that look like mistakes of measuring or typing: offered, explained, and never put right by themselves. */
import type { Suspicion } from "../../diagnosis/mistakes/model.ts";
import type { Wing } from "../../plan/model.ts";
import type { Check } from "../../readings/model.ts";
import { say } from "../../words/index.ts";
import { mistakeTitle } from "../model/judging-mistakes.ts";
import { targetName } from "../model/judging-words.ts";
import judging from "./Judging.module.css";
import styles from "./Mistakes.module.css";
import { SuspicionItem } from "./SuspicionItem.tsx";
import { JudgingCaution } from "./Verdict.tsx";

/** A correction that was made on the user's word, and can be taken back. */
export interface AppliedCorrection {
  readonly id: string;
  readonly suspicion: Suspicion;
}

export interface MistakesProps {
  readonly wing: Wing;
  /** The check as it stands now, corrections included: the one the suspicions were found on. */
  readonly check: Check;
  /** From `findMistakes`, without those that were dismissed. */
  readonly suspicions: readonly Suspicion[];
  /** Ids of suspicions whose readings are marked to be read again. */
  readonly again: ReadonlySet<string>;
  readonly applied: readonly AppliedCorrection[];
  /** Suspicions dismissed as right: only their number is said, with a way back. */
  readonly dismissed: number;
  readonly pickedId: string | undefined;
  readonly onAgain: (suspicion: Suspicion, again: boolean) => void;
  /** Called only after the change was shown and confirmed; the caller applies it (`applyCorrection`). */
  readonly onCorrect: (suspicion: Suspicion) => void;
  readonly onDismiss: (suspicion: Suspicion) => void;
  readonly onRecall: () => void;
  readonly onUndo: (applied: AppliedCorrection) => void;
  /** Shows the lines concerned; undefined where what was shown is let go. */
  readonly onShow: (suspicion: Suspicion | undefined, lineKeys: readonly string[]) => void;
}

export function Mistakes(props: MistakesProps) {
  const { suspicions, applied } = props;
  return (
    <section className={judging.section} aria-label={say("judging.mistakes")} data-judging="mistakes">
      <header className={judging.head}>
        <h2>{say("judging.mistakes")}</h2>
        <span className={judging.soft}>
          {suspicions.length === 0 ? "" : say("judging.mistakes.count", { count: suspicions.length })}
        </span>
      </header>
      {suspicions.length === 0 ? (
        <p className={judging.empty}>{say("judging.mistakes.none")}</p>
      ) : (
        <>
          <p className={judging.lead}>{say("judging.mistakes.lead")}</p>
          <ol className={styles.list}>
            {suspicions.map((suspicion) => (
              <SuspicionItem
                key={suspicion.id}
                wing={props.wing}
                check={props.check}
                suspicion={suspicion}
                again={props.again.has(suspicion.id)}
                picked={props.pickedId === suspicion.id}
                onAgain={props.onAgain}
                onCorrect={props.onCorrect}
                onDismiss={props.onDismiss}
                onShow={props.onShow}
              />
            ))}
          </ol>
        </>
      )}
      {applied.length === 0 ? null : (
        <div className={styles.applied}>
          <h3>{say("judging.mistakes.applied")}</h3>
          <ul data-list="applied">
            {applied.map((each) => (
              <li key={each.id}>
                <span>
                  {say("judging.mistakes.applied.one", {
                    title: mistakeTitle(each.suspicion.kind),
                    names: namesOf(each.suspicion),
                  })}
                </span>
                <button type="button" className={judging.link} onClick={() => props.onUndo(each)}>
                  {say("judging.undo")}
                </button>
              </li>
            ))}
          </ul>
        </div>
      )}
      {props.dismissed === 0 ? null : (
        <p className={judging.screenOnly}>
          {say("judging.mistakes.dismissed", { count: props.dismissed })}{" "}
          <button type="button" className={judging.link} onClick={props.onRecall}>
            {say("judging.mistakes.recall", { count: props.dismissed })}
          </button>
        </p>
      )}
      <JudgingCaution />
    </section>
  );
}

function namesOf({ concerns }: Suspicion): string {
  const names = concerns.map(({ target }) => targetName(target));
  return names.length <= 4
    ? names.join(", ")
    : say("judging.mistakes.names", {
        first: names[0] ?? "",
        last: names[names.length - 1] ?? "",
        count: names.length,
      });
}
