/** The drawn cascade of the wing on the screen: which figures stand beside the names, and how materials are told apart. */
import type { LineDeviation } from "../../diagnosis/model.ts";
import type { CascadeDiagram } from "../../plan/draft/index.ts";
import { ROWS, type Row, SIDES, type Side, type Wing } from "../../plan/model.ts";
import type { PathDeviation } from "../../readings/model.ts";
import { lengthNumber, signedLengthNumber } from "../../words/index.ts";

/** What stands below the names. `none`: the upper line's name where it isn't the tab's. */
export type Figures = "none" | "length" | "total" | "deviation";
export const FIGURES: readonly Figures[] = ["none", "length", "total", "deviation"];

/** What a line's stroke shows. */
export type Strokes = "deviation" | "material" | "plain";
export const STROKES: readonly Strokes[] = ["deviation", "material", "plain"];

/** Deviations by the names that a diagram of one side has [m]; undefined where not measured. */
export interface Deviations {
  readonly ofLine: ReadonlyMap<string, number | undefined>;
  readonly ofTab: ReadonlyMap<string, number | undefined>;
}

const bare = (key: string): string => key.replace(/^\w+:/u, "");

/** The deviations of one side. */
export function deviationsOf(
  lines: readonly LineDeviation[],
  paths: readonly PathDeviation[],
  side: Side,
): Deviations {
  const here = `${side}:`;
  return {
    ofLine: new Map(
      lines.flatMap(({ lineKey, deviationM }) =>
        lineKey.startsWith(here) ? [[bare(lineKey), deviationM]] : [],
      ),
    ),
    ofTab: new Map(
      paths.flatMap(({ tabKey, deviationM }) =>
        tabKey.startsWith(here) ? [[bare(tabKey), deviationM]] : [],
      ),
    ),
  };
}

/** Rows that have a diagram: those of lower lines. */
export function drawnRows(wing: Wing): readonly Row[] {
  const roots = new Set(wing.lines.filter(({ hangsOn }) => hangsOn.kind !== "line").map(({ row }) => row));
  return ROWS.filter((row) => roots.has(row));
}

/** Whether the plan's sides are the same: then one drawing stands for both. */
export function sidesAlike(wing: Wing): boolean {
  const of = (side: Side): string =>
    JSON.stringify([
      wing.lines
        .filter((line) => line.side === side)
        .map(({ id, row, hangsOn, lengthM, materialId, loopTakeUpM }) => [
          id,
          row,
          hangsOn.kind === "line" ? bare(hangsOn.lineKey) : hangsOn,
          lengthM,
          materialId,
          loopTakeUpM,
        ]),
      wing.tabs.filter((tab) => tab.side === side).map(({ id, rib, lineKey }) => [id, rib, bare(lineKey)]),
    ]);
  const [left, right] = SIDES.map(of);
  return left === right;
}

/** Width of a character and least gap between labels, as the diagram has them. */
const CHARACTER = 0.62;
const GAP = 0.8;

/**
 * A diagram with other figures beside its names. Where they are wider than what it was laid out for, it grows sideways.
 * @param wing of the diagram's side
 */
export function withFigures(
  diagram: CascadeDiagram,
  wing: Wing,
  side: Side,
  figures: Figures,
  deviations: Deviations,
): CascadeDiagram {
  const lines = new Map(wing.lines.filter((line) => line.side === side).map((line) => [line.id, line]));
  const totals = new Map(wing.paths.map((path) => [path.tabKey, path.specifiedM]));
  const lineAt = new Map(diagram.edges.map(({ to, line }) => [to, line]));
  const ofLine = (id: string | undefined): string => {
    const line = id === undefined ? undefined : lines.get(id);
    if (line === undefined || figures === "none" || figures === "total") return "";
    if (figures === "length") return line.lengthAssumed ? "" : lengthNumber(line.lengthM);
    const deviationM = deviations.ofLine.get(line.id);
    return deviationM === undefined ? "" : signedLengthNumber(deviationM);
  };
  const ofTab = (tab: string, id: string | undefined): string => {
    const totalM = totals.get(`${side}:${tab}`);
    if (figures === "total") return totalM === undefined ? "" : lengthNumber(totalM);
    if (figures === "none") return id === tab ? "" : (id ?? "");
    if (figures === "length") return ofLine(id);
    const deviationM = deviations.ofTab.get(tab);
    return deviationM === undefined ? "" : signedLengthNumber(deviationM);
  };
  const labels = diagram.labels.map((label) => {
    const node = diagram.nodes[label.node];
    const id = lineAt.get(label.node);
    const figure = node?.kind === "tab" ? ofTab(node.name, id) : node?.kind === "anchor" ? "" : ofLine(id);
    return { ...label, figure, width: CHARACTER * Math.max(label.text.length, figure.length) };
  });
  const widest = (all: readonly { readonly width: number }[]): number =>
    Math.max(3 * CHARACTER, ...all.map(({ width }) => width));
  const grow = Math.max(1, (widest(labels) + GAP) / (widest(diagram.labels) + GAP));
  if (grow === 1) return { ...diagram, labels };
  return {
    ...diagram,
    width: diagram.width * grow,
    nodes: diagram.nodes.map((node) => ({ ...node, x: node.x * grow })),
    edges: diagram.edges.map((edge) => ({
      ...edge,
      points: edge.points.map(([x, y]) => [x * grow, y] as const),
    })),
    labels: labels.map((label) => ({ ...label, x: label.x * grow })),
  };
}

/** Dashes that are told apart without colour, in the order of use; the first is drawn through. */
const DASHES: readonly (string | undefined)[] = [
  undefined,
  "9 4",
  "2 4",
  "9 3 2 3",
  "5 3",
  "14 3 2 3 2 3",
  "1.5 2.5",
  "16 5",
];

/** The dashes of each material in use, in the plan's order; beyond those there are, they begin anew. */
export function materialDashes(wing: Wing): ReadonlyMap<string, string | undefined> {
  const used = new Set(wing.lines.map(({ materialId }) => materialId));
  return new Map(
    wing.materials
      .filter(({ id }) => used.has(id))
      .map(({ id }, index) => [id, DASHES[index % DASHES.length]]),
  );
}
