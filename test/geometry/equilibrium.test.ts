import { describe, expect, it } from "vitest";
import { energyAndGradient } from "../../src/geometry/energy.ts";
import { solveEquilibrium } from "../../src/geometry/equilibrium.ts";
import type { Equilibrium, Network } from "../../src/geometry/model.ts";
import { analyseNetwork } from "../../src/geometry/structure.ts";
import { at, bareNetwork, seeded } from "../reference/networks.ts";
import { hangingNet } from "./random-network.ts";

const NET = hangingNet(7);
const SOLVED = solveEquilibrium(NET);
const COUNT = NET.positions.length / 3;
const MEMBERS = NET.unstretched.length;
const largestOf = (values: Float64Array): number =>
  values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
const STRONGEST = largestOf(SOLVED.tensionsN);

function expectClose(found: ArrayLike<number>, expected: ArrayLike<number>, tolerance: number): void {
  expect(found.length).toBe(expected.length);
  let worst = 0;
  for (let i = 0; i < found.length; i++)
    worst = Math.max(worst, Math.abs((found[i] as number) - (expected[i] as number)));
  expect(worst).toBeLessThan(tolerance);
}

/** Every point of the net taken through a map, loads through its linear part. */
function transformed(net: Network, map: (v: [number, number, number]) => [number, number, number]): Network {
  const through = (values: Float64Array): Float64Array => {
    const out = new Float64Array(values.length);
    for (let n = 0; n < values.length / 3; n++) out.set(map(at(values, n)), 3 * n);
    return out;
  };
  return { ...net, positions: through(net.positions), loads: through(net.loads) };
}

