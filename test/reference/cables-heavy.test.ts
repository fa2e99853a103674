/** Cables that hang by their own weight, divided into straight parts whose weight is lumped at their ends. */
import { describe, expect, it } from "vitest";
import { solveEquilibrium } from "../../src/geometry/equilibrium.ts";
import type { Equilibrium } from "../../src/geometry/model.ts";
import { parseNetwork } from "../../src/geometry/network-file.ts";
import { at } from "./networks.ts";

interface Span {
  /** Where this part of the cable starts and ends, before anything is solved. */
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
  readonly unstretched: number;
  readonly parts: number;
}

/** A cable in the vertical plane, of spans one behind the other; `loads` at the joints between them by span number. */
function hang(
  spans: readonly Span[],
  EA: number,
  weightPerLength: number,
  loads: Record<number, number> = {},
): Equilibrium {
  const nodes: [number, number][] = [[...(spans[0] as Span).from]];
  const members: object[] = [];
  const joints: number[] = [];
  for (const { from, to, unstretched, parts } of spans) {
    for (let i = 1; i <= parts; i++) {
      members.push({ nodes: [nodes.length - 1, nodes.length], EA, L0: unstretched / parts, weightPerLength });
      nodes.push([from[0] + ((to[0] - from[0]) * i) / parts, from[1] + ((to[1] - from[1]) * i) / parts]);
    }
    joints.push(nodes.length - 1);
  }
  const parsed = parseNetwork({
    nodes,
    members,
    supports: [0, nodes.length - 1],
    loads: Object.entries(loads).map(([span, load]) => ({ node: joints[Number(span)], force: [0, load] })),
  });
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.problems));
  const result = solveEquilibrium(parsed.value.network);
  expect(result.converged).toBe(true);
  return result;
}

describe("a heavy elastic cable between level supports", () => {
  // Code_Aster, case SSNL114 (V6.02.114), repository ehmoussi/code_aster, commit
  // 34161d7955a653fc38bafe5de09903d3755dbba4, folder astest: span and unstressed length 325 m, EA 12.986 MN,
  // 2844.23 kg/m³, g 9.81; warmed by 39.26 K it is α ΔT = 2.3e-5·39.26 longer. Published tolerance 1e-3.
  // The elastic catenary was recalculated: −6.3521615 m at H 13 206.24 N, −8.1940504 m at H 10 234.24 N.
  it.each([
    [0, -6.352, -6.3521615, 13_206.24],
    [39.26, -8.195, -8.1940504, 10_234.24],
  ])("warmed by %d K, sags as published", (kelvin, published, catenary, pull) => {
    const area = 2.2783e-4;
    const unstretched = 325 * (1 + 2.3e-5 * kelvin);
    const weightPerLength = (2844.23 * area * 9.81 * 325) / unstretched;
    const parts = 64;
    const { positions, reactionsN } = hang(
      [{ from: [0, 0], to: [325, 0], unstretched, parts }],
      5.7e10 * area,
      weightPerLength,
    );
    const sag = at(positions, parts / 2)[1];
    expect(Math.abs(sag / published - 1)).toBeLessThan(1e-3);
    expect(Math.abs(sag / catenary - 1)).toBeLessThan(3e-4);
    expect(Math.abs(-(reactionsN[0] as number) / pull - 1)).toBeLessThan(3e-4);
  });
});

describe("an isolated heavy cable under a point load", () => {
  // Michalos & Birnstiel (1962), O'Brien & Francis (1964), Jayaraman & Knudson, Computers & Structures 14 (1981)
  // 325–333. Inputs and answer are from memory, not read: 1000 ft span, EA 0.85·19 000 kip, 3.16 lb/ft, unstressed
  // lengths 412.8837 and 613.0422 ft, 8 kip; (−2.819, −18.457) ft by elastic catenaries. Recalculated from those
  // inputs with two elastic catenaries: (−2.81943938, −18.45674689) ft, H 4.00058144 and 20.10719636 kip.
  const move = (parts: number): { move: [number, number]; pull: number } => {
    const spans: Span[] = [
      { from: [0, 0], to: [400, -96], unstretched: 412.8837, parts },
      { from: [400, -96], to: [1000, 0], unstretched: 613.0422, parts },
    ];
    const before = hang(spans, 0.85 * 19_000, 3.16e-3);
    const after = hang(spans, 0.85 * 19_000, 3.16e-3, { 0: -8 });
    const [x0, y0] = at(before.positions, parts);
    const [x1, y1] = at(after.positions, parts);
    return { move: [x1 - x0, y1 - y0], pull: -(after.reactionsN[0] as number) };
  };

  it("moves the loaded point as recalled, to the printed digits", () => {
    const { move: displacement, pull } = move(64);
    expect(displacement[0]).toBeCloseTo(-2.819, 3);
    expect(displacement[1]).toBeCloseTo(-18.457, 2);
    expect(Math.abs(pull / 20.10719636 - 1)).toBeLessThan(1e-4);
  });

  it("comes nearer to the catenaries fourfold when the parts are halved", () => {
    const error = (parts: number): number =>
      Math.hypot(move(parts).move[0] + 2.81943938, move(parts).move[1] + 18.45674689);
    const [coarse, middle, fine] = [8, 16, 32].map(error) as [number, number, number];
    expect(coarse / middle).toBeGreaterThan(3.5);
    expect(coarse / middle).toBeLessThan(4.5);
    expect(middle / fine).toBeGreaterThan(3.5);
    expect(middle / fine).toBeLessThan(4.5);
  });
});
