/** Small multiples along the half-span, a panel a row; one stop for the keyboard, and from there by arrows over all panels. */
import { type CSSProperties, useRef, useState } from "react";
import type { Row } from "../../plan/model.ts";
import { say } from "../../words/index.ts";
import { rowName } from "../model/format.ts";
import {
  type HalfPanel,
  type HalfPoint,
  halfDomain,
  meanOfSides,
  onOwnScale,
  stepFrom,
} from "../model/judging-halfspan.ts";
import { useSize } from "../parts/hooks.ts";
import styles from "./HalfSpan.module.css";
import type { PlotSeries } from "./HalfSpanParts.tsx";
import { HalfSpanPlot } from "./HalfSpanPlot.tsx";

/** What linked charts share with the rest of the page. */
export interface Linked {
  /** Tabs lit by the pointer elsewhere or here, and tabs of what is picked. */
  readonly lit: ReadonlySet<string>;
  readonly chosen: ReadonlySet<string>;
  /** The tab pointed at; of a pair the left one, its twin second. */
  readonly onPoint: (tabKey: string | undefined, twinTabKey?: string) => void;
  /** The line at the tab; of a pair the left one's, its twin second. */
  readonly onPick: (lineKey: string, twinLineKey?: string) => void;
}

export interface PanelsProps extends Linked {
  readonly panels: readonly HalfPanel[];
  /** Overlaid in one plot, or a plot a row. */
  readonly overlaid: boolean;
  readonly toleranceM: number;
  readonly trend: boolean;
  /** Fills the height of what it stands in; otherwise as high as is good for reading. */
  readonly fill: boolean;
  readonly onRead: (point: HalfPoint | undefined) => void;
}

/** Each row has its own stroke where rows lie over each other, so that they are told apart without colour. */
const STROKE: Readonly<Record<Row, string | undefined>> = {
  A: undefined,
  B: "9 3",
  C: "5 3",
  D: "2 3",
  tip: "1 5",
  brake: "12 3 2 3",
};

const LEAST_WIDTH = 270;
const LEAST_HEIGHT = 76;
const GAP = 20;
const LINE_GAP = 10;
const HEAD = 22;

