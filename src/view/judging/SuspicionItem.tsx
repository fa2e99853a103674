/** One suspicion: what was noticed, what was read and what it would have been, and the three ways to answer it. */
import { useEffect, useMemo, useRef, useState } from "react";
import type { Suspicion } from "../../diagnosis/mistakes/model.ts";
import type { Wing } from "../../plan/model.ts";
import type { Check } from "../../readings/model.ts";
import { lengthUnitName, say } from "../../words/index.ts";
import { signedMm } from "../model/format.ts";
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
  const count = suspicion.concerns.length;
  /** The suspicion whose change is shown, waiting for a yes: this one or an alternative. */
  const [asked, setAsked] = useState<Suspicion>();
  return (
    <li data-suspicion={suspicion.id} data-picked={picked || undefined}>
      <span className={styles.title}>{entry.title}</span>
      <span className={styles.plausible}>{entry.plausible}</span>
      <p className={styles.sentence}>{entry.sentence}</p>
      <Readings entry={entry} />
      {again ? <p className={styles.marked}>{say("judging.again.marked")}</p> : null}
      {asked === undefined ? (
        <div className={judging.actions}>
          <button
            type="button"
            className={again ? judging.plain : judging.button}
            aria-pressed={again}
            onClick={() => props.onAgain(suspicion, !again)}
          >
            {again ? say("judging.again.not") : say("judging.again", { count })}
          </button>
          {suspicion.correction === undefined ? null : (
            // Where it isn't sure what was meant, reading again comes first.
            <button
              type="button"
              className={suspicion.offer === "correct" ? judging.plain : judging.link}
              onClick={() => setAsked(suspicion)}
            >
              {say("judging.correct", { count })}
            </button>
          )}
          <button type="button" className={judging.plain} onClick={() => props.onDismiss(suspicion)}>
            {say("judging.right", { count })}
          </button>
          <button
            type="button"
            className={judging.link}
            aria-pressed={picked}
            onClick={() => props.onShow(picked ? undefined : suspicion, entry.lineKeys)}
          >
            {say(picked ? "judging.show.not" : "judging.show")}
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
          <summary>{say("judging.others", { count: suspicion.alternatives.length })}</summary>
          <ul>
            {suspicion.alternatives.map((other) => (
              <li key={other.id}>
                <strong>{mistakeTitle(other.kind)}</strong>{" "}
                <span className={judging.soft}>{likelier(other, suspicion)}</span>
                <p className={styles.sentence}>{other.sentence}</p>
                {other.correction === undefined ? null : (
                  <button type="button" className={judging.link} onClick={() => setAsked(other)}>
                    {say("judging.others.see")}
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
  if (other.log10Odds < 0) return say("judging.likely.not");
  if (behind < 0.5) return say("judging.likely.as");
  if (behind < 1.5) return say("judging.likely.less");
  return say("judging.likely.much-less");
}

function Readings({ entry }: { readonly entry: SuspicionEntry }) {
  const { concerns } = entry;
  if (concerns.length <= FEW) return <ReadingTable concerns={concerns} />;
  return (
    <>
      <ReadingTable concerns={concerns.slice(0, FEW - 2)} />
      <details className={styles.more}>
        <summary>{say("judging.readings.more", { count: concerns.length - FEW + 2 })}</summary>
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
          <th scope="col">{say("judging.readings.head", { unit: lengthUnitName() })}</th>
          <th scope="col">{say("judging.readings.read")}</th>
          <th scope="col">{say(moved ? "judging.readings.belongs" : "judging.readings.instead")}</th>
          <th scope="col">{say(moved ? "judging.readings.there" : "judging.readings.expected")}</th>
        </tr>
      </thead>
      <tbody>
        {concerns.map(({ key, name, read, belongsTo, instead, expected }) => (
          <tr key={key}>
            <th scope="row">{name}</th>
            <td className={judging.figures}>{read}</td>
            {belongsTo === undefined ? (
              <td className={styles.instead}>
                {instead === undefined ? (
                  say("judging.readings.unknown")
                ) : (
                  <span className={judging.figures}>{instead}</span>
                )}
              </td>
            ) : (
              <td className={styles.instead}>
                {moved ? belongsTo : say("judging.readings.belongs-to", { name: belongsTo })}
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
    <div ref={box} className={styles.confirm} role="group" aria-label={say("judging.confirm")} data-confirm>
      <h3>{say("judging.confirm.title")}</h3>
      {effect === undefined ? (
        <p>{say("judging.confirm.gone")}</p>
      ) : (
        <>
          <table className={styles.readings}>
            <thead>
              <tr>
                <th scope="col">{say("judging.confirm.head", { unit: lengthUnitName() })}</th>
                <th scope="col">{say("judging.confirm.before")}</th>
                <th scope="col">{say("judging.confirm.after")}</th>
              </tr>
            </thead>
            <tbody>
              {effect.slice(0, 12).map((each) => (
                <tr key={each.key}>
                  <th scope="row">{each.name}</th>
                  <td className={judging.figures}>
                    {each.beforeM === undefined ? say("judging.not-read") : signedMm(each.beforeM, 1)}
                  </td>
                  <td className={`${each.afterM === undefined ? "" : judging.figures} ${styles.instead}`}>
                    {each.afterM === undefined ? say("judging.confirm.open") : signedMm(each.afterM, 1)}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
          {effect.length > 12 ? <p>{say("judging.confirm.more", { count: effect.length - 12 })}</p> : null}
          <p>
            {say("judging.confirm.plausible", {
              plausible: plausibleText(
                suspicion.log10Odds,
                suspicion.concerns.length === 1 ? "one" : "several",
              ),
            })}
          </p>
        </>
      )}
      <div className={`${judging.actions} ${styles.actions}`}>
        {effect === undefined ? null : (
          <button type="button" className={judging.button} onClick={props.onYes}>
            {say("judging.confirm.yes", { count: effect.length })}
          </button>
        )}
        <button type="button" className={judging.plain} onClick={props.onNo}>
          {say("judging.confirm.no", { count: effect?.length ?? 2 })}
        </button>
      </div>
    </div>
  );
}
