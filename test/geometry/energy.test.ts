import { EigenvalueDecomposition, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { assembleTangent, energyAndGradient, memberForces } from "../../src/geometry/energy.ts";
import type { Network } from "../../src/geometry/model.ts";
import { analyseNetwork } from "../../src/geometry/structure.ts";
import { bareNetwork } from "../reference/networks.ts";
import { anyNetwork } from "./random-network.ts";

const SEEDS = [1, 2, 3, 4, 5, 6];
const STEP = 1e-6;

const actionsOf = (network: Network) => ({ unstretched: network.unstretched, loads: network.loads });

function gradientAt(network: Network, x: Float64Array): Float64Array {
  const gradient = new Float64Array(x.length);
  energyAndGradient(network, actionsOf(network), x, gradient);
  return gradient;
}

const moved = (x: Float64Array, i: number, by: number): Float64Array => {
  const out = Float64Array.from(x);
  out[i] = (out[i] as number) + by;
  return out;
};

/** Largest difference between a gradient and the energy's central differences, over the largest component. */
function gradientError(network: Network, gradient: Float64Array): number {
  const x = network.positions;
  const energy = (at: Float64Array) =>
    energyAndGradient(network, actionsOf(network), at, new Float64Array(x.length)).energy;
  let worst = 0;
  let scale = 0;
  for (let i = 0; i < x.length; i++) {
    const differenced = (energy(moved(x, i, STEP)) - energy(moved(x, i, -STEP))) / (2 * STEP);
    worst = Math.max(worst, Math.abs(differenced - (gradient[i] as number)));
    scale = Math.max(scale, Math.abs(gradient[i] as number));
  }
  return worst / scale;
}

/** The assembled tangent written densely, node by node. */
function denseTangent(network: Network, convex: boolean): Matrix {
  const structure = analyseNetwork(network);
  const { order, factor } = structure;
  const { starts, rows, size } = factor.pattern;
  const values = new Float64Array(9 * rows.length);
  assembleTangent(network, structure, actionsOf(network), network.positions, values, convex);
  const dense = Matrix.zeros(3 * size, 3 * size);
  for (let p = 0; p < size; p++)
    for (let q = starts[p] as number; q < (starts[p + 1] as number); q++) {
      const [earlier, later] = [order[rows[q] as number] as number, order[p] as number];
      for (let a = 0; a < 3; a++)
        for (let b = 0; b < 3; b++) {
          dense.set(3 * earlier + a, 3 * later + b, values[9 * q + 3 * a + b] as number);
          dense.set(3 * later + b, 3 * earlier + a, values[9 * q + 3 * a + b] as number);
        }
    }
  return dense;
}

describe("the potential of a network of lines, bars and bends", () => {
  it("has slack and taut lines, bars in tension and compression in the nets that it's checked with", () => {
    const net = anyNetwork(1);
    const forces = memberForces(net, net.unstretched, net.positions);
    const kinds = [...forces].map((force, m) => `${net.bars[m] ? "bar" : "line"} ${Math.sign(force)}`);
    for (const kind of ["line 0", "line 1", "bar 1", "bar -1"]) expect(kinds).toContain(kind);
  });

  it.each(SEEDS)("has the gradient that central differences of the energy give (net %i)", (seed) => {
    const net = anyNetwork(seed);
    expect(gradientError(net, gradientAt(net, net.positions))).toBeLessThan(1e-6);
  });

  it("would be caught with a gradient that is wrong in one component by a thousandth", () => {
    const net = anyNetwork(1);
    const corrupted = gradientAt(net, net.positions);
    const largest = corrupted.reduce(
      (best, g, i) => (Math.abs(g) > Math.abs(corrupted[best] as number) ? i : best),
      0,
    );
    corrupted[largest] = (corrupted[largest] as number) * 1.001;
    expect(gradientError(net, corrupted)).toBeGreaterThan(5e-4);
  });

  it.each(SEEDS)(
    "has the tangent that central differences of the gradient give at free coordinates (net %i)",
    (seed) => {
      const net = anyNetwork(seed);
      const tangent = denseTangent(net, false);
      let worst = 0;
      for (let j = 0; j < net.positions.length; j++) {
        if (net.fixed[j]) continue;
        const ahead = gradientAt(net, moved(net.positions, j, STEP));
        const behind = gradientAt(net, moved(net.positions, j, -STEP));
        for (let i = 0; i < net.positions.length; i++) {
          if (net.fixed[i]) continue;
          const differenced = ((ahead[i] as number) - (behind[i] as number)) / (2 * STEP);
          worst = Math.max(worst, Math.abs(differenced - tangent.get(i, j)));
        }
      }
      expect(worst / tangent.max()).toBeLessThan(1e-6);
    },
  );

  it("leaves held coordinates out of the tangent, uncoupled", () => {
    const net = anyNetwork(2);
    const tangent = denseTangent(net, false);
    const held = [...net.fixed.keys()].filter((i) => net.fixed[i]);
    expect(held.length).toBeGreaterThan(3);
    for (const i of held)
      for (let j = 0; j < net.positions.length; j++) {
        if (i === j) expect(tangent.get(i, i)).toBeGreaterThan(0);
        else expect(tangent.get(i, j)).toBe(0);
      }
  });

  it("never has a negative direction in its convex form, though a compressed bar gives the exact one some", () => {
    const net = bareNetwork({
      nodes: [{ position: [0, 0, 0], fixed: true }, { position: [0.8, 0, 0] }],
      members: [{ ends: [0, 1], stiffness: 1000, unstretched: 1, bar: true }],
    });
    const lowest = (convex: boolean, of: Network) =>
      Math.min(...new EigenvalueDecomposition(denseTangent(of, convex)).realEigenvalues);
    expect(lowest(false, net)).toBeCloseTo(-250, 8);
    expect(lowest(true, net)).toBeCloseTo(0, 8);
    for (const seed of SEEDS) expect(lowest(true, anyNetwork(seed))).toBeGreaterThan(-1e-8);
  });

  it("gives a line its tension EA (l − L0)/L0 and none when it's slack", () => {
    const net = bareNetwork({
      nodes: [{ position: [0, 0, 0] }, { position: [0, 3, 4] }],
      members: [
        { ends: [0, 1], stiffness: 40_000, unstretched: 4.99 },
        { ends: [0, 1], stiffness: 40_000, unstretched: 5.01 },
        { ends: [0, 1], stiffness: 40_000, unstretched: 5.01, bar: true },
      ],
    });
    const [taut, slack, bar] = memberForces(net, net.unstretched, net.positions);
    expect(taut).toBeCloseTo((40_000 * 0.01) / 4.99, 9);
    expect(slack).toBe(0);
    expect(bar).toBeCloseTo((-40_000 * 0.01) / 5.01, 9);
  });

  it("keeps the tangent finite for a bend whose end node has no weight", () => {
    const net = anyNetwork(3);
    const weights = Float64Array.from(net.bends.weights);
    weights[0] = 0;
    weights[4] = 0;
    const tangent = denseTangent({ ...net, bends: { ...net.bends, weights } }, false);
    expect(tangent.to1DArray().every(Number.isFinite)).toBe(true);
  });
});
