/** One rib of both sides from the side, with its change in figures; stepping goes from the middle to the tips. */
import { useMemo } from "react";
import type { Analysis } from "../../diagnosis/model.ts";
import type { RibChange } from "../../geometry/model.ts";
import { SIDES, type Side } from "../../plan/model.ts";
import { type Key, lengthUnitName, say, sayParts } from "../../words/index.ts";
import { RibSide } from "../charts/RibSide.tsx";
import { tabsUnder } from "../model/cascade.ts";
import { nearestRib, type RibFigures, ribFigures, ribNumbers, ribOutlines } from "../model/ribFigures.ts";
import { OneOf } from "../parts/Choice.tsx";
import { useSize } from "../parts/hooks.ts";
import { pickLine, useApp, useLive, usePickedLines } from "../state/app.ts";
import { stateShown } from "../state/live.ts";
import { pairShown } from "../state/pair.ts";
import styles from "./Mechanics.module.css";

/** @param both both sides beside each other; else one, with a switch */
export function RibPane({ analysis, both }: { readonly analysis: Analysis; readonly both: boolean }) {
  const asked = useApp(({ choices }) => choices.rib);
  const side = useApp(({ choices }) => choices.ribSide);
  const exaggeration = useApp(({ choices }) => choices.exaggeration);
  const choose = useApp((state) => state.choose);
  const ribs = useMemo(() => ribNumbers(analysis), [analysis]);
  const cascade = useApp((state) => state.document?.cascade);
  const picked = useApp(({ choices }) => choices.picked);
  // An address may pick a line without naming a rib.
  const tabs = picked.kind === "line" ? (cascade?.tabsAbove.get(picked.key) ?? []) : [];
  const above = cascade?.tabs.get(tabs[Math.floor(tabs.length / 2)] ?? "")?.rib;
  const rib = nearestRib(ribs, asked ?? above);
  if (rib === undefined) return <p className={styles.none}>{say("panes.rib.none")}</p>;
  const place = ribs.indexOf(rib);
  const step = (by: number): void => {
    const next = ribs[place + by];
    if (next !== undefined) choose({ rib: next });
  };
  return (
    <section className={styles.ribPane} aria-label={say("panes.rib.pane")} data-rib-pane={rib}>
      <header className={styles.ribHead}>
        <span className={styles.stepper}>
          <button
            type="button"
            aria-label={say("panes.rib.inwards")}
            disabled={place <= 0}
            onClick={() => step(-1)}
          >
            ◂
          </button>
          <strong>{say("panes.rib", { rib })}</strong>
          <button
            type="button"
            aria-label={say("panes.rib.outwards")}
            disabled={place >= ribs.length - 1}
            onClick={() => step(1)}
          >
            ▸
          </button>
        </span>
        {both ? null : (
          <OneOf
            legend={say("panes.rib.side")}
            options={SIDES.map((value) => ({ value, label: say("judging.side", { side: value }) }))}
            value={side}
            onChange={(value) => choose({ ribSide: value })}
          />
        )}
        <RibKey tried={analysis.measured !== undefined} />
        <span className={styles.factor} data-rib-factor>
          {sayParts("panes.rib.drawn", {
            times: (
              <span key="times" className="figures">
                ×{exaggeration}
              </span>
            ),
          })}
        </span>
      </header>
      <div className={both ? styles.ribBoth : styles.ribOne}>
        {(both ? SIDES : [side]).map((each) => (
          <RibHalf key={each} analysis={analysis} side={each} rib={rib} exaggeration={exaggeration} />
        ))}
      </div>
    </section>
  );
}

function RibKey({ tried }: { readonly tried: boolean }) {
  const live = useLive();
  const drawn = useDrawn();
  return (
    <ul className={styles.key} aria-label={say("panes.rib.key")}>
      <li>
        <svg width="26" height="12" aria-hidden="true">
          <rect x="0.5" y="1.5" width="25" height="9" fill="var(--hair)" stroke="var(--hair-strong)" />
        </svg>
        {say("panes.rib.state", { state: "specified" })}
      </li>
      {tried && live?.states.measured !== undefined && drawn.includes("measured") ? (
        <li>
          <svg width="26" height="12" aria-hidden="true">
            <path d="M0 6H26" stroke="var(--ink)" strokeWidth="2" />
          </svg>
          {say("panes.rib.state", { state: "measured" })}
        </li>
      ) : null}
      {live?.states.tried === undefined || !drawn.includes("tried") ? null : (
        <li>
          <svg width="26" height="12" aria-hidden="true">
            <path d="M0 6H26" stroke="var(--ink)" strokeWidth="2" strokeDasharray="7 4" />
          </svg>
          {say("panes.rib.state", { state: "tried" })}
        </li>
      )}
      {drawn.includes("after") ? (
        <li>
          <svg width="26" height="12" aria-hidden="true">
            <path d="M0 6H26" stroke="var(--ink)" strokeWidth="5" />
            <path d="M0 6H26" stroke="var(--panel)" strokeWidth="2" />
          </svg>
          {say("panes.rib.state", { state: "after" })}
        </li>
      ) : null}
    </ul>
  );
}

/**
 * The states that are drawn over as specified. With the wing as measured after the work, in front or as what is held against,
 * only the two that are compared: more figures than theirs have no room.
 */
