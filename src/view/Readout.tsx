/** The line under the pointer or picked, in figures. Stands still in one place, so that nothing jumps while the pointer moves. */
import { type ReactNode, useMemo } from "react";
import { deviationColour } from "../diagnosis/colour.ts";
import type { Analysis } from "../diagnosis/model.ts";
import { sayTravelApart } from "../diagnosis/wording.ts";
import { lengthUnitName, say, sayParts } from "../words/index.ts";
import { IncidenceMeans } from "./charts/IncidenceTable.tsx";
import { LineDoubt } from "./judging/LineDoubt.tsx";
import { deviationText, forceText, lengthText, rowName, sidedName, signedMm } from "./model/format.ts";
import { lineDoubtEntry } from "./model/judging-next.ts";
import { type LineCard, lineCard } from "./model/lineCard.ts";
import { incidenceText } from "./model/overview.ts";
import { pickedText } from "./model/picked.ts";
import { travelShort, travelText } from "./model/riggingText.ts";
import limits from "./panes/Limits.module.css";
import { MarkTape } from "./parts/MarkTape.tsx";
import { usePathScale } from "./parts/scale.ts";
import styles from "./Readout.module.css";
import { pickLine, useApp, useBaseAnalysis, useLive, usePickedLines, useRangeM } from "./state/app.ts";
import { analysisShown, stateShown } from "./state/live.ts";
import { useScaleOf } from "./state/scale.ts";
import { useLineTravel } from "./state/travel.ts";
import { TrialTape } from "./TrialTape.tsx";
import { LoopsAtMaillon } from "./workshop/LoopsAtMaillon.tsx";

/** @param brief on small screens: a bar with the figure, the rest on request; nothing while nothing is picked */
export function Readout({ analysis, brief }: { readonly analysis: Analysis; readonly brief: boolean }) {
  const cascade = useApp((state) => state.document?.cascade);
  const hovered = useApp((state) => state.hovered);
  const picked = useApp(({ choices }) => choices.picked);
  const choose = useApp((state) => state.choose);
  const lines = usePickedLines();
  const key = (brief ? undefined : hovered) ?? (picked.kind === "line" ? picked.key : undefined);
  const card = useMemo(
    () => (cascade === undefined || key === undefined ? undefined : lineCard(analysis, cascade, key)),
    [analysis, cascade, key],
  );

  if (card !== undefined) {
    return (
      <section className={styles.readout} aria-label={say("frame.line")} data-readout={card.key}>
        <Card card={card} pinned={picked.kind === "line" && picked.key === card.key} brief={brief} />
      </section>
    );
  }
  if (lines.size > 0 && cascade !== undefined) {
    return (
      <section className={styles.readout} aria-label={say("frame.lines.picked")}>
        <header className={styles.head}>
          <h2>{pickedText(picked, analysis)}</h2>
          <button type="button" className={styles.letGo} onClick={() => choose({ picked: { kind: "none" } })}>
            {say("frame.let-go")}
          </button>
        </header>
        <Rest brief={brief}>
          <ul className={styles.several}>
            {[...lines].map((lineKey) => {
              const line = cascade.lines.get(lineKey);
              return line === undefined ? null : (
                <li key={lineKey}>
                  <button type="button" onClick={() => pickLine(lineKey)}>
                    {sidedName(line.id, line.side)}{" "}
                    <span className="figures">
                      {signedMm(analysis.lines.find((entry) => entry.lineKey === lineKey)?.deviationM)}
                    </span>
                  </button>
                </li>
              );
            })}
          </ul>
        </Rest>
      </section>
    );
  }
  return brief ? null : <AtRest analysis={analysis} />;
}

/** Nothing is pointed at: the rows' means beside each other, and what they do to the incidence. */
function AtRest({ analysis }: { readonly analysis: Analysis }) {
  const rangeM = useRangeM();
  const incidence = incidenceText(analysis);
  const live = useLive();
  const shown = useApp(({ choices }) => choices.shown);
  const state = live === undefined ? "measured" : stateShown(live, shown);
  const travel =
    state === "after"
      ? live?.states.after?.travel
      : live?.states.travel[state === "both" ? "measured" : state];
  const lineTravel = useLineTravel();
  const travelWords = travelText(travel);
  const tried = live !== undefined && analysis === live.asTried && analysisShown(live, shown) === analysis;
  const rows = analysis.rows.filter((row) => row.meanM !== undefined);
  const extentM = Math.max(
    rangeM,
    ...rows.map((row) => (row.row === "brake" ? 0 : Math.abs(row.meanM ?? 0))),
  );
  return (
    <section className={styles.readout} aria-label={say("frame.whole")} data-readout="">
      {rows.length === 0 ? null : (
        <>
          <h2 className={styles.restTitle}>
            {say("frame.means", { state: tried ? "tried" : state === "after" ? "after" : "measured" })}
          </h2>
          <ul className={styles.means}>
            {rows.map((row) => (
              <li key={row.row}>
                <span>{rowName(row.row)}</span>
                <MarkTape
                  marks={[{ key: row.row, side: undefined, deviationM: row.meanM ?? 0, strong: true }]}
                  extentM={extentM}
                  toleranceM={analysis.wing.tolerances.pathM}
                  height={16}
                />
                <span className={styles.meanFigure}>{deviationText(row.meanM)}</span>
              </li>
            ))}
          </ul>
        </>
      )}
      {incidence === undefined ? null : (
        <div className={styles.incidence}>
          <IncidenceMeans analysis={analysis} title={say("frame.incidence", { sense: incidence.way })} />
        </div>
      )}
      {travelWords === undefined ? null : (
        <p
          className={styles.incidence}
          data-travel-left
          data-short={travelShort(travel, analysis.wing.tolerances.minBrakeFreeTravelM) || undefined}
        >
          {say("frame.travel")} <strong className={styles.travel}>{travelWords}</strong>{" "}
          {state === "specified" ? null : (
            <span className={styles.apart}>
              {sayTravelApart("model", state === "tried" || state === "after" ? undefined : lineTravel)}
            </span>
          )}
        </p>
      )}
      <p className={styles.hint}>{say("frame.hint")}</p>
    </section>
  );
}

