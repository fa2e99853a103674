/**
 * The cascade drawn flat, as plain data for a screen or for print: tabs side by side at the top, the maillon below. One
 * diagram for each row's lower lines; a tip line on another row's maillon has its own.
 */
import { say } from "../../words/index.ts";
import type { Row, Side, Wing } from "../model.ts";
import { PULLEY } from "../schema.ts";
import type { Draft } from "./model.ts";

export interface DiagramNode {
  readonly kind: "tab" | "junction" | "anchor";
  /** Tab's or maillon's name; for a junction the line that ends there. */
  readonly name: string;
  /** Row of the line that ends here, or of the lines on an anchor. */
  readonly row: Row;
  /** In heights of a line of text, x to the tip, y upwards from the maillon. */
  readonly x: number;
  readonly y: number;
  readonly rib: number | undefined;
}

/** A line from the node below to the one above. */
export interface DiagramEdge {
  readonly line: string;
  readonly row: Row;
  readonly tier: number;
  /** Indices of nodes. */
  readonly from: number;
  readonly to: number;
  /** Corners from below upwards, both ends included: a line to a tab above its neighbours' forks stands upright at last. */
  readonly points: readonly (readonly [number, number])[];
}

/** Words and the box that they fit into: its middle, width and height, in heights of a line of text. */
export interface DiagramLabel {
  /** Index of the node it belongs to. */
  readonly node: number;
  readonly text: string;
  /** A second line: the total of a tab, the length of a line [mm]; empty where it isn't known. */
  readonly figure: string;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface CascadeDiagram {
  readonly row: Row;
  readonly title: string;
  readonly nodes: readonly DiagramNode[];
  readonly edges: readonly DiagramEdge[];
  readonly labels: readonly DiagramLabel[];
  readonly width: number;
  readonly height: number;
}

/** Width of a character over the height of a line of text, ample for figures and capitals. */
const CHARACTER = 0.62;
/** From one tier to the next, and from tab to tab beyond the widest label. */
const TIER_RISE = 5;
const GAP = 0.8;
const LABEL_HEIGHT = 2.4;

/** One line of a tree to be drawn. */
interface Stem {
  readonly name: string;
  readonly row: Row;
  readonly tier: number;
  readonly figure: string;
  readonly tabs: readonly Crown[];
  readonly above: readonly Stem[];
}
interface Crown {
  readonly name: string;
  readonly row: Row;
  readonly rib: number;
  readonly figure: string;
}
interface Root {
  readonly anchor: string;
  readonly stem: Stem;
}

const mm = (length: number | undefined): string =>
  length === undefined ? "" : String(Number(length.toFixed(1)));

/** The diagrams of a draft, rows in its order; drawn as far as the draft goes. Never throws. */
export function draftDiagram(draft: Draft): readonly CascadeDiagram[] {
  const above = new Map<number, number[]>();
  draft.lines.forEach((line, index) => {
    if (line.below !== undefined) above.set(line.below, [...(above.get(line.below) ?? []), index]);
  });
  const stem = (index: number): Stem => {
    const line = draft.lines[index] as Draft["lines"][number];
    const tab = line.tab === undefined ? undefined : draft.tabs[line.tab];
    return {
      name: line.id,
      row: line.row,
      tier: line.tier,
      figure: mm(line.lengthMm),
      tabs: tab === undefined ? [] : [{ name: tab.id, row: tab.row, rib: tab.rib, figure: mm(tab.totalMm) }],
      above: (above.get(index) ?? []).map(stem),
    };
  };
  const rows = [...new Set(draft.source.rows.map((entry) => entry.row))];
  return rows.map((row) => {
    const roots = draft.lines.flatMap((line, index): Root[] =>
      line.below === undefined && draft.source.rows[line.entry]?.row === row
        ? [{ anchor: line.anchor, stem: stem(index) }]
        : [],
    );
    return layOut(row, roots);
  });
}

/**
 * The diagram of one row of a finished plan: what hangs on the row's lower lines, whatever row that is of. Figures are
 * specified lengths and totals; lengths that the plan leaves to its totals have none.
 */
export function cascadeDiagram(wing: Wing, row: Row, side: Side = "left"): CascadeDiagram {
  const lines = new Map(wing.lines.map((line) => [line.key, line]));
  const tabs = new Map(
    wing.tabs.map((tab, index) => [tab.key, { tab, totalM: wing.paths[index]?.specifiedM }]),
  );
  const stem = (key: string): Stem | undefined => {
    const line = lines.get(key);
    if (line === undefined) return undefined;
    return {
      name: line.id,
      row: line.row,
      tier: line.tier,
      figure: line.lengthAssumed ? "" : mm(1000 * line.lengthM),
      tabs: line.carriesTabs.flatMap((each) => {
        const found = tabs.get(each);
        if (found === undefined) return [];
        const { tab, totalM } = found;
        return [
          {
            name: tab.id,
            row: tab.row,
            rib: tab.rib,
            figure: mm(totalM === undefined ? undefined : 1000 * totalM),
          },
        ];
      }),
      above: line.carriesLines.flatMap((each) => stem(each) ?? []),
    };
  };
  const roots = wing.lines.flatMap((line): Root[] => {
    if (line.side !== side || line.row !== row || line.hangsOn.kind === "line") return [];
    const root = stem(line.key);
    const anchor = line.hangsOn.kind === "pulley" ? PULLEY : line.hangsOn.maillonId;
    return root === undefined ? [] : [{ anchor, stem: root }];
  });
  return layOut(row, roots);
}

function layOut(row: Row, roots: readonly Root[]): CascadeDiagram {
  const nodes: DiagramNode[] = [];
  const edges: DiagramEdge[] = [];
  const figures: string[] = [];
  const deepest = Math.max(0, ...roots.map((root) => heightOf(root.stem)));
  const pitch =
    GAP + CHARACTER * Math.max(3, ...roots.flatMap((root) => [root.anchor.length, widest(root.stem)]));
  let columns = 0;

  const add = (node: DiagramNode, figure: string): number => {
    nodes.push(node);
    figures.push(figure);
    return nodes.length - 1;
  };
  const middle = (places: readonly number[]): number => ((places[0] ?? 0) + (places.at(-1) ?? 0)) / 2;

  /** Draws what a line carries and its upper end, and returns that; the edge down follows when the node below is known. */
  const draw = (stem: Stem): number => {
    const [only] = stem.tabs;
    const plain = stem.above.length === 0 && stem.tabs.length < 2;
    if (plain) {
      const x = pitch * (columns++ + 0.5);
      const y = TIER_RISE * deepest;
      if (only === undefined)
        return add(
          { kind: "junction", name: stem.name, row: stem.row, x, y: TIER_RISE * stem.tier, rib: undefined },
          stem.figure,
        );
      return add(
        { kind: "tab", name: only.name, row: only.row, x, y, rib: only.rib },
        only.figure || stem.figure,
      );
    }
    const above = stem.above.map((each) => ({ line: each, node: draw(each) }));
    const ends = stem.tabs.map((tab) =>
      add(
        {
          kind: "tab",
          name: tab.name,
          row: tab.row,
          x: pitch * (columns++ + 0.5),
          y: TIER_RISE * deepest,
          rib: tab.rib,
        },
        tab.figure,
      ),
    );
    const x = middle(
      [...above.map((each) => each.node), ...ends].map((node) => (nodes[node] as DiagramNode).x),
    );
    const y = TIER_RISE * stem.tier;
    const node = add({ kind: "junction", name: stem.name, row: stem.row, x, y, rib: undefined }, stem.figure);
    for (const each of above) join(each.line, node, each.node);
    for (const end of ends) join({ ...stem, tier: stem.tier + 1 }, node, end);
    return node;
  };
  const join = (line: Stem, from: number, to: number): void => {
    const low = nodes[from] as DiagramNode;
    const high = nodes[to] as DiagramNode;
    const bend = TIER_RISE * line.tier;
    const points: (readonly [number, number])[] = [[low.x, low.y]];
    if (high.y > bend) points.push([high.x, bend]);
    points.push([high.x, high.y]);
    edges.push({ line: line.name, row: line.row, tier: line.tier, from, to, points });
  };

  // Neighbouring lower lines on the same maillon come together; a maillon that appears again is drawn again.
  const groups: { anchor: string; ends: { line: Stem; node: number }[] }[] = [];
  for (const { anchor, stem } of roots) {
    let last = groups.at(-1);
    if (last?.anchor !== anchor) {
      last = { anchor, ends: [] };
      groups.push(last);
    }
    last.ends.push({ line: stem, node: draw(stem) });
  }
  for (const { anchor, ends } of groups) {
    const x = middle(ends.map((end) => (nodes[end.node] as DiagramNode).x));
    const at = add({ kind: "anchor", name: anchor, row, x, y: 0, rib: undefined }, "");
    for (const end of ends) join(end.line, at, end.node);
  }
  const labels = nodes.map((node, index): DiagramLabel => {
    const text = node.name;
    const figure = figures[index] as string;
    const lift = node.kind === "tab" ? LABEL_HEIGHT / 2 + 0.3 : -(LABEL_HEIGHT / 2 + 0.3);
    const width = CHARACTER * Math.max(text.length, figure.length);
    return { node: index, text, figure, x: node.x, y: node.y + lift, width, height: LABEL_HEIGHT };
  });
  return {
    row,
    title: say("draft.diagram", { row }),
    nodes,
    edges,
    labels,
    width: pitch * columns,
    height: TIER_RISE * deepest,
  };
}

/** Tier of the highest line of a tree. */
function heightOf(stem: Stem): number {
  const own =
    stem.above.length > 0 && stem.tabs.length > 0
      ? stem.tier + 1
      : stem.tier + (stem.tabs.length > 1 ? 1 : 0);
  return Math.max(own, ...stem.above.map(heightOf));
}

function widest(stem: Stem): number {
  return Math.max(
    stem.name.length,
    stem.figure.length,
    ...stem.tabs.flatMap((tab) => [tab.name.length, tab.figure.length]),
    ...stem.above.map(widest),
  );
}
