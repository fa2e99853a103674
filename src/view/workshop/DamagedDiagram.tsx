/** A line's cascade as a small drawing; the words beside it say the same. */
import { useMemo } from "react";
import type { Wing } from "../../plan/model.ts";
import { type LineTrace, sayTrace } from "../../workshop/index.ts";
import { type DiagramLine, traceDiagram } from "../model/workshop-replace-diagram.ts";
import { useApp } from "../state/app.ts";
import styles from "./Damaged.module.css";

const WIDTH = 440;
const LEVEL = 56;
const EDGE = 20;

type Place = readonly [across: number, level: number];

/** Of names side by side those for which there is room, from the left; those that come first always. */
function legible(
  names: readonly {
    readonly name: string;
    readonly x: number;
    readonly level: string;
    readonly first: boolean;
  }[],
): ReadonlySet<string> {
  const end = new Map<string, number>();
  const found = new Set<string>();
  for (const { name, x, level, first } of [...names].sort(
    (a, b) => Number(b.first) - Number(a.first) || a.x - b.x,
  )) {
    const half = (name.replace("tab ", "").length * 8 + 6) / 2;
    if (!first && x - half < (end.get(level) ?? -Infinity)) continue;
    end.set(level, x + half);
    found.add(name);
  }
  return found;
}

export function DamagedDiagram({ wing, trace }: { readonly wing: Wing; readonly trace: LineTrace }) {
  const diagram = useMemo(() => traceDiagram(wing, trace), [wing, trace]);
  const hovered = useApp((state) => state.hovered);
  const { levels, lines, tabs, foot, riser } = diagram;
  const lowest = riser === undefined ? 1 : 0.35;
  const height = (levels - lowest) * LEVEL + 26 + 18;
  const x = ([across]: Place): number => EDGE + across * (WIDTH - 2 * EDGE);
  const y = ([, level]: Place): number => 26 + (levels - Math.max(level, lowest)) * LEVEL;
  /** Where a line's name stands along it: of many beside each other, where they are farther apart. */
  const along = ({ part }: DiagramLine): number =>
    part === "beside" ? 1 : part === "line" || part === "below" ? 0.5 : 0.62;
  const nameAt = (line: DiagramLine): number => x(line.from) + along(line) * (x(line.to) - x(line.from));
  const named = legible([
    ...lines.map((line) => ({
      name: line.id,
      x: nameAt(line),
      level: `${line.from[1]} ${line.part === "beside"}`,
      first: line.part === "line",
    })),
    ...tabs.map((tab) => ({ name: `tab ${tab.name}`, x: x(tab.at), level: "tabs", first: false })),
  ]);
  const mark = (line: DiagramLine) => {
    const [x1, y1, x2, y2] = [x(line.from), y(line.from), x(line.to), y(line.to)];
    const at = along(line);
    return (
      <g key={line.key} data-part={line.part} data-lit={hovered === line.key || undefined}>
        {line.part === "line" ? <line className={styles.halo} x1={x1} y1={y1} x2={x2} y2={y2} /> : null}
        <line x1={x1} y1={y1} x2={x2} y2={y2} />
        <text
          x={x1 + at * (x2 - x1)}
          y={y1 + at * (y2 - y1) + (line.part === "beside" ? -4 : 5)}
          textAnchor="middle"
        >
          {named.has(line.id) ? line.id : ""}
        </text>
      </g>
    );
  };
  return (
    <svg
      className={styles.diagram}
      viewBox={`0 0 ${WIDTH} ${height}`}
      role="img"
      aria-label={sayTrace(trace)}
      data-diagram={trace.line.key}
    >
      {riser === undefined ? null : (
        <g data-part="riser">
          <line x1={x(foot.at)} y1={y(foot.at)} x2={x(riser.at)} y2={y(riser.at)} strokeWidth={5} />
          <text className={styles.soft} x={x(riser.at) + 14} y={y(riser.at) + 2}>
            {riser.name}
          </text>
        </g>
      )}
      {lines.map(mark)}
      <circle cx={x(foot.at)} cy={y(foot.at)} r={6} fill="var(--panel)" stroke="var(--ink)" strokeWidth={2} />
      <text className={styles.soft} x={x(foot.at) + 14} y={y(foot.at) + 13}>
        {foot.name}
      </text>
      {tabs.map((tab) => (
        <g key={tab.name}>
          <path d={`M${x(tab.at) - 9} ${y(tab.at)} h18`} stroke="var(--ink)" strokeWidth={2.5} />
          <text x={x(tab.at)} y={y(tab.at) - 8} textAnchor="middle" className={styles.soft}>
            {named.has(`tab ${tab.name}`) ? tab.name : ""}
          </text>
        </g>
      ))}
    </svg>
  );
}
