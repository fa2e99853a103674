/** What is tried beside the best plan and beside one that was laid aside: figures, and the lines by which they differ. */
import type { LoopPlan } from "../../workshop/index.ts";
import { chosenBy } from "../../workshop/index.ts";
import { signedMm } from "../model/format.ts";
import { differing, reachedText, sidesText } from "../model/workshop-loops.ts";
import { exchangeAside, type LoopDesk, layAside } from "../state/loops.ts";
import styles from "./Loops.module.css";

const FIGURES: readonly (readonly [string, (plan: LoopPlan) => string])[] = [
  ["changes", ({ changes }) => String(changes.length)],
  ["left, rms mm", ({ rmsM }) => (rmsM * 1000).toFixed(1)],
  ["left, most mm", ({ worstM }) => (worstM * 1000).toFixed(1)],
  ["paths beyond", ({ beyond }) => String(beyond)],
  ["of the way", reachedText],
  ["shared mm", ({ sharedM }) => signedMm(sharedM, 1)],
];

export function LoopsCompare({ desk }: { readonly desk: LoopDesk }) {
  const { plans, tried, aside, document } = desk;
  if (plans === undefined || tried.plan === undefined) return null;
  const columns: readonly (readonly [string, string, LoopPlan])[] = [
    ["present", "As it is", plans.present],
    ...(tried.changes.length === 0 ? [] : [["tried", "Tried", tried.plan] as const]),
    ...(aside?.plan === undefined ? [] : [["aside", "Aside", aside.plan] as const]),
    ["best", "Best", plans.best],
  ];
  const other = aside ?? { chosen: chosenBy(plans.best), plan: plans.best };
  const differ = differing(document.wing, document.loops, tried.chosen, other.chosen);
  const word = aside === undefined ? "the best plan" : "what lies aside";
  if (tried.changes.length === 0 && aside === undefined) return null;
  return (
    <section className={styles.section} aria-label="Plans beside each other" data-loops-compare>
      <header className={styles.head}>
        <h2>Side by side</h2>
        <span className={styles.ways}>
          <button
            type="button"
            className={styles.link}
            disabled={tried.changes.length === 0}
            onClick={() => layAside(tried.chosen)}
          >
            {aside === undefined ? "Lay aside" : "Lay this aside instead"}
          </button>
          {aside === undefined ? null : (
            <>
              <button type="button" className={styles.link} onClick={exchangeAside}>
                Change over
              </button>
              <button type="button" className={styles.link} onClick={() => layAside(undefined)}>
                Drop
              </button>
            </>
          )}
        </span>
      </header>
      <table className={styles.figures}>
        <thead>
          <tr>
            <th scope="col">
              <span className="unseen">Figure</span>
            </th>
            {columns.map(([id, label]) => (
              <th key={id} scope="col">
                {label}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {FIGURES.map(([label, value]) => (
            <tr key={label} data-figure={label}>
              <th scope="row">{label}</th>
              {columns.map(([id, , plan]) => (
                <td key={id} data-of={id}>
                  {value(plan)}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
      {tried.changes.length === 0 ||
      (aside === undefined && tried.plan === plans.best) ? null : differ.length === 0 ? (
        <p className={styles.small}>The same loops as in {word}.</p>
      ) : (
        <details className={styles.inner} open={aside !== undefined || differ.length < 7 || undefined}>
          <summary>
            Where they differ from {word} <span className="figures">{differ.length}</span>
          </summary>
          <table className={styles.changes} data-loops-differ={differ.length}>
            <thead>
              <tr>
                <th scope="col">Line</th>
                <th scope="col">Tried</th>
                <th scope="col">{aside === undefined ? "Best" : "Aside"}</th>
              </tr>
            </thead>
            <tbody>
              {differ.map((each) => (
                <tr key={`${each.name} ${each.sides.join()} ${each.one.kind.id}`}>
                  <th scope="row">
                    <strong>{each.name}</strong> {sidesText(each.sides)}
                  </th>
                  <td>{each.one.kind.name}</td>
                  <td>{each.other.kind.name}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </details>
      )}
    </section>
  );
}
