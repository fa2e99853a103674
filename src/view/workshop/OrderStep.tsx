/** What to order: both of the pair, or one with a word of warning; as text, as a table, on paper. */
import { useState } from "react";
import { SIDES, type Side } from "../../plan/model.ts";
import { lineName, type OrderItem, orderCsv, orderText, rowWord, sayList } from "../../workshop/index.ts";
import { lengthText, signedMm } from "../model/format.ts";
import { jobName, type ReplaceJob } from "../model/workshop-replace.ts";
import { offerFile } from "../parts/hooks.ts";
import { chooseSides, orderAdvised, type ReplaceDesk, replaceLine } from "../state/replace.ts";
import styles from "./Damaged.module.css";
import { DamagedSearch } from "./DamagedSearch.tsx";
import own from "./Order.module.css";

const BASIS: Readonly<Record<OrderItem["lengthBasis"], string>> = {
  specified: "as specified",
  assumed: "assumed from the totals: ask the maker",
  "old line": "as the old line",
  neighbours: "to land with the lines beside it",
};

export function OrderStep({ desk }: { readonly desk: ReplaceDesk }) {
  const { document, job, order } = desk;
  const [more, setMore] = useState(false);
  if (job === undefined) return null;
  return (
    <>
      <section className={styles.section}>
        <h3>What to order</h3>
        <Pair job={job} />
        <Advice desk={desk} job={job} />
      </section>
      <section className={styles.section}>
        <h3>
          {order.quantity} {order.quantity === 1 ? "line" : "lines"} for {order.wing}
          {order.size === undefined ? "" : `, size ${order.size}`}
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
            label="Order another line too"
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
              Order another line too
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
    return <p className={styles.text}>{jobName(job)} has no mirror twin in the plan: it is ordered alone.</p>;
  const sides: readonly Side[] = lines.map(({ line }) => line.side);
  const options: readonly (readonly [string, readonly Side[]])[] = [
    [`${lineId} left and right`, SIDES],
    [`only ${lineId} left`, ["left"]],
    [`only ${lineId} right`, ["right"]],
  ];
  return (
    <fieldset className={own.pair}>
      <legend>
        Pairs keep the wing symmetric: a new line beside an aged twin is usually longer. (Common practice.)
      </legend>
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
  if (sides.length === 0)
    return (
      <p className={styles.soft}>
        It has no loop to take length up: where it lands is decided by the length it’s made to. Measure the
        old one, or bring readings, and the length to order is worked out here.
      </p>
    );
  const other = sides.some(({ advice }) => advice?.basis !== "specified");
  return (
    <div className={own.advice} data-part="advice">
      <h4>It has no loop, so the length decides</h4>
      <ul>
        {sides.map(({ lineKey, advice, old }) => {
          const line = document.cascade.lines.get(lineKey);
          if (advice === undefined || line === undefined) return null;
          return (
            <li key={lineKey}>
              {lineName(line)}: <b className={styles.figures}>{lengthText(advice.lengthM)}</b>,{" "}
              {BASIS[advice.basis]}; it then lands{" "}
              <span className={styles.figures}>{signedMm(advice.differenceM, 1)} mm</span> against the lines
              beside it
              {old?.basis === "attributed"
                ? `, reckoned from the readings to about ±${(2000 * old.standardUncertaintyM).toFixed(0)} mm`
                : ""}
              .
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
          <span>Order to these lengths instead of the plan’s</span>
        </label>
      ) : (
        <p className={styles.soft}>The plan’s length will do.</p>
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
        <span>{sayList(item.sides)}</span>
        <span className={own.length}>
          <b className={styles.figures}>
            {(item.lengthM * 1000).toFixed(item.lengthBasis === "specified" ? 0 : 1)} mm
          </b>
          <small>
            {BASIS[item.lengthBasis]}, at {item.tensionN} N
          </small>
        </span>
      </p>
      <dl className={own.parts}>
        {row("Line", `${item.tier} line, ${rowWord(item.row)}`)}
        {row(
          "Material",
          `${item.materialId}${named ? "" : `, ${item.fibre}`}, ${(item.diameterM * 1000).toFixed(1)} mm thick`,
        )}
        {row("Colour", item.colour)}
        {row("Lower end", item.lowerEnd)}
        {row("Upper end", item.upperEnd)}
        {row(
          "Loop",
          item.loop === undefined ? undefined : `${item.loop}; tied on the maillon, not part of the length`,
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
          Copy as text
        </button>
        <button
          type="button"
          className={styles.plain}
          onClick={() => offerFile(`${name}.csv`, orderCsv(order), "text/csv")}
        >
          Download CSV
        </button>
        <button type="button" className={styles.plain} onClick={() => print()}>
          Print
        </button>
        <span role="status">
          {copied === "yes"
            ? "Copied."
            : copied === "no"
              ? "The browser refused: mark the text below and copy it."
              : ""}
        </span>
      </div>
      <details className={own.text} open={copied === "no" || undefined}>
        <summary>The list as text</summary>
        <pre data-order-text>{text}</pre>
      </details>
    </>
  );
}
