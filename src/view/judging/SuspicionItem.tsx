/** One suspicion: what was noticed, what was read and what it would have been, and the three ways to answer it. */
import { useEffect, useMemo, useRef, useState } from "react";
import type { Suspicion } from "../../diagnosis/mistakes/model.ts";
import type { Wing } from "../../plan/model.ts";
import type { Check } from "../../readings/model.ts";
import { counted, signedMm } from "../model/format.ts";
import {
  type ConcernEntry,
  correctionEffect,
  mistakeTitle,
  type SuspicionEntry,
  suspicionEntry,
} from "../model/judging-mistakes.ts";
import { plausibleText } from "../model/judging-words.ts";
import judging from "./Judging.module.css";
import styles from "./Mistakes.module.css";

/** More readings than this are folded. */
const FEW = 5;

export function SuspicionItem(props: {
  readonly wing: Wing;
  readonly check: Check;
  readonly suspicion: Suspicion;
  readonly again: boolean;
  readonly picked: boolean;
  readonly onAgain: (suspicion: Suspicion, again: boolean) => void;
  readonly onCorrect: (suspicion: Suspicion) => void;
  readonly onDismiss: (suspicion: Suspicion) => void;
  readonly onShow: (suspicion: Suspicion | undefined, lineKeys: readonly string[]) => void;
}) {
  const { wing, suspicion, again, picked } = props;
  const entry = useMemo(() => suspicionEntry(wing, suspicion), [wing, suspicion]);
  const several = suspicion.concerns.length > 1;
  /** The suspicion whose change is shown, waiting for a yes: this one or an alternative. */
  const [asked, setAsked] = useState<Suspicion>();
  return (
    <li data-suspicion={suspicion.id} data-picked={picked || undefined}>
      <span className={styles.title}>{entry.title}</span>
      <span className={styles.plausible}>{entry.plausible}</span>
      <p className={styles.sentence}>{entry.sentence}</p>
      <Readings entry={entry} />
      {again ? <p className={styles.marked}>Marked to be read again.</p> : null}
      {asked === undefined ? (
        <div className={judging.actions}>
          <button
            type="button"
            className={again ? judging.plain : judging.button}
            aria-pressed={again}
            onClick={() => props.onAgain(suspicion, !again)}
          >
            {again ? "Needn’t be read again" : `Read ${several ? "them" : "it"} again`}
          </button>
          {suspicion.correction === undefined ? null : (
            // Where it isn't sure what was meant, reading again comes first.
            <button
              type="button"
              className={suspicion.offer === "correct" ? judging.plain : judging.link}
              onClick={() => setAsked(suspicion)}
            >
              {several ? "Use the corrected readings" : "Use the corrected reading"}
            </button>
          )}
          <button type="button" className={judging.plain} onClick={() => props.onDismiss(suspicion)}>
            {several ? "They are right as read" : "It is right as read"}
          </button>
          <button
            type="button"
            className={judging.link}
            aria-pressed={picked}
            onClick={() => props.onShow(picked ? undefined : suspicion, entry.lineKeys)}
          >
            {picked ? "Let go" : "Show where"}
          </button>
        </div>
      ) : (
        <Confirm
          wing={wing}
          check={props.check}
          suspicion={asked}
          onYes={() => {
            setAsked(undefined);
            props.onCorrect(asked);
          }}
          onNo={() => setAsked(undefined)}
        />
      )}
      {suspicion.alternatives.length === 0 || asked !== undefined ? null : (
        <details className={`${styles.more} ${styles.others}`}>
          <summary>{counted(suspicion.alternatives.length, "other explanation")}</summary>
          <ul>
            {suspicion.alternatives.map((other) => (
              <li key={other.id}>
                <strong>{mistakeTitle(other.kind)}</strong>{" "}
                <span className={judging.soft}>{likelier(other, suspicion)}</span>
                <p className={styles.sentence}>{other.sentence}</p>
                {other.correction === undefined ? null : (
                  <button type="button" className={judging.link} onClick={() => setAsked(other)}>
                    See what this would change
                  </button>
                )}
              </li>
            ))}
          </ul>
        </details>
      )}
    </li>
  );
}

