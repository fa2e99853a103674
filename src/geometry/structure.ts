/**
 * The topology of a network, analysed once: elimination order, the pattern of the tangent and where each member's
 * and each bend's stiffness goes in it. It holds for any lengths, loads and positions of the same network.
 */
import type { Network } from "./model.ts";
import { analysePattern, type Factor } from "./sparse/ldl.ts";
import { minimumDegreeOrder } from "./sparse/ordering.ts";

export interface NetworkStructure {
  readonly nodeCount: number;
  /** Node → its place in the elimination order. */
  readonly place: Int32Array;
  /** Place → node. */
  readonly order: Int32Array;
  /** The symbolic factor and its workspace; block row = place. */
  readonly factor: Factor;
  /** Per member: its off-diagonal block in the pattern. */
  readonly memberBlock: Int32Array;
  /** Per bend: the blocks of its three node pairs 01, 02, 12. */
  readonly bendBlock: Int32Array;
  /** Per node: its diagonal block. */
  readonly diagonalBlock: Int32Array;
  /** Scratch for the tangent's values, nine numbers a block. */
  readonly tangent: Float64Array;
}

/** @throws RangeError when a member joins a node with itself or names a node that isn't there */
export function analyseNetwork(network: Network): NetworkStructure {
  const nodeCount = network.positions.length / 3;
  const members = network.ends.length / 2;
  const bends = network.bends.stiffness.length;
  const neighbours: Set<number>[] = Array.from({ length: nodeCount }, () => new Set<number>());
  const join = (a: number, b: number, what: string): void => {
    if (a === b) throw new RangeError(`${what} joins node ${a} with itself`);
    const na = neighbours[a];
    const nb = neighbours[b];
    if (!na || !nb)
      throw new RangeError(`${what} names node ${na ? b : a}, but there are ${nodeCount} nodes`);
    na.add(b);
    nb.add(a);
  };
  for (let m = 0; m < members; m++)
    join(network.ends[2 * m] as number, network.ends[2 * m + 1] as number, `member ${m}`);
  for (let b = 0; b < bends; b++) {
    const n0 = network.bends.nodes[3 * b] as number;
    const n1 = network.bends.nodes[3 * b + 1] as number;
    const n2 = network.bends.nodes[3 * b + 2] as number;
    join(n0, n1, `bend ${b}`);
    join(n0, n2, `bend ${b}`);
    join(n1, n2, `bend ${b}`);
  }

  const order = minimumDegreeOrder(neighbours.map((set) => [...set]));
  const place = new Int32Array(nodeCount);
  order.forEach((node, p) => {
    place[node] = p;
  });

  // Block columns: for each place the earlier neighbours, ascending, then the diagonal.
  const starts = new Int32Array(nodeCount + 1);
  const diagonalBlock = new Int32Array(nodeCount);
  const blockOf: Map<number, number>[] = [];
  const rows: number[] = [];
  for (let p = 0; p < nodeCount; p++) {
    const earlier: number[] = [];
    for (const neighbour of neighbours[order[p]!]!)
      if (place[neighbour]! < p) earlier.push(place[neighbour]!);
    earlier.sort((a, b) => a - b);
    blockOf.push(new Map(earlier.map((q, slot) => [q, rows.length + slot])));
    rows.push(...earlier, p);
    diagonalBlock[order[p]!] = rows.length - 1;
    starts[p + 1] = rows.length;
  }
  const factor = analysePattern({ size: nodeCount, starts, rows: Int32Array.from(rows) });

  const block = (a: number, b: number): number => {
    const pa = place[a]!;
    const pb = place[b]!;
    return blockOf[Math.max(pa, pb)]!.get(Math.min(pa, pb))!;
  };
  const memberBlock = new Int32Array(members);
  for (let m = 0; m < members; m++) memberBlock[m] = block(network.ends[2 * m]!, network.ends[2 * m + 1]!);
  const bendBlock = new Int32Array(3 * bends);
  for (let b = 0; b < bends; b++) {
    const n0 = network.bends.nodes[3 * b]!;
    const n1 = network.bends.nodes[3 * b + 1]!;
    const n2 = network.bends.nodes[3 * b + 2]!;
    bendBlock[3 * b] = block(n0, n1);
    bendBlock[3 * b + 1] = block(n0, n2);
    bendBlock[3 * b + 2] = block(n1, n2);
  }
  const tangent = new Float64Array(9 * rows.length);
  return { nodeCount, place, order, factor, memberBlock, bendBlock, diagonalBlock, tangent };
}
