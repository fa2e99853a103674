/** The members of a network file: what they join, how stiff and how long they are, what they weigh. */
import type { Complaints } from "./network-complaints.ts";
import type { Nodes } from "./network-nodes.ts";
import type { FileMember, FileVector, NetworkFile, NetworkId } from "./network-schema.ts";

const BARS: readonly (string | undefined)[] = ["bar", "strut", "truss"];
/** Members as read, in the order of the file. */
export interface Members {
  readonly ids: readonly NetworkId[];
  readonly ends: Int32Array;
  readonly unstretched: Float64Array;
  readonly stiffness: Float64Array;
  readonly bars: Uint8Array;
}

export function readMembers(file: NetworkFile, nodes: Nodes, complaints: Complaints): Members {
  const count = file.members.length;
  const ids: NetworkId[] = [];
  const taken = new Map<string, number>();
  const members: Members = {
    ids,
    ends: new Int32Array(2 * count),
    unstretched: new Float64Array(count),
    stiffness: new Float64Array(count),
    bars: new Uint8Array(count),
  };
  if (count === 0) complaints.error("members", undefined, "there are no members", "List at least one.");
  for (const [m, entry] of file.members.entries()) {
    const memberId = entry.id ?? m;
    const where = `members[${m}]`;
    ids.push(memberId);
    const key = String(memberId);
    if (taken.has(key)) {
      complaints.error(
        where,
        memberId,
        `the id "${key}" is taken by members[${taken.get(key)}] already`,
        "Give every member an id of its own; a member without one is named by its place in the list, from 0.",
      );
    }
    taken.set(key, m);
    members.bars[m] = BARS.includes(entry.kind) ? 1 : 0;
    const stiffness = readStiffness(entry, where, memberId, complaints);
    const ends = readEnds(entry, nodes, where, memberId, complaints);
    if (ends === undefined || stiffness === undefined) continue;
    members.ends.set(ends, 2 * m);
    members.stiffness[m] = stiffness;
    const distance = distanceBetween(nodes.positions, ends[0], ends[1]);
    members.unstretched[m] = readUnstretched(entry, distance, stiffness, where, memberId, complaints) ?? 0;
    if (members.bars[m] === 1 && distance === 0) {
      complaints.error(
        where,
        memberId,
        "is a bar whose two ends start at the same point",
        "Set its nodes apart.",
      );
    }
  }
  return members;
}

function readEnds(
  entry: FileMember,
  nodes: Nodes,
  where: string,
  memberId: NetworkId,
  complaints: Complaints,
): [number, number] | undefined {
  const pair =
    entry.from !== undefined && entry.to !== undefined ? ([entry.from, entry.to] as const) : undefined;
  const halfPair = (entry.from === undefined) !== (entry.to === undefined);
  if (halfPair || (pair === undefined) === (entry.nodes === undefined)) {
    complaints.error(
      where,
      memberId,
      entry.nodes === undefined ? "doesn't say which two nodes it joins" : 'has both "nodes" and "from"/"to"',
      'Give "nodes": [a, b], or "from" and "to".',
    );
    return undefined;
  }
  const named = entry.nodes ?? (pair as readonly [NetworkId, NetworkId]);
  const ends = named.map((name) => {
    const node = nodes.index.get(String(name));
    if (node === undefined) {
      complaints.error(
        where,
        memberId,
        `joins a node "${name}" that isn't listed`,
        'Name a node of "nodes".',
      );
    }
    return node;
  });
  const [a, b] = ends;
  if (a === undefined || b === undefined) return undefined;
  if (a === b) {
    complaints.error(where, memberId, `joins node "${named[0]}" to itself`, "Name two different nodes.");
    return undefined;
  }
  return [a, b];
}

