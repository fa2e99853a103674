/**
 * The file form of a bare network: nodes, members, supports, loads in any one consistent system of units.
 * What comes back is a `Network` with the ids to name its parts by, or the list of what is wrong.
 */

import { type Parsed, parsedText } from "../plan/index.ts";
import { say } from "../words/index.ts";
import type { Network } from "./model.ts";
import { type Complaints, hasErrors, newComplaints } from "./network-complaints.ts";
import { addWeight, type Members, readMembers } from "./network-members.ts";
import { addLoads, addSupports, type Nodes, readNodes } from "./network-nodes.ts";
import { type NetworkId, networkFileSchema, shapeProblems } from "./network-schema.ts";

export type { NetworkId } from "./network-schema.ts";

/** A network as read, with the file's own names and settings. */
export interface NamedNetwork {
  readonly network: Network;
  /** 2 where every position was given by two numbers: z = 0, held. */
  readonly dimensions: 2 | 3;
  /** Node index → id. */
  readonly nodeIds: readonly NetworkId[];
  /** Member index → id. */
  readonly memberIds: readonly NetworkId[];
  /** Solver settings the file asks for. */
  readonly options: { readonly tolerance?: number; readonly maxIterations?: number };
}

/** As `parseNetwork`, from the file's text; problems carry the line behind their path. */
export function parseNetworkText(text: string): Parsed<NamedNetwork> {
  return parsedText(text, parseNetwork);
}

/**
 * Reads a network from the file's JSON value.
 *
 * Loads from the nodes, from `loads` and from the members' weight add up; supports from the nodes and from
 * `supports` add up too. A member's weight acts half at each end and is taken over its unstretched length.
 */
export function parseNetwork(json: unknown): Parsed<NamedNetwork> {
  const shape = networkFileSchema.safeParse(json);
  if (!shape.success) return { ok: false, problems: shapeProblems(shape.error, json) };
  const complaints = newComplaints();
  const file = shape.data;
  const nodes = readNodes(file, complaints);
  const members = readMembers(file, nodes, complaints);
  addSupports(file, nodes, complaints);
  addLoads(file, nodes, complaints);
  addWeight(file, nodes, members, complaints);
  if (!hasErrors(complaints)) checkHeld(nodes, members, complaints);
  if (hasErrors(complaints)) return { ok: false, problems: complaints.list };
  const empty = new Float64Array(0);
  return {
    ok: true,
    problems: complaints.list,
    value: {
      network: {
        positions: nodes.positions,
        fixed: nodes.fixed,
        loads: nodes.loads,
        ends: members.ends,
        unstretched: members.unstretched,
        stiffness: members.stiffness,
        bars: members.bars,
        bends: { nodes: new Int32Array(0), weights: empty, rest: empty, directions: empty, stiffness: empty },
      },
      dimensions: nodes.dimensions,
      nodeIds: nodes.ids,
      memberIds: members.ids,
      options: {
        ...(file.options?.tolerance === undefined ? {} : { tolerance: file.options.tolerance }),
        ...(file.options?.maxIterations === undefined ? {} : { maxIterations: file.options.maxIterations }),
      },
    },
  };
}

/** Every part that hangs together must be held somewhere: otherwise its loads have nowhere to go. */
function checkHeld(nodes: Nodes, members: Members, complaints: Complaints): void {
  const count = nodes.ids.length;
  const group = Int32Array.from({ length: count }, (_, i) => i);
  const root = (node: number): number => {
    let at = node;
    while (group[at] !== at) {
      group[at] = group[group[at] as number] as number;
      at = group[at] as number;
    }
    return at;
  };
  for (let m = 0; m < members.unstretched.length; m++) {
    group[root(members.ends[2 * m] as number)] = root(members.ends[2 * m + 1] as number);
  }
  const held = new Set<number>();
  const size = new Map<number, number>();
  for (let i = 0; i < count; i++) {
    const at = root(i);
    size.set(at, (size.get(at) ?? 0) + 1);
    for (let d = 0; d < nodes.dimensions; d++) if (nodes.fixed[3 * i + d] === 1) held.add(at);
  }
  const told = new Set<number>();
  for (let i = 0; i < count; i++) {
    const at = root(i);
    if (held.has(at) || told.has(at)) continue;
    told.add(at);
    const loaded = [0, 1, 2].some((d) => nodes.loads[3 * i + d] !== 0);
    if (size.get(at) === 1 && !loaded) {
      complaints.warning(
        `nodes[${i}]`,
        nodes.ids[i],
        say("geometry.nodes.bare"),
        say("geometry.nodes.bare.fix"),
      );
    } else {
      complaints.error(
        `nodes[${i}]`,
        nodes.ids[i],
        say("geometry.nodes.adrift"),
        say("geometry.nodes.adrift.fix"),
      );
    }
  }
}
