/** Bare networks written down briefly, for the tests that hold the solver against published nets. */
import type { Network } from "../../src/geometry/model.ts";

type Triple = readonly [number, number, number];

export interface Brief {
  readonly nodes: readonly {
    readonly position: Triple;
    /** Held directions: all, or some of "xyz". */
    readonly fixed?: boolean | string;
    readonly load?: Triple;
  }[];
  readonly members: readonly {
    readonly ends: readonly [number, number];
    readonly stiffness: number;
    /** Left out: the distance between the start positions. */
    readonly unstretched?: number;
    readonly bar?: boolean;
  }[];
}

export function bareNetwork({ nodes, members }: Brief): Network {
  const positions = Float64Array.from(nodes.flatMap((node) => [...node.position]));
  const held = (fixed: boolean | string | undefined, axis: string): number =>
    fixed === true || (typeof fixed === "string" && fixed.includes(axis)) ? 1 : 0;
  const distance = ([a, b]: readonly [number, number]): number =>
    Math.hypot(...[0, 1, 2].map((d) => (positions[3 * b + d] as number) - (positions[3 * a + d] as number)));
  const none = new Float64Array(0);
  return {
    positions,
    fixed: Uint8Array.from(nodes.flatMap((node) => [..."xyz"].map((axis) => held(node.fixed, axis)))),
    loads: Float64Array.from(nodes.flatMap((node) => [...(node.load ?? [0, 0, 0])])),
    ends: Int32Array.from(members.flatMap((member) => [...member.ends])),
    unstretched: Float64Array.from(members.map((member) => member.unstretched ?? distance(member.ends))),
    stiffness: Float64Array.from(members.map((member) => member.stiffness)),
    bars: Uint8Array.from(members.map((member) => (member.bar ? 1 : 0))),
    bends: { nodes: new Int32Array(0), weights: none, directions: none, rest: none, stiffness: none },
  };
}

/** A node's solved position. */
export function at(positions: Float64Array, node: number): [number, number, number] {
  return [
    positions[3 * node] as number,
    positions[3 * node + 1] as number,
    positions[3 * node + 2] as number,
  ];
}

/** Random numbers that are the same in every run: mulberry32, uniform in [0, 1). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
