/** Random networks: lines (some slack), bars, bends, held coordinates. For derivative checks and invariances. */
import type { Network } from "../../src/geometry/model.ts";
import { bareNetwork, seeded } from "../reference/networks.ts";

/** No equilibrium meant: anything goes, so that every term of the energy is at work. */
export function anyNetwork(seed: number): Network {
  const random = seeded(seed);
  const signed = (): number => 2 * random() - 1;
  const count = 14;
  const points = Array.from({ length: count }, () => [2 * signed(), 2 * signed(), 2 * signed()] as const);
  const members = Array.from({ length: 34 }, (_, m) => {
    const a = m < count - 1 ? m : Math.floor(random() * count);
    let b = m < count - 1 ? m + 1 : Math.floor(random() * count);
    if (a === b) b = (a + 1) % count;
    const [pa, pb] = [points[a], points[b]] as [readonly number[], readonly number[]];
    const distance = Math.hypot(...pa.map((value, d) => value - (pb[d] as number)));
    return {
      ends: [a, b] as const,
      stiffness: 500 + 5000 * random(),
      // From a third shorter to a third longer than the distance: about half of the lines are slack.
      unstretched: distance * (0.67 + 0.66 * random()),
      bar: random() < 0.3,
    };
  });
  const net = bareNetwork({
    nodes: points.map((position) => ({
      position,
      fixed: ["x", "y", "z"].filter(() => random() < 0.15).join(""),
      load: [50 * signed(), 50 * signed(), 50 * signed()] as const,
    })),
    members,
  });
  const bends = 9;
  const nodes = new Int32Array(3 * bends);
  const directions = new Float64Array(3 * bends);
  for (let b = 0; b < bends; b++) {
    const first = Math.floor(random() * (count - 2));
    nodes.set([first, first + 1, first + 2], 3 * b);
    const d = [signed(), signed(), signed()];
    directions.set(
      d.map((value) => value / Math.hypot(...d)),
      3 * b,
    );
  }
  return {
    ...net,
    bends: {
      nodes,
      directions,
      weights: Float64Array.from({ length: 3 * bends }, () => 3 * signed()),
      rest: Float64Array.from({ length: bends }, signed),
      stiffness: Float64Array.from({ length: bends }, () => 20 * random()),
    },
  };
}

/**
 * A net of lines hung between eight posts of different heights, weights at its knots, about a third of the lines so long
 * that they hang slack. Lines only, so its tensions are unique.
 */
export function hangingNet(seed: number, size = 5): Network {
  const random = seeded(seed);
  const at = (i: number, j: number): number => i * size + j;
  const last = size - 1;
  const middle = Math.floor(size / 2);
  const isPost = (i: number, j: number): boolean =>
    (i === 0 || i === last || i === middle) &&
    (j === 0 || j === last || j === middle) &&
    !(i === middle && j === middle);
  const nodes = Array.from({ length: size * size }, (_, n) => {
    const [i, j] = [Math.floor(n / size), n % size];
    const post = isPost(i, j);
    return {
      position: [i + 0.2 * random(), j + 0.2 * random(), post ? random() : 0.5] as [number, number, number],
      fixed: post,
      load: (post ? [0, 0, 0] : [4 * random() - 2, 4 * random() - 2, -5 - 20 * random()]) as [
        number,
        number,
        number,
      ],
    };
  });
  const members: { ends: [number, number]; stiffness: number; unstretched: number }[] = [];
  const join = (a: number, b: number): void => {
    const [pa, pb] = [nodes[a], nodes[b]] as [(typeof nodes)[number], (typeof nodes)[number]];
    const distance = Math.hypot(...pa.position.map((value, d) => value - (pb.position[d] as number)));
    const slackOne = random() < 0.35;
    members.push({
      ends: [a, b],
      stiffness: 8000 + 30_000 * random(),
      unstretched: distance * (slackOne ? 1.9 : 0.99 + 0.08 * random()),
    });
  };
  for (let i = 0; i < size; i++)
    for (let j = 0; j < size; j++) {
      if (i > 0) join(at(i - 1, j), at(i, j));
      if (j > 0) join(at(i, j - 1), at(i, j));
    }
  return bareNetwork({ nodes, members });
}