describe("a net of lines with weights at its knots", () => {
  it("comes to rest with some lines slack and the rest in tension", () => {
    expect(SOLVED.converged).toBe(true);
    expect(SOLVED.slack.length).toBeGreaterThan(3);
    expect(SOLVED.slack.length).toBeLessThan(MEMBERS / 2);
    expect(SOLVED.loose).toEqual([]);
    for (const m of SOLVED.slack) expect(SOLVED.tensionsN[m]).toBe(0);
    expect(Math.min(...SOLVED.tensionsN)).toBe(0);
  });

  it("is in balance at every knot by its own tensions, to a millionth of the largest load", () => {
    const balance = Float64Array.from(NET.loads);
    for (let m = 0; m < MEMBERS; m++) {
      const [a, b] = [NET.ends[2 * m] as number, NET.ends[2 * m + 1] as number];
      const [pa, pb] = [at(SOLVED.positions, a), at(SOLVED.positions, b)];
      const length = Math.hypot(pb[0] - pa[0], pb[1] - pa[1], pb[2] - pa[2]);
      for (let axis = 0; axis < 3; axis++) {
        const pull =
          ((SOLVED.tensionsN[m] as number) * ((pb[axis] as number) - (pa[axis] as number))) / length;
        balance[3 * a + axis] = (balance[3 * a + axis] as number) + pull;
        balance[3 * b + axis] = (balance[3 * b + axis] as number) - pull;
      }
    }
    for (let i = 0; i < balance.length; i++) {
      if (NET.fixed[i]) expect(balance[i]).toBeCloseTo(-(SOLVED.reactionsN[i] as number), 5);
      else expect(Math.abs(balance[i] as number)).toBeLessThan(1e-6 * largestOf(NET.loads));
    }
  });

  it("has the same tensions from any start, as convexity says", () => {
    const random = seeded(3);
    const structure = analyseNetwork(NET);
    for (let trial = 0; trial < 25; trial++) {
      const spread = trial < 12 ? 1 : 6;
      const start = NET.positions.map((value) => value + spread * (2 * random() - 1));
      const again = solveEquilibrium(NET, { start, structure });
      expect(again.converged).toBe(true);
      expectClose(again.tensionsN, SOLVED.tensionsN, 1e-6 * STRONGEST);
      expect(again.slack).toEqual(SOLVED.slack);
    }
  });

  it("doesn't depend on how its knots and lines are numbered, nor on which end is named first", () => {
    const random = seeded(11);
    const shuffled = (count: number): number[] => {
      const order = Array.from({ length: count }, (_, i) => i);
      for (let i = count - 1; i > 0; i--) {
        const j = Math.floor(random() * (i + 1));
        [order[i], order[j]] = [order[j] as number, order[i] as number];
      }
      return order;
    };
    const nodes = shuffled(COUNT);
    const lines = shuffled(MEMBERS);
    const newNumber = new Map(nodes.map((old, now) => [old, now]));
    const moved = <T extends Float64Array | Uint8Array>(values: T): T => {
      const out = values.slice() as T;
      nodes.forEach((old, now) => {
        for (let axis = 0; axis < 3; axis++) out[3 * now + axis] = values[3 * old + axis] as number;
      });
      return out;
    };
    const renumbered: Network = {
      ...NET,
      positions: moved(NET.positions),
      fixed: moved(NET.fixed),
      loads: moved(NET.loads),
      ends: Int32Array.from(
        lines.flatMap((m) => {
          const pair = [NET.ends[2 * m] as number, NET.ends[2 * m + 1] as number].map(
            (n) => newNumber.get(n) as number,
          );
          return random() < 0.5 ? pair : pair.reverse();
        }),
      ),
      unstretched: Float64Array.from(lines, (m) => NET.unstretched[m] as number),
      stiffness: Float64Array.from(lines, (m) => NET.stiffness[m] as number),
      bars: Uint8Array.from(lines, (m) => NET.bars[m] as number),
    };
    const again = solveEquilibrium(renumbered);
    expectClose(again.positions, moved(SOLVED.positions), 1e-7);
    expectClose(
      again.tensionsN,
      lines.map((m) => SOLVED.tensionsN[m] as number),
      1e-6 * STRONGEST,
    );
  });

  it("has the mirror image as its solution when it's mirrored left to right", () => {
    const mirror = ([x, y, z]: [number, number, number]): [number, number, number] => [x, -y, z];
    const again = solveEquilibrium(transformed(NET, mirror));
    const expected = transformed({ ...NET, positions: SOLVED.positions }, mirror).positions;
    expectClose(again.positions, expected, 1e-7);
    expectClose(again.tensionsN, SOLVED.tensionsN, 1e-6 * STRONGEST);
  });

  it("turns with the net and its loads when both are turned", () => {
    const [c, s] = [Math.cos(0.7), Math.sin(0.7)];
    const [c2, s2] = [Math.cos(-1.1), Math.sin(-1.1)];
    const turn = ([x, y, z]: [number, number, number]): [number, number, number] => {
      const [u, v] = [c * x - s * y, s * x + c * y];
      return [u, c2 * v - s2 * z, s2 * v + c2 * z];
    };
    const again = solveEquilibrium(transformed(NET, turn));
    expectClose(again.positions, transformed({ ...NET, positions: SOLVED.positions }, turn).positions, 1e-7);
    expectClose(again.tensionsN, SOLVED.tensionsN, 1e-6 * STRONGEST);
  });

  it("scales: three times the size and seven times the loads and stiffness give seven times the tensions", () => {
    const scaled: Network = {
      ...NET,
      positions: NET.positions.map((value) => 3 * value),
      unstretched: NET.unstretched.map((value) => 3 * value),
      loads: NET.loads.map((value) => 7 * value),
      stiffness: NET.stiffness.map((value) => 7 * value),
    };
    const again = solveEquilibrium(scaled);
    expectClose(
      again.positions,
      SOLVED.positions.map((value) => 3 * value),
      3e-7,
    );
    expectClose(
      again.tensionsN,
      SOLVED.tensionsN.map((value) => 7 * value),
      7e-6 * STRONGEST,
    );
  });

  it("lies lower in potential than any of two hundred states beside it", () => {
    const random = seeded(5);
    const energyAt = (x: Float64Array) => energyAndGradient(NET, NET, x, new Float64Array(x.length)).energy;
    expect(energyAt(SOLVED.positions)).toBeCloseTo(SOLVED.energyJ, 9);
    for (let trial = 0; trial < 200; trial++) {
      const size = 10 ** (-3 + 3 * random());
      const beside = SOLVED.positions.map((value, i) =>
        NET.fixed[i] ? value : value + size * (2 * random() - 1),
      );
      expect(energyAt(beside)).toBeGreaterThan(SOLVED.energyJ);
    }
  });

  it("is carried by its posts: reactions and loads add up to nothing, and so do their moments", () => {
    const force = [0, 0, 0];
    const moment = [0, 0, 0];
    for (let n = 0; n < COUNT; n++) {
      const [x, y, z] = at(SOLVED.positions, n);
      const [fx, fy, fz] = at(NET.loads, n).map(
        (load, axis) => load + (SOLVED.reactionsN[3 * n + axis] as number),
      ) as [number, number, number];
      const terms = [y * fz - z * fy, z * fx - x * fz, x * fy - y * fx];
      [fx, fy, fz].forEach((value, axis) => {
        force[axis] = (force[axis] as number) + value;
        moment[axis] = (moment[axis] as number) + (terms[axis] as number);
      });
    }
    for (const sum of [...force, ...moment]) expect(Math.abs(sum)).toBeLessThan(1e-5);
    for (let i = 0; i < NET.fixed.length; i++) if (!NET.fixed[i]) expect(SOLVED.reactionsN[i]).toBe(0);
  });

  it("needs no step from its own solution", () => {
    expect(solveEquilibrium(NET, { start: SOLVED.positions }).iterations).toBeLessThanOrEqual(1);
  });
});

