/** The nodes of a network file: places, supports, loads. */
import { say } from "../words/index.ts";
import type { Complaints } from "./network-complaints.ts";
import type { FileFixed, FileVector, NetworkFile, NetworkId } from "./network-schema.ts";

const DIRECTIONS = ["x", "y", "z"] as const;

/** Nodes as read; `fixed` and `loads` are added to while the file is read. */
export interface Nodes {
  readonly dimensions: 2 | 3;
  readonly ids: readonly NetworkId[];
  readonly index: ReadonlyMap<string, number>;
  readonly positions: Float64Array;
  readonly fixed: Uint8Array;
  readonly loads: Float64Array;
}

/** The nodes with what they say of themselves: their own supports and loads. */
export function readNodes(file: NetworkFile, complaints: Complaints): Nodes {
  const count = file.nodes.length;
  const ids: NetworkId[] = [];
  const index = new Map<string, number>();
  const positions = new Float64Array(3 * count);
  const given = file.nodes.map((node): FileVector => {
    if (Array.isArray(node)) return node;
    if ("position" in node) return node.position;
    return node.z === undefined ? [node.x, node.y] : [node.x, node.y, node.z];
  });
  const dimensions = given.some((position) => position.length === 3) ? 3 : 2;
  const fixed = new Uint8Array(3 * count);
  const loads = new Float64Array(3 * count);
  const nodes: Nodes = { dimensions, ids, index, positions, fixed, loads };
  if (count === 0)
    complaints.error("nodes", undefined, say("geometry.nodes.none"), say("geometry.nodes.none.fix"));
  for (const [i, node] of file.nodes.entries()) {
    const position = given[i] as FileVector;
    const nodeId = (Array.isArray(node) ? undefined : node.id) ?? i;
    ids.push(nodeId);
    const key = String(nodeId);
    if (index.has(key)) {
      complaints.error(
        `nodes[${i}]`,
        nodeId,
        say("geometry.nodes.taken", { id: key, place: index.get(key) ?? 0 }),
        say("geometry.nodes.taken.fix"),
      );
    }
    index.set(key, i);
    if (position.length !== dimensions) {
      complaints.error(`nodes[${i}]`, nodeId, say("geometry.nodes.plane"), say("geometry.nodes.plane.fix"));
    }
    positions.set(position, 3 * i);
    if (Array.isArray(node)) continue;
    if (node.fixed !== undefined) hold(nodes, i, node.fixed, `nodes[${i}].fixed`, complaints);
    if (node.load !== undefined) load(nodes, i, node.load, `nodes[${i}].load`, complaints);
  }
  return nodes;
}

function hold(nodes: Nodes, node: number, how: FileFixed, where: string, complaints: Complaints): void {
  let flags: readonly boolean[];
  if (typeof how === "boolean") flags = [how, how, how];
  else if (how === "all") flags = [true, true, true];
  else if (how.length > 0 && typeof how[0] === "boolean") {
    flags = how as boolean[];
    if (flags.length !== nodes.dimensions) {
      complaints.error(
        where,
        nodes.ids[node],
        say("geometry.nodes.flags", { count: flags.length, dimensions: nodes.dimensions }),
        say("geometry.nodes.flags.fix"),
      );
    }
  } else flags = DIRECTIONS.map((direction) => (how as string[]).includes(direction));
  for (const [d, flag] of flags.entries()) if (flag) nodes.fixed[3 * node + d] = 1;
}

function load(nodes: Nodes, node: number, force: FileVector, where: string, complaints: Complaints): void {
  if (force.length !== nodes.dimensions) {
    complaints.error(
      where,
      nodes.ids[node],
      say("geometry.nodes.components", { count: force.length, dimensions: nodes.dimensions }),
      say("geometry.components.fix"),
    );
    return;
  }
  for (const [d, component] of force.entries()) {
    nodes.loads[3 * node + d] = (nodes.loads[3 * node + d] as number) + component;
  }
}

/** Adds the supports that the file lists apart from the nodes. */
export function addSupports(file: NetworkFile, nodes: Nodes, complaints: Complaints): void {
  for (const [i, entry] of (file.supports ?? []).entries()) {
    const name = typeof entry === "object" ? entry.node : entry;
    const node = nodes.index.get(String(name));
    const where = `supports[${i}]`;
    if (node === undefined) {
      complaints.error(where, name, say("geometry.nodes.held", { id: name }), say("geometry.node.fix"));
      continue;
    }
    hold(nodes, node, (typeof entry === "object" ? entry.fixed : undefined) ?? true, where, complaints);
  }
  if (!nodes.fixed.includes(1)) {
    complaints.error("supports", undefined, say("geometry.nodes.loose"), say("geometry.nodes.loose.fix"));
  }
  // A plane network stays in its plane; that alone doesn't count as a support.
  if (nodes.dimensions === 2) for (let i = 2; i < nodes.fixed.length; i += 3) nodes.fixed[i] = 1;
}

/** Adds the loads that the file lists apart from the nodes. */
export function addLoads(file: NetworkFile, nodes: Nodes, complaints: Complaints): void {
  const loads = file.loads ?? [];
  const entries: readonly { where: string; name: NetworkId; force: FileVector }[] = Array.isArray(loads)
    ? loads.map((entry, i) => ({ where: `loads[${i}]`, name: entry.node, force: entry.force }))
    : Object.entries(loads).map(([name, force]) => ({ where: `loads.${name}`, name, force }));
  for (const { where, name, force } of entries) {
    const node = nodes.index.get(String(name));
    if (node === undefined) {
      complaints.error(where, name, say("geometry.nodes.acted", { id: name }), say("geometry.node.fix"));
    } else load(nodes, node, force, where, complaints);
  }
}
