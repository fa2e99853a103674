/** The whole way on one or two sheets of paper: to tick by hand where no screen is at hand. Only seen in print. */
import { Children } from "react";
import {
  type Key,
  length,
  lengthNumber,
  lengthUnitName,
  longDate,
  say,
  sayParts,
} from "../../words/index.ts";
import { cardIn, kindName, lineName, sayTrace, startCard, traceLine } from "../../workshop/index.ts";
import { signedMm } from "../model/format.ts";
import { lengthFigure, shortLength, trimmed } from "../model/workshop-figures.ts";
import { jobName, saySides } from "../model/workshop-replace.ts";
import { maillonsOpened, sayLoop, sayWithin } from "../model/workshop-replace-swap.ts";
import type { ReplaceDesk } from "../state/replace.ts";
import { DamagedDiagram } from "./DamagedDiagram.tsx";
import styles from "./SwapPaper.module.css";

const ORDER_HEADS: readonly Key[] = [
  "replace.lengths.line",
  "replace.paper.head.sides",
  "replace.paper.head.pieces",
  "replace.paper.head.length",
  "replace.paper.head.kind",
  "replace.paper.head.material",
  "replace.paper.head.colour",
  "replace.paper.head.loop",
];

export function SwapPaper({ desk, today }: { readonly desk: ReplaceDesk; readonly today: string }) {
  const { document, job, sheet, order, after } = desk;
  const { wing } = document;
  if (job === undefined || sheet === undefined)
    return <p className={styles.paper}>{say("replace.paper.none")}</p>;
  const trace = traceLine(wing, job.damagedKey);
  const damage = job.lines.find(({ line }) => line.key === job.damagedKey)?.entry.note;
  const ticked = new Set(desk.ticked);
  const tensionN = job.lines[0]?.entry.tensionN;
  const unit = lengthUnitName();
  return (
    <article className={styles.paper} data-paper>
      <header className={styles.title}>
        <h2>{say("replace.paper.title", { line: jobName(job) })}</h2>
        <p>
          {say("replace.paper.about", {
            wing: wing.name,
            size: wing.size ?? "none",
            date: longDate(today),
            read: document.check === undefined ? "no" : "yes",
            check: longDate(document.check?.date ?? ""),
          })}
        </p>
      </header>
      {after.first === undefined ? null : <p className={styles.stop}>{after.first}</p>}
      <section className={styles.where}>
        <DamagedDiagram wing={wing} trace={trace} />
        <div>
          <p>{sayTrace(trace)}</p>
          <p>
            <b>{say("replace.paper.damage")}</b> {damage ?? <span className={styles.blank} />}
          </p>
        </div>
      </section>

      <section>
        <h3>{say("replace.paper.order", { count: order.quantity })}</h3>
        <table>
          <thead>
            <tr>
              {ORDER_HEADS.map((name) => (
                <th key={name} scope="col">
                  {say(name)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {order.items.map((item) => (
              <tr key={item.lineKeys.join()}>
                <th scope="row">{item.name}</th>
                <td>{saySides(item.sides)}</td>
                <td>{item.quantity}</td>
                <td className={styles.figures}>
                  {say("replace.paper.length", {
                    length: shortLength(item.lengthM),
                    tension: trimmed(item.tensionN, 3),
                  })}
                </td>
                <td>{say("replace.paper.tier", { tier: item.tier, row: item.row })}</td>
                <td>
                  {item.materialId}, {length(item.diameterM, 1)}
                </td>
                <td>{item.colour ?? "–"}</td>
                <td>{item.loop ?? "–"}</td>
              </tr>
            ))}
          </tbody>
        </table>
        {order.warnings.map((text) => (
          <p key={text} className={styles.warning}>
            {text}
          </p>
        ))}
      </section>

      <div className={styles.cards}>
        {maillonsOpened([job]).map(({ maillonId, side }) => {
          const kept = cardIn(document.book, maillonId, side);
          const card = kept ?? startCard(document.loops, maillonId, side);
          const known = card.recorded !== undefined;
          const back = new Set(card.backOn.map(({ lineKey }) => lineKey));
          return (
            <section key={`${maillonId} ${side}`}>
              <h3>{say("replace.card.title", { maillon: maillonId, side })}</h3>
              <p className={styles.small}>
                {say("replace.paper.card", {
                  known: known ? "yes" : "no",
                  date: longDate(card.recorded ?? ""),
                })}
              </p>
              <table>
                <thead>
                  <tr>
                    <th scope="col">{say("replace.paper.head.place")}</th>
                    <th scope="col">{say("replace.lengths.line")}</th>
                    <th scope="col">{say("replace.landing.head.loop")}</th>
                    <th scope="col">{say("replace.paper.head.back")}</th>
                  </tr>
                </thead>
                <tbody>
                  {card.order.map((key, place) => (
                    <tr key={key}>
                      <td>{known ? place + 1 : ""}</td>
                      <th scope="row">{document.cascade.lines.get(key)?.id ?? key}</th>
                      <td>{known ? kindName({ id: card.loops[place] as string }) : ""}</td>
                      <td>
                        <Box done={back.has(key)} />
                      </td>
                    </tr>
                  ))}
                </tbody>
              </table>
            </section>
          );
        })}
      </div>

      <section>
        <h3>
          {Children.toArray(
            sayParts("replace.paper.lengths", {
              tension: tensionN === undefined ? <span className={styles.blankShort} /> : trimmed(tensionN, 3),
            }),
          )}
        </h3>
        <table>
          <thead>
            <tr>
              <th scope="col">{say("replace.lengths.line")}</th>
              <th scope="col">{say("replace.paper.head.plan")}</th>
              <th scope="col">{say("replace.lengths.old", { unit })}</th>
              <th scope="col">{say("replace.lengths.new", { unit })}</th>
              <th scope="col">{say("replace.landing.head.loop")}</th>
              <th scope="col">{say("replace.paper.head.against", { unit })}</th>
              <th scope="col">{say("replace.landing.head.left", { unit })}</th>
              <th scope="col">{say("replace.paper.head.tied")}</th>
            </tr>
          </thead>
          <tbody>
            {sheet.sides
              .filter(({ replaced }) => replaced)
              .flatMap((side) => {
                const line = document.cascade.lines.get(side.lineKey);
                const entry = job.lines.find((one) => one.line.key === side.lineKey)?.entry;
                if (line === undefined) return [];
                const figure = (lengthM: number | undefined): string =>
                  lengthM === undefined ? "" : lengthFigure(lengthM);
                return side.landings.map((landing, at) => (
                  <tr key={`${side.lineKey} ${landing.state?.kind.id}`} className={styles.figures}>
                    {at > 0 ? null : (
                      <>
                        <th scope="row" rowSpan={side.landings.length}>
                          {lineName(line)}
                        </th>
                        <td rowSpan={side.landings.length}>{lengthNumber(line.lengthM)}</td>
                        <td rowSpan={side.landings.length}>{figure(entry?.oldM)}</td>
                        <td rowSpan={side.landings.length}>{figure(entry?.newM)}</td>
                      </>
                    )}
                    <td>
                      {say("replace.paper.loop", {
                        loop: sayLoop(landing),
                        suggested: side.suggested === at && landing.state !== undefined ? "yes" : "no",
                        allowed: landing.allowed ? "yes" : "no",
                      })}
                    </td>
                    <td>
                      {signedMm(landing.differenceM, 1)} {sayWithin(landing.standardUncertaintyM)}
                    </td>
                    <td>{landing.state === undefined ? "–" : lengthNumber(landing.reserveM)}</td>
                    <td>
                      <Box
                        done={entry?.loopKindId !== undefined && entry.loopKindId === landing.state?.kind.id}
                      />
                    </td>
                  </tr>
                ));
              })}
          </tbody>
        </table>
        {sheet.warnings.map((text) => (
          <p key={text} className={styles.warning}>
            {text}
          </p>
        ))}
      </section>

      <section>
        <h3>{say("replace.paper.hand")}</h3>
        <ol className={styles.steps}>
          {sheet.steps.map(({ id, text }, at) => (
            <li key={id}>
              <Box done={ticked.has(id)} />
              <span>
                {at + 1}. {text}
              </span>
            </li>
          ))}
        </ol>
      </section>

      <section className={styles.last}>
        <h3>{say("replace.paper.after", { check: after.fullCheck ? "full" : "none" })}</h3>
        <p>
          <b>{after.conclusion}</b>
        </p>
        <ul>
          {after.reasons.map(({ text }) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
        {[...new Set([...sheet.cautions, ...order.cautions.slice(1)])].map((text) => (
          <p key={text} className={styles.small}>
            {text}
          </p>
        ))}
        <p className={styles.signed}>
          <span>{say("replace.paper.by")}</span>
          <span>{say("replace.paper.date")}</span>
          <span>{say("replace.paper.looked")}</span>
        </p>
      </section>
    </article>
  );
}

/** A box to tick by hand. */
function Box({ done }: { readonly done: boolean }) {
  return (
    <span className={styles.box}>
      {done ? "✓" : ""}
      <span className="unseen">{say("replace.paper.box", { done: done ? "yes" : "no" })}</span>
    </span>
  );
}
