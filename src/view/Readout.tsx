/** The line under the pointer or picked, in figures. Stands still in one place, so that nothing jumps while the pointer moves. */
import { type ReactNode, useMemo } from "react";
import { deviationColour } from "../diagnosis/colour.ts";
import type { Analysis } from "../diagnosis/model.ts";
import { sayTravelApart } from "../diagnosis/wording.ts";
import { IncidenceMeans } from "./charts/IncidenceTable.tsx";
import { LineDoubt } from "./judging/LineDoubt.tsx";
import { counted, deviationText, forceText, lengthText, rowName, signedMm } from "./model/format.ts";
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
      <section className={styles.readout} aria-label="Line" data-readout={card.key}>
        <Card card={card} pinned={picked.kind === "line" && picked.key === card.key} brief={brief} />
      </section>
    );
  }
  if (lines.size > 0 && cascade !== undefined) {
    return (
      <section className={styles.readout} aria-label="Lines picked out">
        <header className={styles.head}>
          <h2>{pickedText(picked, analysis)}</h2>
          <button type="button" className={styles.letGo} onClick={() => choose({ picked: { kind: "none" } })}>
            Let go
          </button>
        </header>
        <Rest brief={brief}>
          <ul className={styles.several}>
            {[...lines].map((lineKey) => {
              const line = cascade.lines.get(lineKey);
              return line === undefined ? null : (
                <li key={lineKey}>
                  <button type="button" onClick={() => pickLine(lineKey)}>
                    {line.id} {line.side}{" "}
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
    <section className={styles.readout} aria-label="The whole wing" data-readout="">
      {rows.length === 0 ? null : (
        <>
          <h2 className={styles.restTitle}>
            Means of the rows{tried ? ", as tried" : state === "after" ? ", after the work" : ""}
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
          <IncidenceMeans analysis={analysis} title={`Incidence in the model, ${incidence.sense}`} />
        </div>
      )}
      {travelWords === undefined ? null : (
        <p
          className={styles.incidence}
          data-travel-left
          data-short={travelShort(travel, analysis.wing.tolerances.minBrakeFreeTravelM) || undefined}
        >
          Free brake travel in the model <strong className={styles.travel}>{travelWords}</strong>{" "}
          {state === "specified" ? null : (
            <span className={styles.apart}>
              {sayTravelApart("model", state === "tried" || state === "after" ? undefined : lineTravel)}
            </span>
          )}
        </p>
      )}
      <p className={styles.hint}>
        Point at a line, a point of the chart or a name in the list to read it here.
      </p>
    </section>
  );
}

/** What a small screen shows on request only. */
function Rest({ brief, children }: { readonly brief: boolean; readonly children: ReactNode }) {
  return brief ? (
    <details className={styles.rest}>
      <summary>All about it</summary>
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
          {card.id} <span>{card.side}</span>
        </h2>
        <p>
          {card.row === "brake" || card.row === "tip" ? `${rowName(card.row)} line` : `Row ${card.row}`},{" "}
          {card.tier}
        </p>
        {pinned ? (
          <button type="button" className={styles.letGo} onClick={() => choose({ picked: { kind: "none" } })}>
            Let go
          </button>
        ) : null}
      </header>
      <p className={styles.deviation} style={{ borderColor: deviationColour(card.deviationM, scale).hex }}>
        <strong>{deviationText(card.deviationM)}</strong>
        <span>
          {card.basisText}
          {tried ? ", with what is tried" : ""}
        </span>
      </p>
      {brief ? null : <Doubt lineKey={card.key} />}
      {pinned ? <LoopsAtMaillon lineKey={card.key} name={card.id} /> : null}
      {pinned ? <TrialTape card={card} narrow={brief} /> : null}
      <Rest brief={brief}>
        {brief ? <Doubt lineKey={card.key} /> : null}
        <dl className={styles.facts}>
          <Fact
            label={card.specifiedAssumed ? "Specified (assumed)" : "Specified"}
            value={lengthText(card.specifiedM)}
          />
          {card.measuredM !== undefined ? (
            <Fact label="Measured" value={lengthText(card.measuredM)} />
          ) : path?.measuredM !== undefined ? (
            <Fact
              label={`Path to ${path.tabId}${tried ? ", tried" : ""}`}
              value={`${lengthText(path.specifiedM)} → ${lengthText(path.measuredM)}`}
            />
          ) : card.paths.length > 1 ? (
            <Fact
              label="Paths read"
              value={`${card.paths.filter(({ deviationM }) => deviationM !== undefined).length} of ${counted(card.paths.length, "path")}`}
            />
          ) : (
            <Fact label="Measured" value="not measured" />
          )}
          <Fact label="Tension in the model" value={change ?? forceText(card.specifiedTensionN)} />
          <div>
            <dt>Twin</dt>
            <dd>
              {card.mirrorKey === undefined ? (
                "none"
              ) : (
                <button type="button" className={styles.twin} onClick={() => pickLine(card.mirrorKey)}>
                  {card.side === "left" ? "right" : "left"} {deviationText(card.mirrorDeviationM)}
                </button>
              )}
            </dd>
          </div>
          <Fact label="Hangs on" value={card.hangsOn} />
          <Fact label="Carries" value={card.carries} />
          <Fact
            label="Material"
            value={card.colour === undefined ? card.material : `${card.material}, ${card.colour}`}
          />
          <Fact
            label="This less twin"
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
        Put down to this line <strong>{lineDoubtEntry(wing, line).change} mm</strong>
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
