/** One rib from the side: its outlines in all states that are asked for over each other, exaggerated as on the stage. */
import { line } from "d3-shape";
import { deviationColour } from "../../diagnosis/colour.ts";
import { trimmed } from "../../diagnosis/wording.ts";
import type { RibPoint, RibView } from "../../geometry/rib-view.ts";
import { say } from "../../words/index.ts";
import { deviationText } from "../model/format.ts";
import type { RibOutlines } from "../model/ribFigures.ts";
import { usePathScale } from "../parts/scale.ts";
import styles from "./Charts.module.css";

/** A label this near to the right edge [px] ends at its tab rather than standing about it. */
const EDGE = 34;
const MARGIN = { left: 14, right: 16, top: 20, bottom: 24 };

export function RibSide(props: {
  readonly outlines: RibOutlines;
  /** As measured after the work; undefined where that isn't drawn. */
  readonly after?: RibView | undefined;
  readonly width: number;
  readonly height: number;
  /** Tab key → deviation to colour by [m]. */
  readonly deviationOf: (tabKey: string) => number | undefined;
  readonly lineOf: (tabKey: string) => string | undefined;
  readonly chosen: ReadonlySet<string>;
  readonly exaggeration: number;
  /** What is in front: its tabs are coloured. */
  readonly front: "specified" | "measured" | "tried" | "after";
  readonly onHover: (lineKey: string | undefined) => void;
  readonly onPick: (lineKey: string) => void;
}) {
  const { outlines, width, height } = props;
  const colours = usePathScale();
  const views = [outlines.specified, outlines.measured, outlines.tried, props.after].filter(
    (view) => view !== undefined,
  );
  const points = views.flatMap((view) => view.contour);
  const extent = (of: (point: RibPoint) => number): readonly [number, number] => {
    const values = points.map(of);
    return [Math.min(...values), Math.max(...values)];
  };
  const [aftLow, aftHigh] = extent((point) => point.aftM);
  const [upLow, upHigh] = extent((point) => point.upM);
  const room = {
    width: Math.max(10, width - MARGIN.left - MARGIN.right),
    height: Math.max(10, height - MARGIN.top - MARGIN.bottom),
  };
  // The same scale both ways: a chord stays as long as it is high.
  const scale = Math.min(room.width / (aftHigh - aftLow), room.height / (upHigh - upLow));
  const x = (point: RibPoint): number =>
    MARGIN.left + (room.width - scale * (aftHigh - aftLow)) / 2 + scale * (point.aftM - aftLow);
  const y = (point: RibPoint): number =>
    MARGIN.top + (room.height - scale * (upHigh - upLow)) / 2 + scale * (upHigh - point.upM);
  const path = line<RibPoint>().x(x).y(y);
  const chord = (view: RibView): string => path([view.leadingEdge, view.trailingEdge]) ?? "";
  const front = (props.front === "after" ? props.after : outlines[props.front]) ?? outlines.specified;
  const name = say("charts.rib.side", { rib: outlines.rib, side: outlines.side });
  return (
    <svg
      className={styles.chart}
      width={width}
      height={height}
      role="img"
      aria-label={say("charts.rib.drawn", { name, times: trimmed(props.exaggeration, 1) })}
      data-rib-side={outlines.side}
      data-rib={outlines.rib}
    >
      <title>{name}</title>
      <path
        d={`${path([...outlines.specified.contour]) ?? ""}Z`}
        fill="var(--hair)"
        fillOpacity={0.5}
        stroke="var(--hair-strong)"
        data-outline="specified"
      />
      <path d={chord(outlines.specified)} stroke="var(--hair-strong)" strokeDasharray="8 3 2 3" />
      {outlines.measured === undefined ? null : (
        <g data-outline="measured" opacity={props.front === "specified" ? 0.35 : 1}>
          <path
            d={`${path([...outlines.measured.contour]) ?? ""}Z`}
            fill="none"
            stroke="var(--ink)"
            strokeWidth={outlines.tried === undefined && props.after === undefined ? 1.75 : 1}
          />
          <path
            d={chord(outlines.measured)}
            stroke="var(--ink)"
            strokeWidth={0.75}
            strokeDasharray="8 3 2 3"
          />
        </g>
      )}
      {outlines.tried === undefined ? null : (
        <g data-outline="tried" opacity={props.front === "tried" ? 1 : 0.45}>
          <path
            d={`${path([...outlines.tried.contour]) ?? ""}Z`}
            fill="none"
            stroke="var(--ink)"
            strokeWidth={2}
            strokeDasharray="7 4"
          />
        </g>
      )}
      {props.after === undefined ? null : (
        <g data-outline="after" opacity={props.front === "after" ? 1 : 0.6}>
          {/* A hollow line: told from the others by its form alone. */}
          <path
            d={`${path([...props.after.contour]) ?? ""}Z`}
            fill="none"
            stroke="var(--ink)"
            strokeWidth={4.5}
          />
          <path
            d={`${path([...props.after.contour]) ?? ""}Z`}
            fill="none"
            stroke="var(--panel)"
            strokeWidth={1.75}
          />
          <path d={chord(props.after)} stroke="var(--ink)" strokeWidth={0.75} strokeDasharray="8 3 2 3" />
        </g>
      )}
      {front.tabs.map((tab) => {
        const lineKey = props.lineOf(tab.tabKey);
        const isChosen = props.chosen.has(tab.tabKey);
        const deviationM = props.deviationOf(tab.tabKey);
        return (
          // biome-ignore lint/a11y/noStaticElementInteractions: a second way to the same line; the chart and the list are the keyboard's
          <g
            key={tab.tabKey}
            className={styles.point}
            data-rib-tab={tab.tabKey}
            onPointerEnter={() => props.onHover(lineKey)}
            onPointerLeave={() => props.onHover(undefined)}
            onClick={() => (lineKey === undefined ? undefined : props.onPick(lineKey))}
          >
            <title>
              {say("charts.tab", {
                id: tab.tabKey.replace(/^\w+:/, ""),
                deviation: deviationText(deviationM),
              })}
            </title>
            {isChosen ? (
              <circle cx={x(tab.point)} cy={y(tab.point)} r={9} fill="var(--mark)" stroke="var(--ink)" />
            ) : null}
            <circle
              cx={x(tab.point)}
              cy={y(tab.point)}
              r={5}
              fill={
                props.front === "specified" ? "var(--ink-soft)" : deviationColour(deviationM, colours).hex
              }
              stroke="var(--panel)"
            />
            <text
              x={x(tab.point)}
              y={Math.min(height - 4, y(tab.point) + 21)}
              textAnchor={x(tab.point) > width - EDGE ? "end" : "middle"}
              className={styles.figure}
            >
              {say("charts.row.tab", { row: tab.row })}
            </text>
          </g>
        );
      })}
    </svg>
  );
}
