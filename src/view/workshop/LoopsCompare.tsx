/** What is tried beside the best plan and beside one that was laid aside: figures, and the lines by which they differ. */
import { Children } from "react";
import { lengthNumber, lengthUnitName, say, sayParts } from "../../words/index.ts";
import { chosenBy, kindName, type LoopPlan } from "../../workshop/index.ts";
import { signedMm } from "../model/format.ts";
import { differing, reachedText, sidesText } from "../model/workshop-loops.ts";
import { exchangeAside, type LoopDesk, layAside } from "../state/loops.ts";
import styles from "./Loops.module.css";

/** Id, label, and the figure of a plan. */
const figures = (unit: string): readonly (readonly [string, string, (plan: LoopPlan) => string])[] => [
  ["changes", say("loops.compare.changes"), ({ changes }) => String(changes.length)],
  ["rms", say("loops.compare.rms", { unit }), ({ rmsM }) => lengthNumber(rmsM, 1)],
  ["worst", say("loops.compare.worst", { unit }), ({ worstM }) => lengthNumber(worstM, 1)],
  ["beyond", say("loops.compare.beyond"), ({ beyond }) => String(beyond)],
  ["reached", say("loops.compare.reached"), reachedText],
  ["shared", say("loops.compare.shared", { unit }), ({ sharedM }) => signedMm(sharedM, 1)],
];

export function LoopsCompare({ desk }: { readonly desk: LoopDesk }) {
  const { plans, tried, aside, document } = desk;
  if (plans === undefined || tried.plan === undefined) return null;
  const columns: readonly (readonly [string, string, LoopPlan])[] = [
    ["present", say("loops.compare.present"), plans.present],
    ...(tried.changes.length === 0 ? [] : [["tried", say("loops.head.tried"), tried.plan] as const]),
    ...(aside?.plan === undefined ? [] : [["aside", say("loops.compare.aside"), aside.plan] as const]),
    ["best", say("loops.compare.best"), plans.best],
  ];
  const other = aside ?? { chosen: chosenBy(plans.best), plan: plans.best };
  const differ = differing(document.wing, document.loops, tried.chosen, other.chosen);
  const than = aside === undefined ? "best" : "aside";
  if (tried.changes.length === 0 && aside === undefined) return null;
  return (
    <section className={styles.section} aria-label={say("loops.compare.title")} data-loops-compare>
      <header className={styles.head}>
        <h2>{say("loops.compare.head")}</h2>
        <span className={styles.ways}>
          <button
            type="button"
            className={styles.link}
            disabled={tried.changes.length === 0}
            onClick={() => layAside(tried.chosen)}
          >
            {aside === undefined ? say("loops.compare.lay") : say("loops.compare.lay.instead")}
          </button>
          {aside === undefined ? null : (
            <>
              <button type="button" className={styles.link} onClick={exchangeAside}>
                {say("loops.compare.exchange")}
              </button>
              <button type="button" className={styles.link} onClick={() => layAside(undefined)}>
                {say("loops.compare.drop")}
              </button>
            </>
          )}
        </span>
      </header>
      <table className={styles.figures}>
        <thead>
          <tr>
            <th scope="col">
              <span className="unseen">{say("loops.compare.figure")}</span>
            </th>
            {columns.map(([id, label]) => (
              <th key={id} scope="col">
                {label}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {figures(lengthUnitName()).map(([figure, label, value]) => (
            <tr key={figure} data-figure={figure}>
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
        <p className={styles.small}>{say("loops.compare.same", { of: than })}</p>
      ) : (
        <details className={styles.inner} open={aside !== undefined || differ.length < 7 || undefined}>
          <summary>
            {Children.toArray(
              sayParts("loops.compare.differ", {
                of: than,
                count: <span className="figures">{differ.length}</span>,
              }),
            )}
          </summary>
          <table className={styles.changes} data-loops-differ={differ.length}>
            <thead>
              <tr>
                <th scope="col">{say("loops.head.line")}</th>
                <th scope="col">{say("loops.head.tried")}</th>
                <th scope="col">
                  {aside === undefined ? say("loops.compare.best") : say("loops.compare.aside")}
                </th>
              </tr>
            </thead>
            <tbody>
              {differ.map((each) => (
                <tr key={`${each.name} ${each.sides.join()} ${each.one.kind.id}`}>
                  <th scope="row">
                    <strong>{each.name}</strong> {sidesText(each.sides)}
                  </th>
                  <td>{kindName(each.one.kind)}</td>
                  <td>{kindName(each.other.kind)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </details>
      )}
    </section>
  );
}
