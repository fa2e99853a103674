/** A solved network as plain JSON with the file's own names, and the balance of its outer forces. */
import type { Equilibrium } from "./model.ts";
import type { NamedNetwork, NetworkId } from "./network-file.ts";

/** What `linewright network` prints; lengths and forces in the file's own units. */
export interface NetworkResult {
  readonly format: "linewright-network-result";
  readonly version: 1;
  readonly converged: boolean;
  readonly iterations: number;
  /** Largest out-of-balance force at a free node. */
  readonly residual: number;
  /** Strain energy less the work of the loads from the origin, as the solver minimises it. */
  readonly energy: number;
  readonly positions: Readonly<Record<string, readonly number[]>>;
  /** From the positions in the file. */
  readonly displacements: Readonly<Record<string, readonly number[]>>;
  readonly members: readonly {
    readonly id: NetworkId;
    readonly nodes: readonly [NetworkId, NetworkId];
    /** Tension positive, compression negative. */
    readonly tension: number;
    readonly length: number;
    readonly unstretched: number;
    /** (length − unstretched)/unstretched; negative on a slack line too, which carries nothing. */
    readonly strain: number;
    readonly slack: boolean;
  }[];
  /** What each support exerts on its node; held nodes only. */
  readonly reactions: Readonly<Record<string, readonly number[]>>;
  readonly slack: readonly NetworkId[];
  /** Free nodes that nothing holds in some direction: their position is one of many. */
  readonly loose: readonly NetworkId[];
  /** Loads and reactions summed: how far the outer forces miss zero. `moment` is about the origin. */
  readonly balance: {
    readonly force: readonly number[];
    readonly moment: readonly number[];
    readonly largestForce: number;
    readonly largestMoment: number;
  };
}

/** The solved network under the file's own names; vectors have as many components as the file's positions. */
export function networkResult(named: NamedNetwork, equilibrium: Equilibrium): NetworkResult {
  const { network, nodeIds, memberIds, dimensions } = named;
  const nodeId = (node: number): NetworkId => nodeIds[node] as NetworkId;
  const vectorAt = (values: Float64Array, node: number): number[] =>
    Array.from(values.subarray(3 * node, 3 * node + dimensions), plainZero);
  const byNode = (values: Float64Array, nodes: readonly number[]): Record<string, number[]> =>
    Object.fromEntries(nodes.map((node) => [String(nodeId(node)), vectorAt(values, node)]));

  const nodes = nodeIds.map((_, node) => node);
  const isHeld = (node: number): boolean =>
    network.fixed.subarray(3 * node, 3 * node + dimensions).includes(1);
  const displacements = equilibrium.positions.map((value, i) => value - (network.positions[i] as number));
  const slack = new Set(equilibrium.slack);
  const members = memberIds.map((memberId, m) => {
    const a = network.ends[2 * m] as number;
    const b = network.ends[2 * m + 1] as number;
    const length = distance(equilibrium.positions, a, b);
    const unstretched = network.unstretched[m] as number;
    return {
      id: memberId,
      nodes: [nodeId(a), nodeId(b)] as const,
      tension: plainZero(equilibrium.tensionsN[m] as number),
      length,
      unstretched,
      strain: plainZero((length - unstretched) / unstretched),
      slack: slack.has(m),
    };
  });
  const { balance } = equilibrium;
  // In a plane network the moment has one component, about the plane's normal.
  const force = balance.force.slice(0, dimensions).map(plainZero);
  const moment = (dimensions === 2 ? balance.moment.slice(2) : [...balance.moment]).map(plainZero);
  return {
    format: "linewright-network-result",
    version: 1,
    converged: equilibrium.converged,
    iterations: equilibrium.iterations,
    residual: equilibrium.residualN,
    energy: equilibrium.energyJ,
    positions: byNode(equilibrium.positions, nodes),
    displacements: byNode(displacements, nodes),
    members,
    reactions: byNode(equilibrium.reactionsN, nodes.filter(isHeld)),
    slack: members.filter((member) => member.slack).map((member) => member.id),
    loose: equilibrium.loose.map(nodeId),
    balance: {
      force,
      moment,
      largestForce: Math.max(...force.map(Math.abs)),
      largestMoment: Math.max(...moment.map(Math.abs)),
    },
  };
}

function distance(positions: Float64Array, a: number, b: number): number {
  const d = (k: number): number => (positions[3 * b + k] as number) - (positions[3 * a + k] as number);
  return Math.hypot(d(0), d(1), d(2));
}

/** Minus zero reads as an error to people: write it as zero. */
function plainZero(value: number): number {
  return value === 0 ? 0 : value;
}
