/** Deviation along the span and, on the same axis below it, the incidence change that follows. */
import { scaleLinear } from "d3-scale";
import { useId, useMemo } from "react";
import type { Analysis } from "../../diagnosis/model.ts";
import { lengthUnitName, say, sayParts } from "../../words/index.ts";
import { tabsUnder } from "../model/cascade.ts";
import { rowName } from "../model/format.ts";
import { keyEntries } from "../model/incidenceKey.ts";
import { cutBands, incidenceDomain, incidenceSeries } from "../model/incidenceSeries.ts";
import { isFiltered } from "../model/picked.ts";
import {
  axisRoom,
  brakesApart,
  deviationDomain,
  labelRoom,
  type SpanSeries,
  spanSeries,
} from "../model/spanSeries.ts";
import { pickLine, useApp, useLive, usePickedLines } from "../state/app.ts";
import type { StateId } from "../state/choices.ts";
import { pairShown } from "../state/pair.ts";
import { useBandsShown } from "../state/recheck.ts";
import styles from "./Charts.module.css";
import { DeviationPanel } from "./DeviationPanel.tsx";
import { Hatch, IncidenceKey, placesOf, type ShownEntry } from "./IncidenceKey.tsx";
import { IncidencePanel } from "./IncidencePanel.tsx";

/** Room for the figures of the axes, in millimetres [px]. */
const LEFT = 52;
const TITLE = 26;
const AXIS = 22;
/** Where the incidence title has ended: so much a letter [px]; and how far apart the lines of the key are [px]. */
const LETTER = 7.7;
const KEY_LINE = 18;
/** Of all panels together, before the strip has found its height [px]. */
const LEAST_ROOM = 150;

/** The state in front with what it is held against; undefined as long as there is nothing to show. */
function usePair():
  | { readonly front: StateId; readonly against: StateId; readonly heldAgainst: Analysis | undefined }
  | undefined {
  const live = useLive();
  const shown = useApp(({ choices }) => choices.shown);
  const asked = useApp(({ choices }) => choices.against);
  return useMemo(() => {
    if (live === undefined) return undefined;
    const { front, against = "specified" } = pairShown(live, shown, asked);
    // As specified nothing has changed: that's the zero line.
    const of = {
      specified: undefined,
      measured: live.asMeasured,
      tried: live.asTried,
      after: live.after?.analysis,
    };
    return { front, against, heldAgainst: of[against] };
  }, [live, shown, asked]);
}

