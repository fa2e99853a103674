/** What a plan leaves: row by row before and after, rows against each other, what no loop reaches, what can be taken out later. */
import { Children } from "react";
import { sourceOf } from "../../diagnosis/wording.ts";
import { lengthNumber, lengthUnitName, say, sayParts } from "../../words/index.ts";
import type { LoopReport } from "../../workshop/index.ts";
import { rowName, signedMm } from "../model/format.ts";
import { shortLength } from "../model/workshop-figures.ts";
import { blockedTexts, countOf, leftByRow, rowsApart } from "../model/workshop-loops-left.ts";
import type { LoopDesk } from "../state/loops.ts";
import styles from "./Loops.module.css";

/** Paths that stay beyond are told of one by one up to so many; the rest on request. */
const FIRST = 5;

export function LoopsLeft({
  desk,
  before,
  after,
}: {
  readonly desk: LoopDesk;
  readonly before: LoopReport;
  readonly after: LoopReport;
}) {
  const { document, tried, plans, choices } = desk;
  const { wing } = document;
  const unit = lengthUnitName();
  const blocked = blockedTexts(wing, plans?.blocked ?? []);
  const rows = leftByRow(wing, before, after);
  const apart = rowsApart(before, after);
  const reserve = after.reserve.filter(({ row }) => rows.some((each) => each.row === row));
  return (
    <section className={styles.section} aria-label={say("loops.left.title")} data-loops-part="left">
      <h2>{say("loops.left.title")}</h2>
      <p className={styles.small}>
        {say("loops.left.intro", {
          tried: tried.changes.length > 0 ? "yes" : "no",
          shared: choices.uniformFree ? "yes" : "no",
          tolerance: shortLength(wing.tolerances.pathM),
          source: sourceOf(wing.tolerances),
        })}
      </p>
      <table className={styles.left}>
        <thead>
          <tr>
            <th scope="col">{say("loops.left.head.row")}</th>
            <th scope="col">{say("loops.left.head.mean", { unit })}</th>
            <th scope="col">{say("loops.left.head.rms", { unit })}</th>
            <th scope="col">{say("loops.left.head.beyond")}</th>
            <th scope="col">{say("loops.left.head.reserve", { unit })}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ row, read, before: was, after: will, reserve }) => (
            <tr key={row} data-left-row={row}>
              <th scope="row">
                {rowName(row)} <span className={styles.ofPaths}>{read}</span>
              </th>
              <td>
                <FromTo from={signedMm(was.meanM, 1)} to={signedMm(will.meanM, 1)} />
              </td>
              <td>
                <FromTo from={lengthNumber(was.rmsM, 1)} to={lengthNumber(will.rmsM, 1)} />
              </td>
              <td>
                <FromTo from={String(was.beyond)} to={String(will.beyond)} />
              </td>
              <td>
                {reserve === undefined ? "–" : lengthNumber(reserve.meanM)}
                {reserve === undefined ? null : (
                  <small>{say("loops.left.least", { reserve: lengthNumber(reserve.leastM) })}</small>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className={styles.small}>{say("loops.left.reserve")}</p>

      <h3>{say("loops.left.limits")}</h3>
      <table className={styles.left}>
        <thead>
          <tr>
            <th scope="col">
              <span className="unseen">{say("loops.left.limits.what")}</span>
            </th>
            <th scope="col">{say("loops.left.limits.conform")}</th>
            <th scope="col">{say("loops.left.limits.undecided")}</th>
            <th scope="col">{say("loops.left.limits.out")}</th>
          </tr>
        </thead>
        <tbody>
          {(
            [
              ["path", say("loops.left.limits.paths")],
              ["pair", say("loops.left.limits.pairs")],
              ["rows", say("loops.left.limits.rows")],
            ] as const
          ).map(([kind, label]) => {
            const [was, will] = [countOf(before, kind), countOf(after, kind)];
            return (
              <tr key={kind}>
                <th scope="row">{label}</th>
                {(["conforms", "undecided", "does not conform"] as const).map((outcome) => (
                  <td key={outcome}>
                    <FromTo from={String(was[outcome])} to={String(will[outcome])} />
                  </td>
                ))}
              </tr>
            );
          })}
        </tbody>
      </table>
      {apart.length === 0 ? null : (
        <ul className={styles.apart}>
          {apart.map(({ front, rear, beforeM, afterM, outcome }) => (
            <li key={`${front}${rear}`} data-outcome={outcome}>
              <strong>
                {front} − {rear}
              </strong>
              {Children.toArray(
                sayParts("loops.left.apart", {
                  change: <FromTo from={signedMm(beforeM, 1)} to={signedMm(afterM, 1)} />,
                  unit,
                  outcome: outcome === "does not conform" ? "out" : outcome,
                }),
              )}
            </li>
          ))}
        </ul>
      )}

      {after.sentences.length + after.followUp.length === 0 ? null : (
        <>
          <h3>{say("loops.left.unreached")}</h3>
          <ul className={styles.sentences} data-loops-unreached={after.sentences.length}>
            {after.followUp.map((text) => (
              <li key={text}>
                <strong>{text}</strong>
              </li>
            ))}
            {after.sentences.slice(0, FIRST).map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
          {after.sentences.length <= FIRST ? null : (
            <details className={styles.inner}>
              <summary>{say("loops.left.more", { count: after.sentences.length - FIRST })}</summary>
              <ul className={styles.sentences}>
                {after.sentences.slice(FIRST).map((text) => (
                  <li key={text}>{text}</li>
                ))}
              </ul>
            </details>
          )}
        </>
      )}

      {reserve.every(({ used }) => used.length === 0) ? null : (
        <>
          <h3>{say("loops.left.later")}</h3>
          <ul className={styles.sentences}>
            {reserve.map(({ row, sentence }) => (
              <li key={row}>{sentence}</li>
            ))}
          </ul>
        </>
      )}

      {blocked.length === 0 ? null : (
        <>
          <h3>{say("loops.left.blocked")}</h3>
          <ul className={styles.sentences}>
            {blocked.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </>
      )}
      <p className={styles.limit} data-loops-limit>
        {choices.mostTakeUpM === undefined
          ? say("loops.left.limit.none")
          : say("loops.left.limit", { most: shortLength(choices.mostTakeUpM) })}
      </p>
    </section>
  );
}

function FromTo({ from, to }: { readonly from: string; readonly to: string }) {
  return (
    <span className={styles.fromTo}>
      <span>{from}</span> → <strong>{to}</strong>
    </span>
  );
}