function readStiffness(
  entry: FileMember,
  where: string,
  memberId: NetworkId,
  complaints: Complaints,
): number | undefined {
  const product = entry.E !== undefined && entry.A !== undefined ? entry.E * entry.A : undefined;
  const forms = [entry.EA, entry.ea, product].filter((value) => value !== undefined);
  if (forms.length !== 1 || (entry.E === undefined) !== (entry.A === undefined)) {
    complaints.error(
      where,
      memberId,
      forms.length > 1 ? "gives its stiffness in more than one way" : "gives no full stiffness",
      'Give "EA", or both "E" and "A", and nothing else.',
    );
    return undefined;
  }
  const stiffness = forms[0] as number;
  if (!(stiffness > 0) || !Number.isFinite(stiffness) || (entry.E ?? 1) < 0) {
    complaints.error(
      where,
      memberId,
      `has a stiffness EA of ${stiffness}`,
      "EA must be above zero, and finite.",
    );
    return undefined;
  }
  return stiffness;
}

function readUnstretched(
  entry: FileMember,
  distance: number,
  stiffness: number,
  where: string,
  memberId: NetworkId,
  complaints: Complaints,
): number | undefined {
  const lengths = [entry.unstretched, entry.unstretchedLength, entry.L0].filter(
    (value) => value !== undefined,
  );
  if (lengths.length + (entry.pretension === undefined ? 0 : 1) > 1) {
    complaints.error(
      where,
      memberId,
      "gives its unstretched length in more than one way",
      'Give one of "unstretched", "unstretchedLength", "L0", "pretension".',
    );
    return undefined;
  }
  if (entry.pretension !== undefined) {
    const least = BARS.includes(entry.kind) ? -stiffness : 0;
    if (entry.pretension < least || entry.pretension === -stiffness) {
      complaints.error(
        where,
        memberId,
        `has a pretension of ${entry.pretension}`,
        "A line's pretension is zero or above; a bar's lies above -EA.",
      );
      return undefined;
    }
  }
  const strain = (entry.pretension ?? 0) / stiffness;
  const length = lengths[0] ?? distance / (1 + strain);
  if (!(length > 0)) {
    complaints.error(
      where,
      memberId,
      lengths.length > 0
        ? `has an unstretched length of ${length}`
        : "has no unstretched length, and its two ends start at the same point",
      "The unstretched length must be above zero.",
    );
    return undefined;
  }
  return length;
}

function distanceBetween(positions: Float64Array, a: number, b: number): number {
  return Math.hypot(
    (positions[3 * b] as number) - (positions[3 * a] as number),
    (positions[3 * b + 1] as number) - (positions[3 * a + 1] as number),
    (positions[3 * b + 2] as number) - (positions[3 * a + 2] as number),
  );
}

/** Adds the members' weight to the loads: half at each end, over the unstretched length. */
export function addWeight(file: NetworkFile, nodes: Nodes, members: Members, complaints: Complaints): void {
  const down: FileVector = nodes.dimensions === 2 ? [0, -1] : [0, 0, -1];
  const given = file.gravity;
  const acceleration = Array.isArray(given) ? Math.hypot(...given) : given;
  if (Array.isArray(given) && given.length !== nodes.dimensions) {
    complaints.error(
      "gravity",
      undefined,
      `has ${given.length} components`,
      "Give one number for each direction.",
    );
    return;
  }
  const direction = Array.isArray(given) && acceleration ? given.map((c) => c / acceleration) : down;
  for (const [m, entry] of file.members.entries()) {
    const { massPerLength, weightPerLength } = entry;
    const where = `members[${m}]`;
    const memberId = members.ids[m];
    if (massPerLength !== undefined && weightPerLength !== undefined) {
      complaints.error(where, memberId, "has both a mass and a weight per length", "Give one of them.");
    } else if (massPerLength !== undefined && acceleration === undefined) {
      complaints.error(where, memberId, "has a mass per length, but the file no gravity", 'Add "gravity".');
    }
    const perLength = weightPerLength ?? (massPerLength ?? 0) * (acceleration ?? 0);
    const half = (perLength * (members.unstretched[m] as number)) / 2;
    for (const end of [0, 1]) {
      const node = members.ends[2 * m + end] as number;
      for (const [d, c] of direction.entries()) {
        nodes.loads[3 * node + d] = (nodes.loads[3 * node + d] as number) + half * c;
      }
    }
  }
}