function useDrawn(): string {
  return useApp(({ live, choices: { shown, against } }) => {
    const pair = live === undefined ? undefined : pairShown(live, shown, against);
    return pair !== undefined && (pair.front === "after" || pair.against === "after")
      ? `${pair.front} ${pair.against ?? ""}`
      : "measured tried";
  });
}

function RibHalf(props: {
  readonly analysis: Analysis;
  readonly side: Side;
  readonly rib: number;
  readonly exaggeration: number;
}) {
  const { analysis, side, rib, exaggeration } = props;
  const live = useLive();
  const band = useApp((state) => state.band);
  const bands = useApp((state) => state.judgement?.bands);
  const shown = useApp(({ choices }) => choices.shown);
  const cascade = useApp((state) => state.document?.cascade);
  const hover = useApp((state) => state.hover);
  const picked = usePickedLines();
  const [ref, size] = useSize<HTMLDivElement>();
  const chosen = useMemo(
    () => (cascade === undefined ? new Set<string>() : tabsUnder(cascade, picked)),
    [cascade, picked],
  );
  const deviation = useMemo(
    () => new Map(analysis.deviations.paths.map((path) => [path.tabKey, path.deviationM])),
    [analysis],
  );
  const drawn = useDrawn();
  const afterSolved = drawn.includes("after") ? live?.after?.solved : undefined;
  const outlines = useMemo(
    () =>
      live === undefined
        ? undefined
        : ribOutlines(
            analysis,
            {
              measured: drawn.includes("measured") ? live.states.measured : undefined,
              tried: drawn.includes("tried") ? live.states.tried : undefined,
            },
            side,
            rib,
            exaggeration,
          ),
    [analysis, live, drawn, side, rib, exaggeration],
  );
  const after = useMemo(
    () =>
      afterSolved &&
      ribOutlines(analysis, { measured: afterSolved, tried: undefined }, side, rib, exaggeration)?.measured,
    [analysis, afterSolved, side, rib, exaggeration],
  );
  const changeOf = (ribs: readonly RibChange[] | undefined): RibChange | undefined =>
    ribs?.find((each) => each.side === side && each.rib === rib);
  const measured = drawn.includes("measured") ? changeOf(live?.states.ribs) : undefined;
  const tried = drawn.includes("tried") ? changeOf(live?.states.triedRibs) : undefined;
  const asAfter = afterSolved === undefined ? undefined : changeOf(live?.states.after?.ribs);
  if (live === undefined) return null;
  const state = stateShown(live, shown);
  const front = state === "both" ? "measured" : state;
  return (
    <figure className={styles.ribHalf} data-rib-half={side}>
      <figcaption>
        <strong>{say("judging.side", { side })}</strong>
      </figcaption>
      <div ref={ref} className={styles.ribRoom}>
        {outlines === undefined ? (
          <p className={styles.none}>{say("panes.rib.bare")}</p>
        ) : size.width > 60 ? (
          <RibSide
            outlines={outlines}
            after={after}
            width={size.width}
            height={size.height}
            deviationOf={(key) => deviation.get(key)}
            lineOf={(key) => cascade?.tabs.get(key)?.lineKey}
            chosen={chosen}
            exaggeration={exaggeration}
            front={front}
            onHover={hover}
            onPick={pickLine}
          />
        ) : null}
      </div>
      <Figures
        measured={measured === undefined ? undefined : ribFigures(measured, band, bands)}
        tried={tried === undefined ? undefined : ribFigures(tried, band, bands)}
        // The intervals are those of the readings before.
        after={asAfter === undefined ? undefined : ribFigures(asAfter, undefined, undefined)}
      />
    </figure>
  );
}

const ROWS: readonly (readonly [keyof RibFigures, Key])[] = [
  ["incidence", "panes.rib.incidence"],
  ["between", "panes.rib.between"],
  ["camber", "panes.rib.camber"],
  ["heave", "panes.rib.heave"],
  ["residual", "panes.rib.residual"],
];

function Figures(props: {
  readonly measured: RibFigures | undefined;
  readonly tried: RibFigures | undefined;
  readonly after: RibFigures | undefined;
}) {
  const { measured, tried, after } = props;
  if (measured === undefined && tried === undefined && after === undefined)
    return <p className={styles.none}>{say("panes.rib.same")}</p>;
  return (
    <table className={styles.ribFigures}>
      {tried === undefined && after === undefined ? null : (
        <thead>
          <tr>
            <td />
            {measured === undefined ? null : (
              <th scope="col">{say("panes.rib.head", { state: "measured" })}</th>
            )}
            {tried === undefined ? null : <th scope="col">{say("panes.rib.head", { state: "tried" })}</th>}
            {after === undefined ? null : <th scope="col">{say("panes.rib.head", { state: "after" })}</th>}
          </tr>
        </thead>
      )}
      <tbody>
        {ROWS.filter(([key]) => (measured ?? tried ?? after)?.[key] !== undefined).map(([key, label]) => (
          <tr key={key} data-figure={key}>
            <th scope="row">{say(label, { unit: lengthUnitName() })}</th>
            {measured === undefined ? null : <td>{measured[key]}</td>}
            {tried === undefined ? null : <td>{tried[key]}</td>}
            {after === undefined ? null : <td>{after[key] ?? "–"}</td>}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
