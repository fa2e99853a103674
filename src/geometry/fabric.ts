/**
 * The canopy between its tabs: ties that keep distances along the ribs and the span, shear diagonals, and a small
 * bending resistance that spreads one tab's error to its neighbours.
 *
 * An inflated rib at a paraglider's dynamic pressure carries only about 1 N of sideways point load before it wrinkles,
 * while a tab carries 5 to 30 N. So the profile follows the lines, and these stiffnesses are secant values of a
 * wrinkled fabric, not of a taut one.
 */
import type { Station } from "./stations.ts";

export interface FabricOptions {
  /** EA of a tie along a rib [N]. */
  readonly chordwiseN: number;
  /** EA of a tie along the span [N]. */
  readonly spanwiseN: number;
  /** EA of a shear diagonal [N]. */
  readonly shearN: number;
  /** Bending stiffness along a rib [N·m²]. */
  readonly ribBendingNm2: number;
  /** Bending stiffness along the span, per row [N·m²]. */
  readonly spanBendingNm2: number;
}

/** Defaults, from the wrinkling moment of an inflated tube (0.5 to 1 N·m) over the curvature of a 15 mm bump; assumed. */
export const DEFAULT_FABRIC: FabricOptions = {
  chordwiseN: 10_000,
  spanwiseN: 3_000,
  shearN: 600,
  ribBendingNm2: 2,
  spanBendingNm2: 1,
};

/** A node of the canopy on its rib, front to rear. */
export interface CanopyNode {
  readonly node: number;
  readonly chordFraction: number;
  /** Tabs of one row on neighbouring ribs are joined along the span; the bare trailing edge counts as the brakes' row. */
  readonly row: string;
}

export interface FabricTie {
  readonly ends: readonly [number, number];
  readonly kind: "chordwise" | "spanwise" | "shear";
}

/**
 * Ties of a canopy whose ribs run from the left tip to the right tip. A rib with nothing but a brake tab has one node,
 * at the trailing edge: it's tied into the trailing edge and to the last tabs of the ribs beside it.
 */
export function fabricTies(ribs: readonly (readonly CanopyNode[])[]): FabricTie[] {
  const ties: FabricTie[] = [];
  const whole = ribs.filter((rib) => rib.length > 1);
  for (const rib of whole)
    for (let i = 1; i < rib.length; i++)
      ties.push({ ends: [(rib[i - 1] as CanopyNode).node, (rib[i] as CanopyNode).node], kind: "chordwise" });
  for (let r = 1; r < whole.length; r++)
    joinRibs(whole[r - 1] as CanopyNode[], whole[r] as CanopyNode[], ties);
  ribs.forEach((rib, r) => {
    if (rib.length !== 1) return;
    const only = rib[0] as CanopyNode;
    const inner = ribs.slice(0, r).reverse();
    const outer = ribs.slice(r + 1);
    for (const beside of [inner.find((other) => other.length > 1), outer.find((other) => other.length > 1)]) {
      if (!beside) continue;
      ties.push({ ends: [only.node, (beside[beside.length - 1] as CanopyNode).node], kind: "spanwise" });
      ties.push({ ends: [only.node, (beside[beside.length - 2] as CanopyNode).node], kind: "shear" });
    }
  });
  return ties;
}

/** Walk two neighbouring ribs from front to rear like a zip, so that ribs with different rows are joined as well. */
function joinRibs(left: readonly CanopyNode[], right: readonly CanopyNode[], ties: FabricTie[]): void {
  let i = 0;
  let j = 0;
  const tie = (a: CanopyNode, b: CanopyNode): void => {
    const kind = a.row === b.row ? "spanwise" : "shear";
    ties.push({ ends: [a.node, b.node], kind });
  };
  tie(left[0] as CanopyNode, right[0] as CanopyNode);
  while (i < left.length - 1 || j < right.length - 1) {
    const nextLeft = left[i + 1];
    const nextRight = right[j + 1];
    // Equal places count like equal rows: which side comes first mustn't matter.
    const abreast = nextLeft?.row === nextRight?.row || nextLeft?.chordFraction === nextRight?.chordFraction;
    if (nextLeft && nextRight && abreast) {
      ties.push({ ends: [nextLeft.node, (right[j] as CanopyNode).node], kind: "shear" });
      ties.push({ ends: [(left[i] as CanopyNode).node, nextRight.node], kind: "shear" });
      i++;
      j++;
    } else if (!nextRight || (nextLeft && nextLeft.chordFraction <= nextRight.chordFraction)) i++;
    else j++;
    tie(left[i] as CanopyNode, right[j] as CanopyNode);
  }
}

/** One bend to be: three nodes with the distances between them, the direction's node is the middle one. */
export interface Bend {
  readonly nodes: readonly [number, number, number];
  readonly bendingNm2: number;
  /** True where it holds the trailing edge behind the last line. */
  readonly trailing: boolean;
}

/** Bends along every rib and, row by row, along the span. */
export function fabricBends(ribs: readonly (readonly CanopyNode[])[], options: FabricOptions): Bend[] {
  const bends: Bend[] = [];
  for (const rib of ribs)
    for (let i = 2; i < rib.length; i++)
      bends.push({
        nodes: [
          (rib[i - 2] as CanopyNode).node,
          (rib[i - 1] as CanopyNode).node,
          (rib[i] as CanopyNode).node,
        ],
        bendingNm2: options.ribBendingNm2,
        trailing: (rib[i] as CanopyNode).row === "brake",
      });
  const rows = new Set(ribs.flatMap((rib) => rib.map((node) => node.row)));
  for (const row of rows) {
    const along = ribs.flatMap((rib) => rib.filter((node) => node.row === row));
    for (let i = 2; i < along.length; i++)
      bends.push({
        nodes: [
          (along[i - 2] as CanopyNode).node,
          (along[i - 1] as CanopyNode).node,
          (along[i] as CanopyNode).node,
        ],
        bendingNm2: options.spanBendingNm2,
        trailing: row === "brake",
      });
  }
  return bends;
}

/** A station's canopy nodes in order, given the node of each tab and of the bare trailing edge. */
export function canopyNodes(
  station: Station,
  fractions: Float64Array,
  tabNode: (tab: number) => number,
  trailingEdge: number | undefined,
): CanopyNode[] {
  const nodes: CanopyNode[] = station.tabs
    .map((tab) => ({ node: tabNode(tab.tab), chordFraction: fractions[tab.tab] as number, row: tab.row }))
    .sort((a, b) => a.chordFraction - b.chordFraction);
  if (trailingEdge !== undefined) nodes.push({ node: trailingEdge, chordFraction: 1, row: "brake" });
  return nodes;
}
