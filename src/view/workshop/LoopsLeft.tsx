/** What a plan leaves: row by row before and after, rows against each other, what no loop reaches, what can be taken out later. */
import type { LoopReport } from "../../workshop/index.ts";
import { rowName, signedMm } from "../model/format.ts";
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
  const toleranceMm = Number((wing.tolerances.pathM * 1000).toFixed(1));
  const blocked = blockedTexts(wing, plans?.blocked ?? []);
  const rows = leftByRow(wing, before, after);
  const apart = rowsApart(before, after);
  const reserve = after.reserve.filter(({ row }) => rows.some((each) => each.row === row));
  return (
    <section className={styles.section} aria-label="What is left" data-loops-part="left">
      <h2>What is left</h2>
      <p className={styles.small}>
        {tried.changes.length > 0 ? "With the loops tried" : "With the plan above"}, against as it is now
        {choices.uniformFree ? "; both counted from the part that all rows share" : ""}. Tolerance ±
        {toleranceMm} mm, {wing.tolerances.source ?? "a setting"}.
      </p>
      <table className={styles.left}>
        <thead>
          <tr>
            <th scope="col">Row, paths</th>
            <th scope="col">mean mm</th>
            <th scope="col">rms mm</th>
            <th scope="col">beyond</th>
            <th scope="col">reserve mm</th>
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
                <FromTo from={(was.rmsM * 1000).toFixed(1)} to={(will.rmsM * 1000).toFixed(1)} />
              </td>
              <td>
                <FromTo from={String(was.beyond)} to={String(will.beyond)} />
              </td>
              <td>
                {reserve === undefined ? "–" : (reserve.meanM * 1000).toFixed(0)}
                {reserve === undefined ? null : <small>least {(reserve.leastM * 1000).toFixed(0)}</small>}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className={styles.small}>
        Reserve is what the row’s loops take up on average, to be taken out later.
      </p>

      <h3>Held against the limits</h3>
      <table className={styles.left}>
        <thead>
          <tr>
            <th scope="col">
              <span className="unseen">What</span>
            </th>
            <th scope="col">conform</th>
            <th scope="col">undecided</th>
            <th scope="col">don’t conform</th>
          </tr>
        </thead>
        <tbody>
          {(
            [
              ["path", "Paths"],
              ["pair", "Left against right"],
              ["rows", "Row against row"],
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
              <FromTo from={signedMm(beforeM, 1)} to={signedMm(afterM, 1)} /> mm
              {outcome === "conforms" ? null : <span className={styles.outcome}>, {outcome}</span>}
            </li>
          ))}
        </ul>
      )}

      {after.sentences.length + after.followUp.length === 0 ? null : (
        <>
          <h3>What loops don’t mend</h3>
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
              <summary>{after.sentences.length - FIRST} more</summary>
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
          <h3>What can be taken out later</h3>
          <ul className={styles.sentences}>
            {reserve.map(({ row, sentence }) => (
              <li key={row}>{sentence}</li>
            ))}
          </ul>
        </>
      )}

      {blocked.length === 0 ? null : (
        <>
          <h3>Lines that stand in the way</h3>
          <ul className={styles.sentences}>
            {blocked.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </>
      )}
      <p className={styles.limit} data-loops-limit>
        {choices.mostTakeUpM === undefined
          ? "No limit of the maker’s is set: tie only loops that the maker allows for this wing, and enter the limit among the choices."
          : `By the limit set, no loop takes up more than ${Number((choices.mostTakeUpM * 1000).toFixed(1))} mm. Tie only loops that the maker allows for this wing.`}{" "}
        After any change inflate on the ground first, and have the wing checked.
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