/** What a small screen shows on request only. */
function Rest({ brief, children }: { readonly brief: boolean; readonly children: ReactNode }) {
  return brief ? (
    <details className={styles.rest}>
      <summary>{say("frame.more")}</summary>
      {children}
    </details>
  ) : (
    children
  );
}

function Card({
  card,
  pinned,
  brief,
}: {
  readonly card: LineCard;
  readonly pinned: boolean;
  readonly brief: boolean;
}) {
  const scale = usePathScale();
  const choose = useApp((state) => state.choose);
  const tried = useApp(({ live, choices }) => choices.shown === "tried" && live?.asTried !== undefined);
  const path = card.paths.length === 1 ? card.paths[0] : undefined;
  const change =
    card.measuredTensionN === undefined || card.specifiedTensionN === undefined
      ? undefined
      : `${forceText(card.specifiedTensionN)} → ${forceText(card.measuredTensionN)}`;
  return (
    <>
      <header className={styles.head}>
        <h2 data-pinned={pinned || undefined}>
          {card.id} <span>{say("frame.side", { side: card.side })}</span>
        </h2>
        <p>{say("frame.line.place", { row: card.row, tier: card.tier })}</p>
        {pinned ? (
          <button type="button" className={styles.letGo} onClick={() => choose({ picked: { kind: "none" } })}>
            {say("frame.let-go")}
          </button>
        ) : null}
      </header>
      <p className={styles.deviation} style={{ borderColor: deviationColour(card.deviationM, scale).hex }}>
        <strong>{deviationText(card.deviationM)}</strong>
        <span>{say("frame.line.basis", { basis: card.basisText, tried: tried ? "yes" : "no" })}</span>
      </p>
      {brief ? null : <Doubt lineKey={card.key} />}
      {pinned ? <LoopsAtMaillon lineKey={card.key} name={card.id} /> : null}
      {pinned ? <TrialTape card={card} narrow={brief} /> : null}
      <Rest brief={brief}>
        {brief ? <Doubt lineKey={card.key} /> : null}
        <dl className={styles.facts}>
          <Fact
            label={say(card.specifiedAssumed ? "frame.specified.assumed" : "frame.specified")}
            value={lengthText(card.specifiedM)}
          />
          {card.measuredM !== undefined ? (
            <Fact label={say("frame.measured")} value={lengthText(card.measuredM)} />
          ) : path?.measuredM !== undefined ? (
            <Fact
              label={say("frame.path-to", { tab: path.tabId, tried: tried ? "yes" : "no" })}
              value={`${lengthText(path.specifiedM)} → ${lengthText(path.measuredM)}`}
            />
          ) : card.paths.length > 1 ? (
            <Fact
              label={say("frame.paths-read")}
              value={say("frame.paths-read.of", {
                read: card.paths.filter(({ deviationM }) => deviationM !== undefined).length,
                count: card.paths.length,
              })}
            />
          ) : (
            <Fact label={say("frame.measured")} value={say("charts.not-measured")} />
          )}
          <Fact label={say("frame.tension")} value={change ?? forceText(card.specifiedTensionN)} />
          <div>
            <dt>{say("frame.twin")}</dt>
            <dd>
              {card.mirrorKey === undefined ? (
                say("frame.twin.none")
              ) : (
                <button type="button" className={styles.twin} onClick={() => pickLine(card.mirrorKey)}>
                  {say("frame.twin.deviation", {
                    side: card.side === "left" ? "right" : "left",
                    deviation: deviationText(card.mirrorDeviationM),
                  })}
                </button>
              )}
            </dd>
          </div>
          <Fact label={say("frame.hangs-on")} value={card.hangsOn} />
          <Fact label={say("frame.carries")} value={card.carries} />
          <Fact
            label={say("frame.material")}
            value={
              card.colour === undefined
                ? card.material
                : say("frame.material.colour", { material: card.material, colour: card.colour })
            }
          />
          <Fact
            label={say("frame.twin.less")}
            value={card.mirrorDifferenceM === undefined ? "–" : deviationText(card.mirrorDifferenceM)}
          />
        </dl>
      </Rest>
    </>
  );
}

/** How much of what was read is put down to this line, and how sure that is. */
function Doubt({ lineKey }: { readonly lineKey: string }) {
  const { scale } = useScaleOf("line");
  const wing = useBaseAnalysis()?.wing;
  const attribution = useApp((state) => state.judgement?.attribution);
  const line = attribution?.lines.find((each) => each.lineKey === lineKey);
  if (wing === undefined || line === undefined) return null;
  return (
    <details className={limits.lineFold} data-fold="line">
      <summary>
        {sayParts("frame.put-down", {
          change: (
            <strong key="change">
              {lineDoubtEntry(wing, line).change} {lengthUnitName()}
            </strong>
          ),
        })}
      </summary>
      <LineDoubt wing={wing} line={line} scale={scale} onPick={pickLine} />
    </details>
  );
}

function Fact({ label, value }: { readonly label: string; readonly value: string }) {
  return (
    <div>
      <dt>{label}</dt>
      <dd>{value}</dd>
    </div>
  );
}