export function HalfSpanPanels(props: PanelsProps) {
  const { panels, overlaid, toleranceM } = props;
  const [ref, size] = useSize<HTMLDivElement>();
  const frame = useRef<HTMLDivElement>(null);
  const [stop, setStop] = useState<string>();
  const apart = onOwnScale(panels, toleranceM);
  const common = panels.filter(({ row }) => !apart.has(row));
  const groups = overlaid
    ? [common, ...panels.filter(({ row }) => apart.has(row)).map((panel) => [panel])].filter(
        (group) => group.length > 0,
      )
    : panels.map((panel) => [panel]);
  const fits = Math.max(1, Math.floor((size.width + GAP) / (LEAST_WIDTH + GAP)));
  // In a strip a row with its own scale stands beside the others, not below them.
  const beside = overlaid && props.fill && groups.length > 1 && size.width > 640;
  // No lonely plot in the last line where that can be avoided.
  const columns = beside ? groups.length : overlaid ? 1 : evenColumns(groups.length, fits);
  const lines = Math.ceil(groups.length / columns);
  const parts = groups.map((group) => (beside && group.length > 1 ? 2 : 1));
  const across = beside ? parts.reduce((sum, part) => sum + part, 0) : columns;
  const widthOf = (place: number): number =>
    ((size.width - (columns - 1) * GAP) / across) * (parts[place] ?? 1);
  const roomPx = props.fill ? Math.max(0, size.height - (lines - 1) * LINE_GAP) : undefined;
  const heightOf = (group: readonly HalfPanel[]): number => {
    const shared = roomPx === undefined ? undefined : roomPx / lines - HEAD;
    if (!overlaid) return Math.max(LEAST_HEIGHT, shared ?? 126);
    if (beside || groups.length === 1) return Math.max(LEAST_HEIGHT, shared ?? 400);
    if (group.length === 1) return LEAST_HEIGHT;
    const others = (groups.length - 1) * (LEAST_HEIGHT + HEAD + LINE_GAP);
    return Math.max(LEAST_HEIGHT, roomPx === undefined ? 400 : roomPx - others - HEAD);
  };

  const points = panels.flatMap((panel) => panel.points.filter(({ valueM }) => valueM !== undefined));
  const current = points.some(({ tabKey }) => tabKey === stop) ? stop : points[0]?.tabKey;
  const point = (at: HalfPoint | undefined): void => {
    props.onRead(at);
    props.onPoint(at?.tabKey, at?.tabKeys[1]);
  };
  const walk = (from: HalfPoint, key: string): boolean => {
    const next = stepFrom(panels, from, key);
    if (next === undefined) return false;
    setStop(next.tabKey);
    frame.current?.querySelector<SVGElement>(`[data-tab="${CSS.escape(next.tabKey)}"]`)?.focus();
    return true;
  };

  return (
    <div ref={frame} className={styles.frame} data-fill={props.fill || undefined}>
      <div
        ref={ref}
        className={styles.panels}
        style={
          {
            "--columns": (beside ? parts : new Array(columns).fill(1))
              .map((part) => `minmax(0, ${part}fr)`)
              .join(" "),
          } as CSSProperties
        }
      >
        {size.width < 120
          ? null
          : groups.map((group, place) => (
              <figure key={group.map(({ row }) => row).join(" ")} className={styles.panel}>
                <figcaption className={styles.panelHead}>
                  <Heading group={group} apart={apart} />
                </figcaption>
                <HalfSpanPlot
                  series={group.flatMap((panel) => seriesOf(panel, overlaid))}
                  width={widthOf(place)}
                  height={heightOf(group)}
                  domainM={halfDomain(apart.has(group[0]?.row ?? "A") ? group : common, toleranceM)}
                  toleranceM={toleranceM}
                  trend={props.trend}
                  axis={place >= groups.length - columns}
                  lit={props.lit}
                  chosen={props.chosen}
                  stop={current}
                  onPoint={(at) => {
                    if (at !== undefined) setStop(at.tabKey);
                    point(at);
                  }}
                  onPick={(at) => {
                    setStop(at.tabKey);
                    props.onRead(at);
                    props.onPick(at.lineKeys[0] ?? "", at.lineKeys[1]);
                  }}
                  onKey={walk}
                />
              </figure>
            ))}
      </div>
    </div>
  );
}

function Heading({
  group,
  apart,
}: {
  readonly group: readonly HalfPanel[];
  readonly apart: ReadonlySet<Row>;
}) {
  const [only] = group;
  const own = only !== undefined && apart.has(only.row) ? say("judging.own-scale") : undefined;
  if (group.length > 1 || only === undefined)
    return <strong>{group.map(({ row }) => rowName(row)).join(", ")}</strong>;
  return (
    <>
      <strong>{say("judging.row", { row: only.row })}</strong>
      <span className={styles.soft} aria-hidden="true">
        {[only.brief ?? say("judging.not-read"), own].filter(Boolean).join(", ")}
      </span>
      <span className="unseen">
        {[only.summary ?? say("judging.not-read"), own].filter(Boolean).join(", ")}
      </span>
    </>
  );
}

function seriesOf({ row, points }: HalfPanel, overlaid: boolean): readonly PlotSeries[] {
  const label = overlaid ? rowName(row) : undefined;
  const isPairs = points.every(({ side }) => side === undefined);
  if (isPairs)
    return [{ row, points, hollow: false, joined: points, trended: points, dash: undefined, label }];
  // Over each other the rows are told apart by one line each, through the mean of the sides.
  const spine = overlaid ? meanOfSides(points) : [];
  return (["left", "right"] as const).map((side): PlotSeries => {
    const own = points.filter((point) => point.side === side);
    const first = side === "left";
    return {
      row,
      points: own,
      hollow: !first,
      joined: overlaid ? (first ? spine : []) : own,
      trended: overlaid ? (first ? points : []) : own,
      dash: overlaid ? STROKE[row] : first ? undefined : "5 3",
      label: first ? label : undefined,
    };
  });
}

/** The most columns that fit and leave the last line as full as the others can be. */
export function evenColumns(count: number, fits: number): number {
  if (fits >= count) return count;
  const lines = Math.ceil(count / fits);
  return Math.ceil(count / lines);
}
