/** Deviation along the span and, on the same axis below it, the incidence change that follows. */
import { scaleLinear } from "d3-scale";
import { useMemo } from "react";
import type { Analysis } from "../../diagnosis/model.ts";
import { tabsUnder } from "../model/cascade.ts";
import { isFiltered } from "../model/picked.ts";
import {
  brakesApart,
  deviationDomain,
  incidenceDomain,
  incidenceSeries,
  type SpanSeries,
  spanSeries,
} from "../model/spanSeries.ts";
import { pickLine, useApp, usePickedLines, useRangeM } from "../state/app.ts";
import styles from "./Charts.module.css";
import { DeviationPanel } from "./DeviationPanel.tsx";
import { IncidencePanel } from "./IncidencePanel.tsx";

const LEFT = 52;
const RIGHT = 54;
const TITLE = 26;
const AXIS = 22;

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
  const rib = useApp(({ choices }) => choices.rib);
  const choose = useApp((state) => state.choose);
  const picked = usePickedLines();
  const rangeM = useRangeM();

  const all = useMemo(() => spanSeries(analysis), [analysis]);
  const incidence = useMemo(() => incidenceSeries(analysis, band), [analysis, band]);
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
  const x = scaleLinear()
    .domain([-1, 1])
    .range([LEFT, width - RIGHT]);

  const panels = apart ? 3 : 2;
  const room = height - panels * TITLE - AXIS;
  const brakeHeight = apart ? Math.max(34, room * 0.17) : 0;
  const incidenceHeight = Math.max(40, room * 0.35);
  const rowHeight = room - brakeHeight - incidenceHeight;
  const brakeTop = TITLE + rowHeight + TITLE;
  const incidenceTop = brakeTop - (apart ? 0 : TITLE) + brakeHeight + TITLE;
  const shared = {
    x,
    rangeM,
    lit,
    chosen,
    onHover: hover,
    onPick: pickLine,
    left: LEFT,
    right: width - RIGHT,
  };

  return (
    <svg className={styles.chart} width={width} height={height} data-chart="span">
      <title>Deviation by row and incidence change along the span, from the left tip to the right tip</title>
      <text x={0} y={18} className={styles.title}>
        Deviation by row, mm{" "}
        <tspan className={styles.soft}>
          below the line is short{isFiltered(rows, sides) ? "; filtered" : ""}
        </tspan>
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
            Brakes, mm <tspan className={styles.soft}>on their own scale</tspan>
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
      <text x={0} y={incidenceTop - 8} className={styles.title}>
        Incidence change{width < 480 ? "" : " in the model"}, degrees{" "}
        <tspan className={styles.soft}>
          {width < 480
            ? "nose up is above"
            : `above the line is nose up${band === undefined ? "" : "; shaded: what assumptions leave open"}`}
        </tspan>
      </text>
      <g transform={`translate(0 ${incidenceTop})`}>
        <IncidencePanel
          points={incidence.filter((point) => sides.has(point.side))}
          x={x}
          left={LEFT}
          right={width - RIGHT}
          height={incidenceHeight}
          domain={incidenceDomain(incidence)}
          chosen={rib}
          onChoose={(point) => choose({ rib: point.rib, ribSide: point.side, strip: "rib" })}
        />
      </g>
      <g transform={`translate(0 ${height - 5})`} className={styles.axis}>
        <text x={LEFT} textAnchor="start">
          left tip
        </text>
        <text x={x(0)} textAnchor="middle">
          middle
        </text>
        <text x={width - RIGHT} textAnchor="end">
          right tip
        </text>
      </g>
    </svg>
  );
}