/** @param height [px] of all panels together */
export function SpanCharts(props: {
  readonly analysis: Analysis;
  readonly width: number;
  readonly height: number;
}) {
  const { analysis, width, height } = props;
  const document = useApp((state) => state.document);
  const rows = useApp(({ choices }) => choices.rows);
  const sides = useApp(({ choices }) => choices.sides);
  const hovered = useApp((state) => state.hovered);
  const hover = useApp((state) => state.hover);
  const band = useApp((state) => state.band);
  const bands = useBandsShown();
  const hatch = useId();
  const rib = useApp(({ choices }) => choices.rib);
  const choose = useApp((state) => state.choose);
  const picked = usePickedLines();

  const pair = usePair();
  const all = useMemo(() => spanSeries(analysis), [analysis]);
  const incidence = useMemo(() => incidenceSeries(analysis, band, bands), [analysis, band, bands]);
  const against = pair?.heldAgainst;
  const held = useMemo(() => (against === undefined ? [] : incidenceSeries(against)), [against]);
  const toleranceM = analysis.wing.tolerances.pathM;
  const apart = brakesApart(all, toleranceM);
  const cascade = document?.cascade;
  const lit = useMemo(
    () =>
      cascade === undefined || hovered === undefined ? new Set<string>() : tabsUnder(cascade, [hovered]),
    [cascade, hovered],
  );
  const chosen = useMemo(
    () => (cascade === undefined ? new Set<string>() : tabsUnder(cascade, picked)),
    [cascade, picked],
  );

  if (width < 120 || analysis.measured === undefined) return null;

  const shown = all
    .filter(({ row }) => rows.has(row))
    .map(
      (series): SpanSeries => ({
        row: series.row,
        points: series.points.filter((point) => sides.has(point.side)),
      }),
    );
  const rowSeries = shown.filter(({ row }) => !apart || row !== "brake");
  const brakeSeries = apart ? shown.filter(({ row }) => row === "brake") : [];
  const left = axisRoom(LEFT);
  const right = width - labelRoom(all.map(({ row }) => rowName(row)));
  const x = scaleLinear().domain([-1, 1]).range([left, right]);

  const panels = apart ? 3 : 2;
  const angles = incidence.filter((point) => sides.has(point.side));
  const others = held.filter((point) => sides.has(point.side));
  const angleDomain = incidenceDomain([...incidence, ...held]);
  const entries: readonly ShownEntry[] = [
    ...(pair === undefined || others.length === 0
      ? []
      : [
          { sort: "front" as const, text: say("charts.state", { state: pair.front }) },
          { sort: "held" as const, text: say("charts.state", { state: pair.against }) },
        ]),
    ...keyEntries(angles, cutBands(angles, angleDomain).length),
  ];
  const heading = { place: width < 480 ? "narrow" : "wide" };
  const headingLength = say("charts.incidence", { ...heading, sense: say("charts.incidence.sense") }).length;
  const keyFrom = width < 480 ? width : LETTER * headingLength;
  const keyHeight = placesOf(entries, keyFrom, width).below * KEY_LINE;
  const room = Math.max(LEAST_ROOM, height - panels * TITLE - AXIS - keyHeight);
  const brakeHeight = apart ? Math.max(34, room * 0.17) : 0;
  const incidenceHeight = Math.max(40, room * 0.35);
  const rowHeight = room - brakeHeight - incidenceHeight;
  const brakeTop = TITLE + rowHeight + TITLE;
  const incidenceTitle = brakeTop - (apart ? 0 : TITLE) + brakeHeight + TITLE - 8;
  const incidenceTop = incidenceTitle + 8 + keyHeight;
  const shared = {
    x,
    lit,
    chosen,
    onHover: hover,
    onPick: pickLine,
    left,
    right,
  };

  return (
    <svg
      className={styles.chart}
      width={width}
      height={height}
      viewBox={`0 0 ${width} ${height}`}
      data-chart="span"
      data-bands={bands === undefined ? undefined : bands.ribs.length}
    >
      <title>{say("charts.title")}</title>
      <text x={0} y={18} className={styles.title}>
        {sayParts("charts.deviation", {
          unit: lengthUnitName(),
          sense: (
            <tspan key="sense" className={styles.soft}>
              {say("charts.deviation.sense", {
                after: pair?.front === "after" ? "yes" : "no",
                filtered: isFiltered(rows, sides) ? "yes" : "no",
              })}
            </tspan>
          ),
        })}
      </text>
      <g transform={`translate(0 ${TITLE})`}>
        <DeviationPanel
          {...shared}
          series={rowSeries}
          height={rowHeight}
          domainM={deviationDomain(
            all.filter(({ row }) => !apart || row !== "brake"),
            toleranceM,
          )}
          toleranceM={toleranceM}
          name="rows"
        />
      </g>
      {apart ? (
        <>
          <text x={0} y={brakeTop - 8} className={styles.title}>
            {sayParts("charts.brakes", {
              unit: lengthUnitName(),
              scale: (
                <tspan key="scale" className={styles.soft}>
                  {say("charts.brakes.scale")}
                </tspan>
              ),
            })}
          </text>
          <g transform={`translate(0 ${brakeTop})`}>
            <DeviationPanel
              {...shared}
              series={brakeSeries}
              height={brakeHeight}
              domainM={deviationDomain(
                all.filter(({ row }) => row === "brake"),
                toleranceM,
              )}
              toleranceM={undefined}
              name="brakes"
            />
          </g>
        </>
      ) : null}
      <text x={0} y={incidenceTitle} className={styles.title}>
        {sayParts("charts.incidence", {
          ...heading,
          sense: (
            <tspan key="sense" className={styles.soft}>
              {say("charts.incidence.sense")}
            </tspan>
          ),
        })}
      </text>
      <defs>
        <Hatch id={hatch} />
      </defs>
      <g transform={`translate(0 ${incidenceTitle})`}>
        <IncidenceKey entries={entries} from={keyFrom} width={width} hatch={hatch} />
      </g>
      <g transform={`translate(0 ${incidenceTop})`}>
        <IncidencePanel
          points={angles}
          held={others}
          heldName={pair === undefined ? "" : say("charts.state", { state: pair.against })}
          x={x}
          left={left}
          right={right}
          height={incidenceHeight}
          domain={angleDomain}
          hatch={hatch}
          chosen={rib}
          onChoose={(point) => choose({ rib: point.rib, ribSide: point.side, strip: "rib" })}
        />
      </g>
      <g transform={`translate(0 ${height - 5})`} className={styles.axis}>
        <text x={left} textAnchor="start">
          {say("charts.tip.left")}
        </text>
        <text x={x(0)} textAnchor="middle">
          {say("charts.middle")}
        </text>
        <text x={right} textAnchor="end">
          {say("charts.tip.right")}
        </text>
      </g>
    </svg>
  );
}
