/** A cascade as a small picture, without names. */
import { type Branch, parseCascade, tabsOf } from "../../../plan/draft/index.ts";
import type { Row } from "../../../plan/model.ts";
import styles from "./Build.module.css";

export function MiniCascade(props: {
  readonly cascade: string;
  readonly row: Row;
  readonly width: number;
  readonly height: number;
}) {
  const { width, height } = props;
  const { lines } = parseCascade(props.cascade, props.row);
  const all = lines.reduce((sum, line) => sum + tabsOf(line), 0);
  const depth = (branch: Branch): number => 1 + Math.max(0, ...branch.carries.map(depth));
  const tiers = Math.max(1, ...lines.map(depth));
  const pitch = width / Math.max(1, all);
  const top = 3;
  const y = (tier: number): number => height - 3 - ((height - 3 - top) * tier) / tiers;
  let column = 0;
  let path = "";
  /** Draws what a line carries; where its upper end is. */
  const draw = (branch: Branch, tier: number): readonly [x: number, y: number] => {
    if (branch.carries.length === 0) return [pitch * (column++ + 0.5), top];
    const ends = branch.carries.map((above) => draw(above, tier + 1));
    const x = ((ends[0]?.[0] ?? 0) + (ends.at(-1)?.[0] ?? 0)) / 2;
    for (const [ex, ey] of ends)
      path += `M${x.toFixed(1)} ${y(tier).toFixed(1)}L${ex.toFixed(1)} ${ey.toFixed(1)}`;
    return [x, y(tier)];
  };
  const ends = lines.map((line) => draw(line, 1));
  for (const [x, ey] of ends) path += `M${x.toFixed(1)} ${height - 3}L${x.toFixed(1)} ${ey.toFixed(1)}`;
  return (
    <svg
      className={styles.mini}
      width={width}
      height={height}
      viewBox={`0 0 ${width} ${height}`}
      aria-hidden="true"
    >
      <path d={path} />
    </svg>
  );
}
