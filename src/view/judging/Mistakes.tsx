/** Readings that look like mistakes of measuring or typing: offered, explained, and never put right by themselves. */
import type { Suspicion } from "../../diagnosis/mistakes/model.ts";
import type { Wing } from "../../plan/model.ts";
import type { Check } from "../../readings/model.ts";
import { counted } from "../model/format.ts";
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
    <section className={judging.section} aria-label="Doubtful readings" data-judging="mistakes">
      <header className={judging.head}>
        <h2>Doubtful readings</h2>
        <span className={judging.soft}>
          {suspicions.length === 0 ? "" : counted(suspicions.length, "doubt")}
        </span>
      </header>
      {suspicions.length === 0 ? (
        <p className={judging.empty}>
          No reading looks like a slip. Some can’t be seen in the figures: two tabs of nearly the same length
          exchanged, a last digit wrong, left and right exchanged where both sides are alike.
        </p>
      ) : (
        <>
          <p className={judging.lead}>
            These readings are more easily explained by a slip than by the wing. Nothing is changed until you
            say so; reading again settles it best.
          </p>
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
          <h3>Put right on your word</h3>
          <ul data-list="applied">
            {applied.map((each) => (
              <li key={each.id}>
                <span>
                  {mistakeTitle(each.suspicion.kind)}: {namesOf(each.suspicion)}
                </span>
                <button type="button" className={judging.link} onClick={() => props.onUndo(each)}>
                  Undo
                </button>
              </li>
            ))}
          </ul>
        </div>
      )}
      {props.dismissed === 0 ? null : (
        <p className={judging.screenOnly}>
          {counted(props.dismissed, "doubt")} set aside as right as read.{" "}
          <button type="button" className={judging.link} onClick={props.onRecall}>
            Look at {props.dismissed === 1 ? "it" : "them"} again
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
    : `${names[0]} to ${names[names.length - 1]}, ${names.length} readings`;
}
