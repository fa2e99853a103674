/** The whole way on one or two sheets of paper: to tick by hand where no screen is at hand. Only seen in print. */
import {
  cardIn,
  lineName,
  loopKind,
  rowWord,
  sayList,
  sayTrace,
  startCard,
  traceLine,
} from "../../workshop/index.ts";
import { dateText, signedMm } from "../model/format.ts";
import { jobName } from "../model/workshop-replace.ts";
import { maillonsOpened, sayLoop, sayWithin } from "../model/workshop-replace-swap.ts";
import type { ReplaceDesk } from "../state/replace.ts";
import { DamagedDiagram } from "./DamagedDiagram.tsx";
import styles from "./SwapPaper.module.css";

export function SwapPaper({ desk, today }: { readonly desk: ReplaceDesk; readonly today: string }) {
  const { document, job, sheet, order, after } = desk;
  const { wing } = document;
  if (job === undefined || sheet === undefined)
    return <p className={styles.paper}>No line is being replaced.</p>;
  const trace = traceLine(wing, job.damagedKey);
  const damage = job.lines.find(({ line }) => line.key === job.damagedKey)?.entry.note;
  const ticked = new Set(desk.ticked);
  return (
    <article className={styles.paper} data-paper>
      <header className={styles.title}>
        <h2>{jobName(job)}: to be replaced</h2>
        <p>
          {wing.name}
          {wing.size === undefined ? "" : `, size ${wing.size}`} · printed {dateText(today)}
          {document.check === undefined
            ? " · no readings"
            : ` · readings of ${dateText(document.check.date)}`}
        </p>
      </header>
      {after.first === undefined ? null : <p className={styles.stop}>{after.first}</p>}
      <section className={styles.where}>
        <DamagedDiagram wing={wing} trace={trace} />
        <div>
          <p>{sayTrace(trace)}</p>
          <p>
            <b>Damage:</b> {damage ?? <span className={styles.blank} />}
          </p>
        </div>
      </section>

      <section>
        <h3>Order ({order.quantity})</h3>
        <table>
          <thead>
            <tr>
              {["line", "sides", "pieces", "length", "kind", "material", "colour", "loop, as specified"].map(
                (name) => (
                  <th key={name} scope="col">
                    {name}
                  </th>
                ),
              )}
            </tr>
          </thead>
          <tbody>
            {order.items.map((item) => (
              <tr key={item.lineKeys.join()}>
                <th scope="row">{item.name}</th>
                <td>{sayList(item.sides)}</td>
                <td>{item.quantity}</td>
                <td className={styles.figures}>
                  {Number((item.lengthM * 1000).toFixed(1))} mm at {item.tensionN} N
                </td>
                <td>
                  {item.tier}, {rowWord(item.row)}
                </td>
                <td>
                  {item.materialId}, {(item.diameterM * 1000).toFixed(1)} mm
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
              <h3>
                Maillon {maillonId}, {side}
              </h3>
              <p className={styles.small}>
                {known ? `Recorded ${dateText(card.recorded as string)}.` : "Write down before it is opened."}
              </p>
              <table>
                <thead>
                  <tr>
                    <th scope="col">place</th>
                    <th scope="col">line</th>
                    <th scope="col">loop</th>
                    <th scope="col">back on</th>
                  </tr>
                </thead>
                <tbody>
                  {card.order.map((key, place) => (
                    <tr key={key}>
                      <td>{known ? place + 1 : ""}</td>
                      <th scope="row">{document.cascade.lines.get(key)?.id ?? key}</th>
                      <td>
                        {known ? (loopKind(card.loops[place] as string)?.name ?? card.loops[place]) : ""}
                      </td>
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
          Old against new, loops out, at{" "}
          {job.lines[0]?.entry.tensionN ?? <span className={styles.blankShort} />} N
        </h3>
        <table>
          <thead>
            <tr>
              <th scope="col">line</th>
              <th scope="col">plan</th>
              <th scope="col">old, mm</th>
              <th scope="col">new, mm</th>
              <th scope="col">loop</th>
              <th scope="col">against the lines beside, mm</th>
              <th scope="col">left to take out, mm</th>
              <th scope="col">tied</th>
            </tr>
          </thead>
          <tbody>
            {sheet.sides
              .filter(({ replaced }) => replaced)
              .flatMap((side) => {
                const line = document.cascade.lines.get(side.lineKey);
                const entry = job.lines.find((one) => one.line.key === side.lineKey)?.entry;
                if (line === undefined) return [];
                const mm = (lengthM: number | undefined): string =>
                  lengthM === undefined ? "" : String(Number((lengthM * 1000).toFixed(1)));
                return side.landings.map((landing, at) => (
                  <tr key={`${side.lineKey} ${landing.state?.kind.id}`} className={styles.figures}>
                    {at > 0 ? null : (
                      <>
                        <th scope="row" rowSpan={side.landings.length}>
                          {lineName(line)}
                        </th>
                        <td rowSpan={side.landings.length}>{Math.round(line.lengthM * 1000)}</td>
                        <td rowSpan={side.landings.length}>{mm(entry?.oldM)}</td>
                        <td rowSpan={side.landings.length}>{mm(entry?.newM)}</td>
                      </>
                    )}
                    <td>
                      {sayLoop(landing)}
                      {side.suggested === at && landing.state !== undefined ? " (suggested)" : ""}
                      {landing.allowed ? "" : " (not allowed)"}
                    </td>
                    <td>
                      {signedMm(landing.differenceM, 1)} {sayWithin(landing.standardUncertaintyM)}
                    </td>
                    <td>{landing.state === undefined ? "–" : (landing.reserveM * 1000).toFixed(0)}</td>
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
        <h3>By hand</h3>
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
        <h3>{after.fullCheck ? "After it: a full check" : "After it"}</h3>
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
          <span>done by</span>
          <span>date</span>
          <span>looked over by</span>
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
      <span className="unseen">{done ? "done" : "not done"}</span>
    </span>
  );
}