describe("nodes that nothing holds", () => {
  const post = { position: [0, 0, 0] as const, fixed: true };
  const line = { ends: [0, 1] as const, stiffness: 20_000, unstretched: 1 };

  it("are named: one that hangs between slack lines, one without any line", () => {
    const net = bareNetwork({
      nodes: [
        post,
        { position: [0, 0, -1.2], load: [0, 0, -10] },
        { position: [1, 0, 0] },
        { position: [2, 0, 0], fixed: true },
        { position: [9, 9, 9] },
      ],
      members: [
        line,
        { ends: [0, 2], stiffness: 20_000, unstretched: 1.5 },
        { ends: [2, 3], stiffness: 20_000, unstretched: 1.5 },
      ],
    });
    const result = solveEquilibrium(net);
    expect(result.converged).toBe(true);
    expect(result.loose).toEqual([2, 4]);
    expect(result.slack).toEqual([1, 2]);
    expect(result.tensionsN[0]).toBeCloseTo(10, 6);
  });

  it("never pass for balanced where a load pulls at them", () => {
    for (const load of [1e-3, 1, 1e4]) {
      const net = bareNetwork({
        nodes: [
          post,
          { position: [0, 0, -1], load: [0, 0, -5] },
          { position: [1, 1, 1], load: [0, load, 0] },
        ],
        members: [line],
      });
      const result = solveEquilibrium(net);
      expect(result.converged).toBe(false);
      expect(result.loose).toContain(2);
      expect(result.residualN).toBeGreaterThan(0.9 * load);
      expect([...result.positions].every(Number.isFinite)).toBe(true);
    }
  });

  it("are not named where a loaded line holds them: a weight on a single line hangs straight down", () => {
    const net = bareNetwork({
      nodes: [post, { position: [0.6, 0.3, 0.2], load: [0, 0, -5] }],
      members: [line],
    });
    const result = solveEquilibrium(net);
    expect(result.converged).toBe(true);
    expect(result.loose).toEqual([]);
    const [x, y, z] = at(result.positions, 1);
    expect(Math.hypot(x, y)).toBeLessThan(1e-8);
    expect(z).toBeCloseTo(-1 - 5 / 20_000, 9);
  });

  it("stand where the network puts them if held, whatever the start says", () => {
    const start = NET.positions.map((value) => value + 0.3);
    const again = solveEquilibrium(NET, { start });
    for (let i = 0; i < NET.fixed.length; i++)
      if (NET.fixed[i]) expect(again.positions[i]).toBe(NET.positions[i]);
  });
});

describe("a caller's mistake", () => {
  const withLength = (value: number): Network => ({ ...NET, unstretched: NET.unstretched.with(4, value) });
  const attempt =
    (net: Network, options = {}): (() => Equilibrium) =>
    () =>
      solveEquilibrium(net, options);

  it("is thrown back with the value found", () => {
    expect(attempt(withLength(-0.25))).toThrow(/member 4 is -0.25/);
    expect(attempt(withLength(Number.NaN))).toThrow(/member 4 is NaN/);
    expect(attempt({ ...NET, stiffness: NET.stiffness.with(2, 0) })).toThrow(/EA of member 2 is 0/);
    expect(attempt({ ...NET, loads: NET.loads.with(7, Number.POSITIVE_INFINITY) })).toThrow(
      /load of node 2 is Infinity/,
    );
    expect(attempt(NET, { start: NET.positions.with(3, Number.NaN) })).toThrow(/position of node 1 is NaN/);
    expect(attempt(NET, { loads: new Float64Array(5) })).toThrow(/loads has 5 entries, expected 75/);
    expect(attempt(NET, { unstretched: new Float64Array(3) })).toThrow(
      /unstretched has 3 entries, expected 40/,
    );
    for (const wrong of [withLength(0), { ...NET, bars: new Uint8Array(2) }])
      expect(attempt(wrong)).toThrow(RangeError);
  });

  it("is thrown back where a member joins a node with itself or names one that isn't there", () => {
    expect(attempt({ ...NET, ends: NET.ends.with(1, NET.ends[0] as number) })).toThrow(
      /joins node 0 with itself|joins node \d+ with itself/,
    );
    expect(attempt({ ...NET, ends: NET.ends.with(1, 99) })).toThrow(/names node 99, but there are 25 nodes/);
  });
});
