/** Where the paths above a new line land with each loop, against the lines beside it. */
import { useId, useMemo } from "react";
import { type Landing, lineName, type SwapSide } from "../../workshop/index.ts";
import { counted, signedMm } from "../model/format.ts";
import type { ReplaceJob } from "../model/workshop-replace.ts";
import { landingMarks, landingOf, sayLater, sayLoop, sayWithin } from "../model/workshop-replace-swap.ts";
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
        <b>{lineName(line)}</b> stays
        {side.nowM === undefined ? "." : `: its paths are at ${signedMm(side.nowM, 1)} mm.`}
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
          Later: {text}
        </p>
      ))}
      {read ? (
        <div ref={ref} className={own.chart}>
          {size.width > 120 ? (
            <SwapChart
              marks={marks}
              targetM={side.target.meanM}
              width={size.width}
              label={`Paths of the row on the ${side.side}: as they are, and those above ${line.id} as they land`}
            />
          ) : null}
        </div>
      ) : (
        <p className={styles.soft}>
          There are no readings: what is met is the old line’s working length, whether or not it was right.
        </p>
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
  const against =
    side.target.basis === "neighbours"
      ? "beside"
      : side.target.basis === "twin"
        ? "twin"
        : side.target.basis === "specified"
          ? "plan"
          : "old one";
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
                aria-label={`${name}: ${loop.kind.name}`}
                onClick={() => chooseLoop(job, [side.side], loop.kind.id)}
                onChange={() => {}}
              />
              <span>
                {loop.kind.name}
                <small>
                  {[
                    side.suggested === index ? "suggested" : undefined,
                    landing.allowed ? undefined : "not allowed by your choices",
                    `takes up ${(loop.takeUpM * 1000).toFixed(1)}`,
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
        {loop === undefined ? null : <td>{(landing.reserveM * 1000).toFixed(0)}</td>}
      </tr>
    );
  };
  return (
    <table className={own.table}>
      <caption className="unseen">
        {name}: {counted(side.landings.length, "loop")}, where its paths land, in millimetres
      </caption>
      <thead>
        <tr>
          <th scope="col">{side.landings[0]?.state === undefined ? "" : "loop"}</th>
          {readings ? <th scope="col">lands at, mm</th> : null}
          <th scope="col">against {against}, mm</th>
          {side.landings[0]?.state === undefined ? null : <th scope="col">left to take out, mm</th>}
        </tr>
      </thead>
      <tbody>{side.landings.map(row)}</tbody>
    </table>
  );
}
