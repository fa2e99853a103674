/** Where the paths above a new line land with each loop, against the lines beside it. */
import { Children, useId, useMemo } from "react";
import { lengthNumber, lengthUnitName, say, sayParts, signedLength, speech } from "../../words/index.ts";
import { kindName, type Landing, lineName, type SwapSide } from "../../workshop/index.ts";
import { signedMm } from "../model/format.ts";
import type { ReplaceJob } from "../model/workshop-replace.ts";
import {
  landingMarks,
  landingOf,
  sayLater,
  sayLoop,
  sayWithin,
  TARGET,
} from "../model/workshop-replace-swap.ts";
import { useSize } from "../parts/hooks.ts";
import { chooseLoop, type ReplaceDesk } from "../state/replace.ts";
import styles from "./Damaged.module.css";
import own from "./Swap.module.css";
import { SwapChart } from "./SwapChart.tsx";

export function SwapLandings(props: {
  readonly desk: ReplaceDesk;
  readonly job: ReplaceJob;
  readonly side: SwapSide;
}) {
  const { desk, side } = props;
  const { wing, cascade } = desk.document;
  const line = cascade.lines.get(side.lineKey);
  const landing = landingOf(side, desk.chosen);
  const [ref, size] = useSize<HTMLDivElement>();
  const { deviations } = desk.analysis;
  const marks = useMemo(
    () => landingMarks(wing, deviations, side, landing),
    [wing, deviations, side, landing],
  );
  if (line === undefined) return null;
  if (!side.replaced)
    return (
      <p className={styles.text} data-landings={side.side}>
        {Children.toArray(
          sayParts("replace.landing.stays", {
            line: <b>{lineName(line)}</b>,
            read: side.nowM === undefined ? "no" : "yes",
            by: signedLength(side.nowM ?? 0, 1),
          }),
        )}
      </p>
    );
  const read = marks.some(({ nowM }) => nowM !== undefined);
  return (
    <div className={own.side} data-landings={side.side}>
      <h4>{lineName(line)}</h4>
      <LandingTable {...props} name={lineName(line)} />
      <p className={styles.text}>{side.why}</p>
      {sayLater(side).map((text) => (
        <p key={text} className={styles.soft}>
          {say("replace.landing.later", { text })}
        </p>
      ))}
      {read ? (
        <div ref={ref} className={own.chart}>
          {size.width > 120 ? (
            <SwapChart
              marks={marks}
              targetM={side.target.meanM}
              width={size.width}
              label={say("replace.landing.chart", { side: side.side, line: line.id })}
            />
          ) : null}
        </div>
      ) : (
        <p className={styles.soft}>{say("replace.landing.no-readings")}</p>
      )}
    </div>
  );
}

function LandingTable(props: {
  readonly desk: ReplaceDesk;
  readonly job: ReplaceJob;
  readonly side: SwapSide;
  readonly name: string;
}) {
  const { desk, job, side, name } = props;
  const group = useId();
  const chosenAt = desk.chosen.get(side.lineKey);
  const at = chosenAt ?? side.suggested;
  const readings = side.nowM !== undefined;
  const unit = lengthUnitName();
  const row = (landing: Landing, index: number) => {
    const id = `${group}-${index}`;
    const loop = landing.state;
    return (
      <tr
        key={loop?.kind.id ?? "none"}
        data-loop={loop?.kind.id}
        data-chosen={at === index || undefined}
        data-suggested={side.suggested === index || undefined}
      >
        <th scope="row">
          {loop === undefined ? (
            sayLoop(landing)
          ) : (
            <label htmlFor={id}>
              <input
                id={id}
                type="radio"
                name={group}
                checked={at === index}
                disabled={!landing.allowed}
                aria-label={say("replace.landing.of", { line: name, loop: kindName(loop.kind) })}
                onClick={() => chooseLoop(job, [side.side], loop.kind.id)}
                onChange={() => {}}
              />
              <span>
                {kindName(loop.kind)}
                <small>
                  {[
                    side.suggested === index ? say("replace.landing.suggested") : undefined,
                    landing.allowed ? undefined : say("replace.landing.not-allowed"),
                    say("replace.landing.takes-up", { takeUp: lengthNumber(loop.takeUpM, 1) }),
                  ]
                    .filter((text) => text !== undefined)
                    .join(" · ")}
                </small>
              </span>
            </label>
          )}
        </th>
        {readings ? <td>{signedMm(landing.meanM, 1)}</td> : null}
        <td>
          <b>{signedMm(landing.differenceM, 1)}</b>
          <small>{sayWithin(landing.standardUncertaintyM)}</small>
        </td>
        {loop === undefined ? null : <td>{lengthNumber(landing.reserveM)}</td>}
      </tr>
    );
  };
  return (
    <table className={own.table}>
      <caption className="unseen">
        {say("replace.landing.caption", {
          line: name,
          count: side.landings.length,
          unit: speech().unit,
        })}
      </caption>
      <thead>
        <tr>
          <th scope="col">{side.landings[0]?.state === undefined ? "" : say("replace.landing.head.loop")}</th>
          {readings ? <th scope="col">{say("replace.landing.head.lands", { unit })}</th> : null}
          <th scope="col">
            {say("replace.landing.head.against", { target: TARGET[side.target.basis], unit })}
          </th>
          {side.landings[0]?.state === undefined ? null : (
            <th scope="col">{say("replace.landing.head.left", { unit })}</th>
          )}
        </tr>
      </thead>
      <tbody>{side.landings.map(row)}</tbody>
    </table>
  );
}