/** An explanation beside the best one, in words. */
function likelier(other: Suspicion, best: Suspicion): string {
  const behind = best.log10Odds - other.log10Odds;
  if (other.log10Odds < 0) return "less likely than true lengths";
  if (behind < 0.5) return "about as likely";
  if (behind < 1.5) return "less likely";
  return "much less likely";
}

function Readings({ entry }: { readonly entry: SuspicionEntry }) {
  const { concerns } = entry;
  if (concerns.length <= FEW) return <ReadingTable concerns={concerns} />;
  return (
    <>
      <ReadingTable concerns={concerns.slice(0, FEW - 2)} />
      <details className={styles.more}>
        <summary>{concerns.length - FEW + 2} more readings</summary>
        <ReadingTable concerns={concerns.slice(FEW - 2)} />
      </details>
    </>
  );
}

function ReadingTable({ concerns }: { readonly concerns: readonly ConcernEntry[] }) {
  // Readings that changed places are told by where they belong, slips by the figure that was meant.
  const moved = concerns.every(({ belongsTo }) => belongsTo !== undefined);
  return (
    <table className={styles.readings} data-table="concerns">
      <thead>
        <tr>
          <th scope="col">Reading, mm</th>
          <th scope="col">as read</th>
          <th scope="col">{moved ? "belongs to" : "would have been"}</th>
          <th scope="col">{moved ? "expected there" : "expected about"}</th>
        </tr>
      </thead>
      <tbody>
        {concerns.map(({ key, name, read, belongsTo, instead, expected }) => (
          <tr key={key}>
            <th scope="row">{name}</th>
            <td className={judging.figures}>{read}</td>
            {belongsTo === undefined ? (
              <td className={styles.instead}>
                {instead === undefined ? "not known" : <span className={judging.figures}>{instead}</span>}
              </td>
            ) : (
              <td className={styles.instead}>
                {moved ? "" : "belongs to "}
                {belongsTo}
              </td>
            )}
            <td className={judging.figures}>{expected}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** Before and after, and the question. */
function Confirm(props: {
  readonly wing: Wing;
  readonly check: Check;
  readonly suspicion: Suspicion;
  readonly onYes: () => void;
  readonly onNo: () => void;
}) {
  const { wing, check, suspicion } = props;
  const effect = useMemo(() => correctionEffect(wing, check, suspicion), [wing, check, suspicion]);
  const box = useRef<HTMLDivElement>(null);
  // What is asked must be in sight when it is asked.
  useEffect(() => {
    box.current?.scrollIntoView({ block: "nearest" });
  }, []);
  return (
    <div ref={box} className={styles.confirm} role="group" aria-label="Before and after" data-confirm>
      <h3>What this changes</h3>
      {effect === undefined ? (
        <p>The readings have changed since this was noticed, so it can’t be put right this way any more.</p>
      ) : (
        <>
          <table className={styles.readings}>
            <thead>
              <tr>
                <th scope="col">Deviation, mm</th>
                <th scope="col">before</th>
                <th scope="col">after</th>
              </tr>
            </thead>
            <tbody>
              {effect.slice(0, 12).map((each) => (
                <tr key={each.key}>
                  <th scope="row">{each.name}</th>
                  <td className={judging.figures}>
                    {each.beforeM === undefined ? "not read" : signedMm(each.beforeM, 1)}
                  </td>
                  <td className={`${each.afterM === undefined ? "" : judging.figures} ${styles.instead}`}>
                    {each.afterM === undefined ? "to be read again" : signedMm(each.afterM, 1)}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
          {effect.length > 12 ? <p>and {effect.length - 12} more readings.</p> : null}
          <p>
            {plausibleText(suspicion.log10Odds, suspicion.concerns.length === 1 ? "one" : "several")}, but
            only reading again shows it. The figures as typed are kept; you can undo this.
          </p>
        </>
      )}
      <div className={`${judging.actions} ${styles.actions}`}>
        {effect === undefined ? null : (
          <button type="button" className={judging.button} onClick={props.onYes}>
            Correct {effect.length === 1 ? "this reading" : "these readings"}
          </button>
        )}
        <button type="button" className={judging.plain} onClick={props.onNo}>
          Leave {effect?.length === 1 ? "it" : "them"} as read
        </button>
      </div>
    </div>
  );
}
