import { describe, expect, it } from "vitest";
import { analysePattern } from "../../../src/geometry/sparse/ldl.ts";
import { minimumDegreeOrder } from "../../../src/geometry/sparse/ordering.ts";
import { seeded } from "../../reference/networks.ts";
import { grid, neighboursOf, patternOf, randomNeighbours, reordered } from "./matrices.ts";

const isPermutation = (order: Int32Array, count: number): boolean =>
  order.length === count &&
  new Set(order).size === count &&
  Math.min(...order, 0) === 0 &&
  Math.max(...order) < count;

describe("the elimination order", () => {
  it("names every node once, for twenty random nets", () => {
    for (let seed = 1; seed <= 20; seed++) {
      const count = 5 + 4 * seed;
      const order = minimumDegreeOrder(randomNeighbours(count, seeded(seed)));
      expect(isPermutation(order, count)).toBe(true);
    }
  });

  it("takes a net that falls into pieces, a lonely node and an empty net", () => {
    expect([...minimumDegreeOrder([])]).toEqual([]);
    expect([...minimumDegreeOrder([[]])]).toEqual([0]);
    const order = minimumDegreeOrder([[1], [0], [], [4], [3]]);
    expect(isPermutation(order, 5)).toBe(true);
  });

  it("eliminates a cascade, which is a tree, without any fill", () => {
    // A lower line's top, two middles, four uppers: seven points and six lines, numbered root first (the worst way).
    const tree = [[1, 2], [0, 3, 4], [0, 5, 6], [1], [1], [2], [2]];
    const order = minimumDegreeOrder(tree);
    const place = new Map([...order].map((vertex, p) => [vertex, p]));
    // Without fill each point is eliminated when at most one of its neighbours is left.
    for (const [vertex, neighbours] of tree.entries()) {
      const later = neighbours.filter((n) => (place.get(n) as number) > (place.get(vertex) as number));
      expect(later.length).toBeLessThanOrEqual(1);
    }
  });

  it("keeps a hub with many lines for the end", () => {
    const spokes = 12;
    const star = [
      Array.from({ length: spokes }, (_, i) => i + 1),
      ...Array.from({ length: spokes }, () => [0]),
    ];
    const order = minimumDegreeOrder(star);
    expect([...order].indexOf(0)).toBeGreaterThanOrEqual(spokes - 1);
  });

  it("fills a 24 × 24 net far less than the natural order does", () => {
    const net = grid(24, 24);
    const natural = analysePattern(patternOf(net)).rows.length;
    const order = minimumDegreeOrder(neighboursOf(net));
    const ordered = analysePattern(patternOf(reordered(net, order))).rows.length;
    // Natural: about one band width a row, 24² · 24; measured 0.38 of it.
    expect(natural).toBeGreaterThan(12_000);
    expect(ordered).toBeLessThan(0.5 * natural);
  });
});
