/** What to order: both of the pair, or one with a word of warning; as text, as a table, on paper. */
import { Children, useState } from "react";
import { SIDES, type Side } from "../../plan/model.ts";
import {
  type Key,
  length,
  lengthNumber,
  lengthUnitName,
  say,
  sayParts,
  signedLength,
} from "../../words/index.ts";
import { lineName, type OrderItem, orderCsv, orderText, sayLineKind } from "../../workshop/index.ts";
import { trimmed } from "../model/workshop-figures.ts";
import { jobName, type ReplaceJob, saySides } from "../model/workshop-replace.ts";
import { offerFile } from "../parts/hooks.ts";
import { chooseSides, orderAdvised, type ReplaceDesk, replaceLine } from "../state/replace.ts";
import styles from "./Damaged.module.css";
import { DamagedSearch } from "./DamagedSearch.tsx";
import own from "./Order.module.css";

const BASIS: Readonly<Record<OrderItem["lengthBasis"], Key>> = {
  specified: "replace.order.basis.specified",
  assumed: "replace.order.basis.assumed",
  "old line": "replace.order.basis.old",
  neighbours: "replace.order.basis.neighbours",
};

export function OrderStep({ desk }: { readonly desk: ReplaceDesk }) {
  const { document, job, order } = desk;
  const [more, setMore] = useState(false);
  if (job === undefined) return null;
  return (
    <>
      <section className={styles.section}>
        <h3>{say("replace.order.title")}</h3>
        <Pair job={job} />
        <Advice desk={desk} job={job} />
      </section>
      <section className={styles.section}>
        <h3>
          {say("replace.order.count", {
            count: order.quantity,
            wing: order.wing,
            size: order.size ?? "none",
          })}
        </h3>
        <ul className={own.items} data-list="order">
          {order.items.map((item) => (
            <Item key={item.lineKeys.join()} item={item} />
          ))}
        </ul>
        {order.warnings.length === 0 ? null : (
          <ul className={styles.warnings} data-list="order-warnings">
            {order.warnings.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        )}
        <ul className={own.notes}>
          {order.notes.map((text) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
        <Ways desk={desk} />
        {more ? (
          <DamagedSearch
            wing={document.wing}
            label={say("replace.order.another")}
            pickedKey={undefined}
            listAll={false}
            onPick={({ key }) => {
              replaceLine(key);
              setMore(false);
            }}
          />
        ) : (
          <div className={styles.actions}>
            <button type="button" className={styles.link} onClick={() => setMore(true)}>
              {say("replace.order.another")}
            </button>
          </div>
        )}
        <p className={styles.soft}>{order.cautions.join(" ")}</p>
      </section>
    </>
  );
}

/** Both of the pair, or one of them. */
function Pair({ job }: { readonly job: ReplaceJob }) {
  const { twin, lines, lineId } = job;
  if (twin === undefined)
    return <p className={styles.text}>{say("replace.order.alone", { line: jobName(job) })}</p>;
  const sides: readonly Side[] = lines.map(({ line }) => line.side);
  const options: readonly (readonly [string, readonly Side[]])[] = [
    [say("replace.job", { line: lineId, sides: "both" }), SIDES],
    ...SIDES.map((side) => [say("replace.job.only", { line: lineId, side }), [side]] as const),
  ];
  return (
    <fieldset className={own.pair}>
      <legend>{say("replace.order.pair")}</legend>
      {options.map(([label, wanted]) => (
        <label key={label}>
          <input
            type="radio"
            name="replace-sides"
            checked={sides.join() === wanted.join()}
            onChange={() => chooseSides(job, wanted)}
          />
          <span>{label}</span>
        </label>
      ))}
    </fieldset>
  );
}

/** For a line without a loop: to which length it's best made. */
function Advice({ desk, job }: { readonly desk: ReplaceDesk; readonly job: ReplaceJob }) {
  const { sheet, advised, document } = desk;
  const sides = sheet?.sides.filter(({ advice }) => advice !== undefined) ?? [];
  if (sheet === undefined || sheet.onMaillon || sheet.row === "brake") return null;
  if (sides.length === 0) return <p className={styles.soft}>{say("replace.order.no-loop")}</p>;
  const other = sides.some(({ advice }) => advice?.basis !== "specified");
  return (
    <div className={own.advice} data-part="advice">
      <h4>{say("replace.order.decides")}</h4>
      <ul>
        {sides.map(({ lineKey, advice, old }) => {
          const line = document.cascade.lines.get(lineKey);
          if (advice === undefined || line === undefined) return null;
          return (
            <li key={lineKey}>
              {Children.toArray(
                sayParts("replace.order.advice", {
                  line: lineName(line),
                  length: <b className={styles.figures}>{length(advice.lengthM)}</b>,
                  basis: say(BASIS[advice.basis]),
                  lands: <span className={styles.figures}>{signedLength(advice.differenceM, 1)}</span>,
                  reckoned: old?.basis === "attributed" ? "yes" : "no",
                  within: length(2 * (old?.standardUncertaintyM ?? 0)),
                }),
              )}
            </li>
          );
        })}
      </ul>
      {other ? (
        <label className={own.check}>
          <input
            type="checkbox"
            checked={advised}
            onChange={(event) => orderAdvised(job, event.target.checked)}
          />
          <span>{say("replace.order.advised")}</span>
        </label>
      ) : (
        <p className={styles.soft}>{say("replace.order.will-do")}</p>
      )}
    </div>
  );
}

function Item({ item }: { readonly item: OrderItem }) {
  const row = (name: string, text: string | undefined) =>
    text === undefined ? null : (
      <div>
        <dt>{name}</dt>
        <dd>{text}</dd>
      </div>
    );
  const named = item.fibre === undefined || item.materialId.toLowerCase().includes(item.fibre.toLowerCase());
  return (
    <li data-item={item.name}>
      <p className={own.itemHead}>
        <b>
          {item.quantity} × {item.name}
        </b>
        <span>{saySides(item.sides)}</span>
        <span className={own.length}>
          <b className={styles.figures}>
            {lengthNumber(item.lengthM, item.lengthBasis === "specified" ? 0 : 1)} {lengthUnitName()}
          </b>
          <small>
            {say("replace.order.at", {
              basis: say(BASIS[item.lengthBasis]),
              tension: trimmed(item.tensionN, 3),
            })}
          </small>
        </span>
      </p>
      <dl className={own.parts}>
        {row(say("replace.order.line"), sayLineKind(item))}
        {row(
          say("replace.order.material"),
          say("replace.order.material.of", {
            material: item.materialId,
            fibre: named ? "none" : (item.fibre ?? "none"),
            diameter: length(item.diameterM, 1),
          }),
        )}
        {row(say("replace.order.colour"), item.colour)}
        {row(say("replace.order.lower"), item.lowerEnd)}
        {row(say("replace.order.upper"), item.upperEnd)}
        {row(
          say("replace.order.loop"),
          item.loop === undefined ? undefined : say("replace.order.loop.of", { loop: item.loop }),
        )}
      </dl>
    </li>
  );
}

function Ways({ desk }: { readonly desk: ReplaceDesk }) {
  const { order, document } = desk;
  const [copied, setCopied] = useState<"yes" | "no">();
  const text = orderText(order);
  const name = `${document.plan.name.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, "-")}-lines`;
  const copy = async (): Promise<void> => {
    try {
      await navigator.clipboard.writeText(text);
      setCopied("yes");
    } catch {
      setCopied("no");
    }
  };
  return (
    <>
      <div className={styles.actions}>
        <button type="button" className={styles.button} onClick={copy}>
          {say("replace.order.copy")}
        </button>
        <button
          type="button"
          className={styles.plain}
          onClick={() => offerFile(`${name}.csv`, orderCsv(order), "text/csv")}
        >
          {say("replace.order.csv")}
        </button>
        <button type="button" className={styles.plain} onClick={() => print()}>
          {say("replace.order.print")}
        </button>
        <span role="status">
          {copied === "yes"
            ? say("replace.order.copied")
            : copied === "no"
              ? say("replace.order.refused")
              : ""}
        </span>
      </div>
      <details className={own.text} open={copied === "no" || undefined}>
        <summary>{say("replace.order.text")}</summary>
        <pre data-order-text>{text}</pre>
      </details>
    </>
  );
}
