/** The members of a network file: what they join, how stiff and how long they are, what they weigh. */
import { say } from "../words/index.ts";
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
  if (count === 0)
    complaints.error("members", undefined, say("geometry.members.none"), say("geometry.members.none.fix"));
  for (const [m, entry] of file.members.entries()) {
    const memberId = entry.id ?? m;
    const where = `members[${m}]`;
    ids.push(memberId);
    const key = String(memberId);
    if (taken.has(key)) {
      complaints.error(
        where,
        memberId,
        say("geometry.members.taken", { id: key, place: taken.get(key) ?? 0 }),
        say("geometry.members.taken.fix"),
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
      complaints.error(where, memberId, say("geometry.members.point"), say("geometry.members.point.fix"));
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
      entry.nodes === undefined ? say("geometry.members.ends") : say("geometry.members.ends.both"),
      say("geometry.members.ends.fix"),
    );
    return undefined;
  }
  const named = entry.nodes ?? (pair as readonly [NetworkId, NetworkId]);
  const ends = named.map((name) => {
    const node = nodes.index.get(String(name));
    if (node === undefined) {
      complaints.error(where, memberId, say("geometry.members.node", { id: name }), say("geometry.node.fix"));
    }
    return node;
  });
  const [a, b] = ends;
  if (a === undefined || b === undefined) return undefined;
  if (a === b) {
    complaints.error(
      where,
      memberId,
      say("geometry.members.itself", { id: named[0] }),
      say("geometry.members.itself.fix"),
    );
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
      forms.length > 1 ? say("geometry.members.stiffness.many") : say("geometry.members.stiffness.none"),
      say("geometry.members.stiffness.form"),
    );
    return undefined;
  }
  const stiffness = forms[0] as number;
  if (!(stiffness > 0) || !Number.isFinite(stiffness) || (entry.E ?? 1) < 0) {
    complaints.error(
      where,
      memberId,
      say("geometry.members.stiffness.value", { value: stiffness }),
      say("geometry.members.stiffness.fix"),
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
      say("geometry.members.length.many"),
      say("geometry.members.length.form"),
    );
    return undefined;
  }
  if (entry.pretension !== undefined) {
    const least = BARS.includes(entry.kind) ? -stiffness : 0;
    if (entry.pretension < least || entry.pretension === -stiffness) {
      complaints.error(
        where,
        memberId,
        say("geometry.members.pretension", { value: entry.pretension }),
        say("geometry.members.pretension.fix"),
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
        ? say("geometry.members.length.value", { value: length })
        : say("geometry.members.length.none"),
      say("geometry.members.length.fix"),
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
      say("geometry.gravity.components", { count: given.length }),
      say("geometry.components.fix"),
    );
    return;
  }
  const direction = Array.isArray(given) && acceleration ? given.map((c) => c / acceleration) : down;
  for (const [m, entry] of file.members.entries()) {
    const { massPerLength, weightPerLength } = entry;
    const where = `members[${m}]`;
    const memberId = members.ids[m];
    if (massPerLength !== undefined && weightPerLength !== undefined) {
      complaints.error(
        where,
        memberId,
        say("geometry.members.mass.both"),
        say("geometry.members.mass.both.fix"),
      );
    } else if (massPerLength !== undefined && acceleration === undefined) {
      complaints.error(
        where,
        memberId,
        say("geometry.members.mass.gravity"),
        say("geometry.members.mass.gravity.fix"),
      );
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
