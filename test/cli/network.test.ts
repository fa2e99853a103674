import { describe, expect, it } from "vitest";
import type { NetworkResult } from "../../src/geometry/network-result.ts";
import { run } from "./io.ts";

/** Two lines of 2 m, one weight between them (closed form: repository JonasFeron/Muscle, dr/test_dr_2cables.py). */
const EA = 70_000 * Math.PI * 16;
const twoLines = {
  nodes: [
    { id: "west", position: [-2, 0, 0], fixed: true },
    { id: "mid", position: [0, 0, 0], fixed: ["y"], load: [0, 0, -888.808] },
    { id: "east", position: [2, 0, 0], fixed: "all" },
  ],
  members: [
    { id: "w", nodes: ["west", "mid"], EA, unstretched: 2 },
    { id: "e", nodes: ["mid", "east"], EA, unstretched: 2 },
  ],
};

async function solve(
  network: unknown,
  ...options: string[]
): Promise<{ code: number; err: string; result: NetworkResult }> {
  const { code, out, err } = await run(["network", "net.json", ...options], {
    "net.json": JSON.stringify(network),
  });
  return { code, err, result: JSON.parse(out) as NetworkResult };
}

describe("linewright network", () => {
  it("tells positions, tensions, reactions and balance by the file's own names", async () => {
    const { code, err, result } = await solve(twoLines);
    expect([code, err]).toEqual([0, ""]);
    expect(result.converged).toBe(true);
    expect(result.positions.mid?.[2]).toBeCloseTo(-0.12655440967738, 9);
    expect(result.displacements.mid?.[2]).toBeCloseTo(-0.12655440967738, 9);
    expect(result.members.map((member) => [member.id, member.nodes, member.slack])).toEqual([
      ["w", ["west", "mid"], false],
      ["e", ["mid", "east"], false],
    ]);
    expect(result.members[0]?.tension).toBeCloseTo(7037.175712278, 4);
    expect(result.members[0]?.strain).toBeCloseTo(7037.175712278 / EA, 9);
    expect(result.reactions.west?.[2]).toBeCloseTo(444.404, 4);
    expect(Object.keys(result.reactions)).toEqual(["west", "mid", "east"]);
    expect(result.balance.largestForce).toBeLessThan(1e-4);
    expect(result.balance.largestMoment).toBeLessThan(1e-4);
  });

  it("takes every spelling of the same network for the same", async () => {
    const inPlane = {
      nodes: [[-2, 0], { x: 0, y: 0 }, [2, 0]],
      members: [
        { from: 0, to: "1", E: 70_000, A: Math.PI * 16, kind: "cable" },
        { nodes: [1, 2], ea: EA, L0: 2, kind: "tension-only" },
      ],
      supports: [0, { node: 2 }],
      loads: { 1: [0, -888.808] },
    };
    const stood = {
      format: "linewright-network",
      version: 1,
      units: "m, N",
      nodes: [[-2, 0, 0], [0, 0, 0], { id: 2, x: 2, y: 0, z: 0, fixed: [true, true, true] }],
      members: [
        { nodes: [0, 1], EA, unstretchedLength: 2, kind: "bar" },
        { nodes: [1, 2], EA, pretension: 0, kind: "truss" },
      ],
      supports: [0, { node: 1, fixed: ["y"] }],
      loads: [
        { node: 1, force: [0, 0, -800] },
        { node: 1, force: [0, 0, -88.808] },
      ],
    };
    const plane = (await solve(inPlane)).result;
    expect(plane.positions["1"]).toHaveLength(2);
    expect(plane.positions["1"]?.[1]).toBeCloseTo(-0.12655440967738, 9);
    expect(plane.balance.moment).toHaveLength(1);
    const { result } = await solve(stood);
    expect(result.positions["1"]?.[2]).toBeCloseTo(-0.12655440967738, 9);
    expect(result.members.map((member) => member.id)).toEqual([0, 1]);
  });

  it("doesn't care for the units, as long as they agree", async () => {
    const scaled = {
      nodes: twoLines.nodes.map((node) => ({ ...node, position: node.position.map((x) => 1000 * x) })),
      members: twoLines.members.map((member) => ({ ...member, unstretched: 2000 })),
    };
    const { result } = await solve(scaled);
    expect(result.positions.mid?.[2]).toBeCloseTo(-126.55440967738, 6);
    expect(result.members[0]?.tension).toBeCloseTo(7037.175712278, 4);
  });

  it("adds a load on the node to one in the list, and names a line that went slack", async () => {
    const { result } = await solve({
      nodes: [
        { position: [0, 0, 1], fixed: true },
        { position: [0, 0, 0], load: [0, 0, 4] },
        { position: [0, 0, -1], fixed: true },
      ],
      members: [
        { id: "upper", nodes: [0, 1], EA: 1000, L0: 1.2 },
        { id: "lower", nodes: [1, 2], EA: 1000 },
      ],
      loads: { 1: [0, 0, 6] },
    });
    expect(result.slack).toEqual(["upper"]);
    expect(result.members[0]?.tension).toBe(0);
    expect(result.members[1]?.tension).toBeCloseTo(10, 6);
    expect(result.reactions["2"]?.[2]).toBeCloseTo(-10, 6);
  });

  it("lumps a member's weight at its ends, by mass and gravity or by weight", async () => {
    const column = (member: object, top: object): object => ({
      nodes: [{ position: [0, 0, 0], fixed: true }, { position: [0, 0, -3] }],
      members: [{ nodes: [0, 1], EA: 1e6, L0: 3, ...member }],
      ...top,
    });
    for (const network of [
      column({ massPerLength: 0.2 }, { gravity: 10 }),
      column({ massPerLength: 0.2 }, { gravity: [0, 0, -10] }),
      column({ weightPerLength: 2 }, {}),
    ]) {
      const { result } = await solve(network);
      expect(result.members[0]?.tension).toBeCloseTo(3, 6);
      expect(result.reactions["0"]?.[2]).toBeCloseTo(6, 6);
    }
  });

  it("reads a pretension as the force at the positions given", async () => {
    const { result } = await solve({
      nodes: [
        [0, 0],
        [3, 4],
      ],
      members: [{ nodes: [0, 1], EA: 1000, pretension: 25 }],
      supports: [0, 1],
    });
    expect(result.members[0]?.tension).toBeCloseTo(25, 9);
    expect(result.members[0]?.unstretched).toBeCloseTo(5 / 1.025, 12);
  });

  it("says so and exits 1 when nothing holds the load", async () => {
    const { code, err, result } = await solve({
      nodes: [[0, 0, 0], { position: [1, 0, 0], fixed: ["y"], load: [0, 0, -1] }],
      members: [{ nodes: [0, 1], EA: 1000 }],
      supports: [{ node: 0, fixed: ["x", "y"] }],
    });
    expect(code).toBe(1);
    expect(result.converged).toBe(false);
    expect(err).toMatch(/no equilibrium/);
  });

  const broken: readonly [string, (network: typeof twoLines) => unknown, RegExp][] = [
    [
      "an unknown node",
      (n) => ({ ...n, members: [{ nodes: ["west", "north"], EA: 1 }] }),
      /"north" that isn’t listed/,
    ],
    [
      "two nodes of one name",
      (n) => ({ ...n, nodes: [...n.nodes, n.nodes[0]] }),
      /"west" is taken by nodes\[0\]/,
    ],
    [
      '1 and "1" both as names',
      (n) => ({ ...n, nodes: [...n.nodes, { id: 1, x: 0, y: 0, z: 1 }, { id: "1", x: 0, y: 0, z: 2 }] }),
      /"1" is taken/,
    ],
    [
      "two members of one name",
      (n) => ({ ...n, members: [n.members[0], n.members[0]] }),
      /"w" is taken by members\[0\]/,
    ],
    [
      "a member that ends where it starts",
      (n) => ({ ...n, members: [{ nodes: ["mid", "mid"], EA: 1 }] }),
      /"mid" to itself/,
    ],
    ["no stiffness", (n) => ({ ...n, members: [{ nodes: ["west", "mid"] }] }), /no full stiffness/],
    [
      "a stiffness in two ways",
      (n) => ({ ...n, members: [{ nodes: ["west", "mid"], EA: 1, E: 1, A: 1 }] }),
      /more than one way/,
    ],
    [
      "a stiffness of zero",
      (n) => ({ ...n, members: [{ nodes: ["west", "mid"], EA: 0 }] }),
      /stiffness EA of 0/,
    ],
    [
      "a length of zero",
      (n) => ({ ...n, members: [{ nodes: ["west", "mid"], EA: 1, L0: 0 }] }),
      /unstretched length of 0/,
    ],
    [
      "a length below zero",
      (n) => ({ ...n, members: [{ nodes: ["west", "mid"], EA: 1, L0: -1 }] }),
      /unstretched length of -1/,
    ],
    [
      "a length and a pretension",
      (n) => ({ ...n, members: [{ nodes: ["west", "mid"], EA: 1, L0: 1, pretension: 1 }] }),
      /more than one way/,
    ],
    [
      "a line in compression at the start",
      (n) => ({ ...n, members: [{ nodes: ["west", "mid"], EA: 1, pretension: -1 }] }),
      /pretension of -1/,
    ],
    [
      "a misspelt key",
      (n) => ({ ...n, members: [{ nodes: ["west", "mid"], EA: 1, unstreched: 1 }] }),
      /"unstreched" isn’t known/,
    ],
    [
      "a misspelt key on a node",
      (n) => ({ ...n, nodes: [{ id: "west", position: [0, 0, 0], fixd: true }] }),
      /"fixd" isn’t known/,
    ],
    ["a coordinate that is a text", (n) => ({ ...n, nodes: [["a", 0, 0]] }), /is "a"; a number was expected/],
    [
      "no support",
      (n) => ({ ...n, nodes: n.nodes.map(({ id, position }) => ({ id, position })) }),
      /no node is held/,
    ],
    [
      "a part held nowhere",
      (n) => ({
        ...n,
        nodes: [...n.nodes, [5, 5, 5], [6, 5, 5]],
        members: [...n.members, { id: "adrift", nodes: [3, 4], EA: 1 }],
      }),
      /held nowhere/,
    ],
    [
      "a mass without gravity",
      (n) => ({ ...n, members: [{ nodes: ["west", "mid"], EA: 1, massPerLength: 1 }] }),
      /no gravity/,
    ],
    ["gravity that points nowhere", (n) => ({ ...n, gravity: -9.81 }), /gravity is -9.81/],
    [
      "a load on an unknown node",
      (n) => ({ ...n, loads: { north: [0, 0, 1] } }),
      /"north" that isn’t listed/,
    ],
    [
      "a load with too few components",
      (n) => ({ ...n, loads: [{ node: "mid", force: [0, 1] }] }),
      /2 components in a network of 3/,
    ],
    [
      "places of two and three numbers",
      (n) => ({ ...n, nodes: [...n.nodes, [1, 2]] }),
      /two coordinates where others have three/,
    ],
    ["no nodes", () => ({ nodes: [], members: [] }), /no nodes/],
    ["another format", (n) => ({ ...n, format: "linewright-plan" }), /format is "linewright-plan"/],
  ];
  it.each(broken)("refuses %s, and says so", async (_, breakIt, message) => {
    const { code, err, result } = await solve(breakIt(twoLines));
    expect(code).toBe(1);
    expect(err.replace(/\s+/g, " ")).toMatch(message);
    expect(result.converged).toBe(false);
  });

  it.each(["NaN", "Infinity", "1e999"])("refuses %s where a number belongs", async (word) => {
    const text = JSON.stringify(twoLines).replace("888.808", word);
    const { code, err } = await run(["network", "-"], {}, text);
    expect(code).toBe(1);
    expect(err).not.toBe("");
  });

  it("warns of a node that nothing joins, and solves the rest", async () => {
    const { code, err, result } = await solve({ ...twoLines, nodes: [...twoLines.nodes, [9, 9, 9]] });
    expect(code).toBe(0);
    expect(err).toMatch(/no member reaches this node/);
    expect(result.loose).toEqual([3]);
  });

  it("writes where it is told to, and carries its caution", async () => {
    const text = JSON.stringify(twoLines);
    const { code, out, written } = await run(["network", "net.json", "--out", "result.json"], {
      "net.json": text,
    });
    expect([code, out]).toEqual([0, ""]);
    expect(JSON.parse(written.get("result.json") ?? "")).toMatchObject({
      converged: true,
      caution: /no clearance/i,
    });
  });

  it("solves the example of its own help", async () => {
    const { out } = await run(["network", "--help"]);
    const example = /echo '([^']*)'/s.exec(out)?.[1] ?? "";
    const { code, out: solved } = await run(["network", "-"], {}, example);
    expect(code).toBe(0);
    expect(JSON.parse(solved)).toMatchObject({ converged: true });
  });
});
