/** What became of the last number: a doubt with its question, a text that wasn't understood, or the last few that were taken. */
import { useEffect, useState } from "react";
import { type Judge, type Session, targetState, targetText } from "../../readings/session/index.ts";
import { inDoubt } from "../../readings/session/keep-as-read.ts";
import { say, signedLength } from "../../words/index.ts";
import { lengthsText, phraseText, readingText, recentOf } from "../model/measure-told.ts";
import { expectedNow, measure, useMeasure } from "../state/measure-app.ts";
import styles from "./Said.module.css";

const RECENT = 3;

export function Said(props: {
  readonly session: Session;
  readonly judge: Judge;
  readonly onRead: () => void;
  readonly showsKeys: boolean;
}) {
  const { session, judge, onRead, showsKeys } = props;
  const told = useMeasure((state) => state.told);
  return (
    <div className={styles.said} role="status" aria-live="polite" data-said={told?.kind}>
      <What session={session} judge={judge} onRead={onRead} showsKeys={showsKeys} />
    </div>
  );
}

function What(props: Parameters<typeof Said>[0]) {
  const { session, judge, onRead, showsKeys } = props;
  const told = useMeasure((state) => state.told);
  const [dismissed, setDismissed] = useState<number>();
  const doubt = inDoubt(session);

  // biome-ignore lint/correctness/useExhaustiveDependencies: another doubt is told anew
  useEffect(() => setDismissed(undefined), [doubt?.n]);

  if (told?.kind === "elsewhere") return <p className={styles.sheet}>{say("measure.told.elsewhere")}</p>;
  if (told?.kind === "unasked")
    return <p className={styles.sheet}>{say("measure.told.unasked", { typed: told.typed })}</p>;
  if (told?.kind === "entered" && told.valuesM.length === 0 && told.verdict.reason !== undefined) {
    return (
      <div className={styles.sheet} data-doubt={told.candidates.length > 0 ? "unsure" : "not understood"}>
        <p>
          <b>{say("measure.told.typed", { typed: told.typed })}</b> {phraseText(told.verdict.reason)}
        </p>
        {told.candidates.length > 0 ? (
          <p className={styles.ways}>
            {told.candidates.slice(0, 3).map(({ valueM }) => (
              <button
                key={valueM}
                type="button"
                data-candidate={Math.round(valueM * 1000)}
                onClick={() =>
                  void measure.getState().take(`${Number((valueM * 1000).toFixed(2))} mm`, judge)
                }
              >
                {readingText(valueM)}
              </button>
            ))}
            <button
              type="button"
              data-action="read again"
              onClick={() => {
                measure.setState({ told: undefined });
                onRead();
              }}
            >
              {say("measure.doubt.readAgain")}
            </button>
          </p>
        ) : null}
      </div>
    );
  }
  if (told?.kind === "entered" && told.verdict.level === "impossible" && told.verdict.reason !== undefined)
    return (
      <p className={styles.sheet} data-doubt="impossible">
        {phraseText(told.verdict.reason)}
      </p>
    );
  if (doubt !== undefined && dismissed !== doubt.n) {
    const { reason } = doubt.verdict;
    // Of readings that are too far apart another one decides, not a word.
    const canKeep = targetState(session.state, doubt.target).acceptedM.length === 0;
    const length = lengthsText(doubt.valuesM);
    return (
      <div className={styles.sheet} data-doubt="doubtful">
        <p>
          <b>{say("measure.doubt.typed", { target: targetText(doubt.target), length })}</b>{" "}
          {reason === undefined ? say("measure.doubt.plain") : phraseText(reason)}
        </p>
        <p className={styles.ways}>
          <button
            type="button"
            data-action="read again"
            onClick={() => {
              setDismissed(doubt.n);
              onRead();
            }}
          >
            {say("measure.doubt.readAgain")}
          </button>
          {canKeep ? (
            <button
              type="button"
              data-action="keep as read"
              onClick={() => {
                void measure.getState().keepAsRead(judge);
                onRead();
              }}
            >
              {say("measure.doubt.keep", { length })}
              {showsKeys ? <kbd>K</kbd> : null}
            </button>
          ) : null}
        </p>
      </div>
    );
  }
  const line =
    told?.kind === "skipped"
      ? say("measure.told.skipped", { target: targetText(told.target) })
      : told?.kind === "undone"
        ? say("measure.told.undone")
        : told?.kind === "kept"
          ? say("measure.told.kept", { target: targetText(told.target) })
          : told?.kind === "noted"
            ? say("measure.told.noted")
            : told?.kind === "entered" && told.verdict.reason !== undefined
              ? phraseText(told.verdict.reason)
              : undefined;
  // The room is as high as three lines.
  const recent = recentOf(session, line === undefined ? RECENT : RECENT - 1);
  return (
    <>
      {line === undefined ? null : <p className={styles.line}>{line}</p>}
      {recent.length === 0 ? (
        <p className={styles.hint}>{say("measure.recent.none")}</p>
      ) : (
        <ol className={styles.recent} aria-label={say("measure.recent")} data-recent>
          {recent.map(({ n, target, valuesM, level }) => {
            const expected = level === "doubtful" ? expectedNow(session, judge, target) : undefined;
            const off =
              expected === undefined || valuesM[0] === undefined
                ? undefined
                : signedLength(valuesM[0] - expected.valueM);
            return (
              <li key={n} data-level={level}>
                <span>{targetText(target)}</span> <b>{lengthsText(valuesM)}</b>
                {level === "doubtful" ? (
                  <em>
                    {" "}
                    {off === undefined ? say("measure.recent.doubtful") : say("measure.recent.off", { off })}
                  </em>
                ) : null}
              </li>
            );
          })}
        </ol>
      )}
    </>
  );
}
