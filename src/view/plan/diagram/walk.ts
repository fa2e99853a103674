/** Ways through a drawn cascade by arrow keys, and how thick its lines are. */
import type { CascadeDiagram, DiagramEdge } from "../../../plan/draft/index.ts";

/** Lower lines are thicker than upper ones, as on the wing [px]. */
export function lineWidth(tier: number): number {
  return [2.6, 2, 1.5, 1.2][Math.min(tier, 4) - 1] ?? 1.2;
}

/**
 * The line to go on to by an arrow key: up to the first of those that it carries, down to the one that it hangs on, to the
 * sides to the next of the same height. @returns undefined where there is none, or for another key
 */
export function lineNextTo(diagram: CascadeDiagram, line: string, key: string): string | undefined {
  const { edges, nodes } = diagram;
  const at = edges.find((edge) => edge.line === line);
  if (at === undefined) return undefined;
  if (key === "ArrowUp") return edges.find((edge) => edge.from === at.to && edge.line !== line)?.line;
  if (key === "ArrowDown") return edges.find((edge) => edge.to === at.from)?.line;
  if (key !== "ArrowLeft" && key !== "ArrowRight") return undefined;
  const across = (edge: DiagramEdge): number => nodes[edge.to]?.x ?? 0;
  const level = edges.filter((edge) => edge.tier === at.tier).sort((a, b) => across(a) - across(b));
  const place = level.findIndex((edge) => edge.line === line);
  return level[place + (key === "ArrowRight" ? 1 : -1)]?.line;
}
