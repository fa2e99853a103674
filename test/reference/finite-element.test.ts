/**
 * The solver on a full wing, held against two programs that share no code with it: CalculiX CrunchiX 2.20 (a
 * finite-element program) and SciPy 1.10.1 (a general minimiser on the potential, written anew in Python).
 * Scripts, versions and options: test/fixtures/finite-element/README.md.
 *
 * All three have the same law for every member and every bend, engineering strain on the unstretched length, so no
 * difference of strain measure is left to allow for. Found: positions alike to the fixtures' ninth decimal of a metre,
 * forces to 1e-7 N. Asked for: what rounding may do in the softest direction of the wing (0.5 N/m), a hundred times
 * over, and still five hundred times less than anyone can measure on a line.
 */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { type EquilibriumOptions, solveEquilibrium } from "../../src/geometry/equilibrium.ts";
import type { AttachedRib, Equilibrium, Network, RibChange, WingModel } from "../../src/geometry/model.ts";
import { profileChange } from "../../src/geometry/profile.ts";

/** 0.0001 mm. */
const SAME_PLACE_M = 1e-7;
/** 3e-8 of the largest tension, which is 294 N. */
const SAME_FORCE_N = 1e-5;
/** Over the shortest distance between rows at the tip, SAME_PLACE_M turns a rib by less than this. */
const SAME_INCIDENCE_DEG = 5e-5;
/** CalculiX prints reactions, of up to 563 N, in seven digits. */
const SAME_REACTION_N = 1e-4;

type Triple = readonly [number, number, number];
const STATES = ["specified", "measured", "oneLoop"] as const;
type State = (typeof STATES)[number];

interface Input {
  readonly nodes: readonly {
    readonly name: string;
    readonly kind: string;
    readonly drawn: Triple;
    readonly load: Triple;
    readonly held: boolean;
  }[];
  readonly members: readonly {
    readonly name: string;
    readonly ends: readonly [number, number];
    readonly EA: number;
    readonly bar: boolean;
  }[];
  readonly unstretched: Readonly<Record<State, readonly number[]>>;
  readonly bends: readonly {
    readonly nodes: Triple;
    readonly weights: Triple;
    readonly direction: Triple;
    readonly rest: number;
    readonly stiffness: number;
  }[];
  readonly ribs: readonly {
    readonly side: "left" | "right";
    readonly rib: number;
    readonly chord: number;
    readonly normal: Triple;
    readonly tabs: readonly { readonly node: number; readonly chordFraction: number }[];
  }[];
}

interface Solved {
  readonly positions: readonly Triple[];
  readonly forces: readonly number[];
}

interface CalculixSolved extends Solved {
  readonly grounding: readonly number[];
  readonly lastRunMoved: number;
  readonly outOfBalanceAsPrintedAtNodesWithoutBends: number;
  readonly largestForceAgainstOwnEnergy: number;
  readonly reactions: Readonly<Record<string, Triple>>;
}

interface ScipySolved extends Solved {
  readonly outOfBalance: number;
  readonly lowestEigenvalueOfHessian: number;
}

interface Answer<S> {
  readonly program: string;
  readonly states: Readonly<Record<State, S>>;
}

function fixture<T>(file: string): T {
  return JSON.parse(readFileSync(new URL(`../fixtures/finite-element/${file}`, import.meta.url), "utf8"));
}

const input = fixture<Input>("input.json");
const calculix = fixture<Answer<CalculixSolved>>("answer-calculix.json");
const scipy = fixture<Answer<ScipySolved>>("answer-scipy.json");

const network: Network = {
  positions: Float64Array.from(input.nodes.flatMap((node) => node.drawn)),
  fixed: Uint8Array.from(input.nodes.flatMap((node) => Array<number>(3).fill(node.held ? 1 : 0))),
  loads: Float64Array.from(input.nodes.flatMap((node) => node.load)),
  ends: Int32Array.from(input.members.flatMap((member) => member.ends)),
  unstretched: Float64Array.from(input.unstretched.specified),
  stiffness: Float64Array.from(input.members, (member) => member.EA),
  bars: Uint8Array.from(input.members, (member) => (member.bar ? 1 : 0)),
  bends: {
    nodes: Int32Array.from(input.bends.flatMap((bend) => bend.nodes)),
    weights: Float64Array.from(input.bends.flatMap((bend) => bend.weights)),
    directions: Float64Array.from(input.bends.flatMap((bend) => bend.direction)),
    rest: Float64Array.from(input.bends, (bend) => bend.rest),
    stiffness: Float64Array.from(input.bends, (bend) => bend.stiffness),
  },
};

function solve(state: State, options: EquilibriumOptions = {}, changed: Network = network): Equilibrium {
  const result = solveEquilibrium(changed, {
    unstretched: Float64Array.from(input.unstretched[state]),
    ...options,
  });
  expect(result.converged).toBe(true);
  return result;
}

const ours = Object.fromEntries(STATES.map((state) => [state, solve(state)])) as Record<State, Equilibrium>;

/** Distance between the two places of the node that differs most [m]. */
function farthestApart(positions: Float64Array, answer: Solved): number {
  return Math.max(
    ...answer.positions.map((place, n) =>
      Math.hypot(...place.map((x, axis) => x - (positions[3 * n + axis] as number))),
    ),
  );
}

function largestForceDifference(tensions: Float64Array, answer: Solved): number {
  return Math.max(...answer.forces.map((force, m) => Math.abs(force - (tensions[m] as number))));
}

/** The ribs' changes between two shapes; only ribs and positions are needed for it. */
function changes(from: Float64Array, to: Float64Array): RibChange[] {
  const ribs = input.ribs.map(
    (rib) =>
      ({
        side: rib.side,
        rib: rib.rib,
        chordM: rib.chord,
        normal: rib.normal,
        nodes: rib.tabs.map((tab) => ({ ...tab, row: "A", tabKey: "" })),
      }) as unknown as AttachedRib,
  );
  const state = (positions: Float64Array): Equilibrium => ({ positions }) as unknown as Equilibrium;
  return profileChange({ ribs } as unknown as WingModel, state(from), state(to));
}

const degrees = (rad: number): number => (rad * 180) / Math.PI;
const flat = (answer: Solved): Float64Array => Float64Array.from(answer.positions.flat());

describe("the wing that was solved elsewhere", () => {
  it("is a full one: two sides, four rows, tips, brakes, canopy with bends", () => {
    expect(network.positions.length / 3).toBe(274);
    expect(network.unstretched.length).toBe(783);
    expect(network.bends.stiffness.length).toBe(232);
    for (const side of ["left", "right"])
      for (const line of ["AL1", "BL1", "CL1", "DL1", "TL1", "BRL1"])
        expect(input.members.map((member) => member.name)).toContain(`${side}:${line}`);
    expect(new Set(input.nodes.map((node) => node.kind))).toEqual(
      new Set(["carabiner", "maillon", "pulley", "junction", "tab", "trailingEdge"]),
    );
  });

  it("differs between its states: many lines as measured, a single one by its loop", () => {
    const differing = (state: State): string[] =>
      input.members.flatMap((member, m) =>
        input.unstretched[state][m] === input.unstretched.specified[m] ? [] : [member.name],
      );
    expect(differing("measured").length).toBeGreaterThan(200);
    expect(differing("oneLoop")).toEqual(["right:CL2"]);
  });

  it("came to rest there: nothing left of what helped it, forces in balance, a minimum", () => {
    expect(calculix.program).toBe("CalculiX CrunchiX, Version 2.20");
    expect(scipy.program).toBe("SciPy 1.10.1, NumPy 1.24.2");
    for (const state of STATES) {
      const fe = calculix.states[state];
      expect(fe.grounding.at(-1)).toBe(0);
      expect(fe.lastRunMoved).toBeLessThan(1e-8);
      expect(fe.outOfBalanceAsPrintedAtNodesWithoutBends).toBeLessThan(1e-6);
      // The program's own account of the energy in each line, printed in seven digits.
      expect(fe.largestForceAgainstOwnEnergy).toBeLessThan(5e-5);
      expect(scipy.states[state].outOfBalance).toBeLessThan(1e-9);
      expect(scipy.states[state].lowestEigenvalueOfHessian).toBeGreaterThan(0.1);
    }
  });
});

describe.each(STATES)("the wing in the state %s, from the drawn shape", (state) => {
  const result = ours[state];

  it.each([
    ["the finite-element program", calculix.states[state]],
    ["the general minimiser", scipy.states[state]],
  ])("has every node where %s has it, and every member's force", (_, answer) => {
    expect(answer.positions.length).toBe(input.nodes.length);
    expect(answer.forces.length).toBe(input.members.length);
    expect(farthestApart(result.positions, answer)).toBeLessThan(SAME_PLACE_M);
    expect(largestForceDifference(result.tensionsN, answer)).toBeLessThan(SAME_FORCE_N);
    expect(result.slack).toEqual(answer.forces.flatMap((force, m) => (force === 0 ? [m] : [])));
  });

  it("pulls at carabiners and pulleys as in the finite-element program", () => {
    let compared = 0;
    input.nodes.forEach((node, n) => {
      if (!node.held) return;
      const reaction = calculix.states[state].reactions[node.name];
      // Printed without the load on the held node itself.
      node.load.forEach((load, axis) => {
        const held = (result.reactionsN[3 * n + axis] as number) + load;
        expect(Math.abs(held - (reaction?.[axis] as number))).toBeLessThan(SAME_REACTION_N);
      });
      compared++;
    });
    expect(compared).toBe(4);
  });

  it("is the same from the specified state, the way a changed loop is solved", () => {
    const warm = solve(state, { start: ours.specified.positions });
    expect(farthestApart(warm.positions, calculix.states[state])).toBeLessThan(SAME_PLACE_M);
    expect(largestForceDifference(warm.tensionsN, calculix.states[state])).toBeLessThan(SAME_FORCE_N);
  });

  it("is far from the drawn shape, so the way there is a test too", () => {
    expect(farthestApart(network.positions, calculix.states[state])).toBeGreaterThan(1);
  });
});

describe("the change from specified", () => {
  it.each([
    ["measured", calculix, 0.9],
    ["measured", scipy, 0.9],
    ["oneLoop", calculix, 0.05],
    ["oneLoop", scipy, 0.05],
  ] as const)("to %s turns every rib as elsewhere", (state, elsewhere, atLeastDeg) => {
    const here = changes(ours.specified.positions, ours[state].positions);
    const there = changes(flat(elsewhere.states.specified), flat(elsewhere.states[state]));
    expect(here.length).toBe(28);
    expect(there.length).toBe(28);
    here.forEach((rib, r) => {
      const other = there[r] as RibChange;
      expect(Math.abs(degrees(rib.incidenceRad - other.incidenceRad))).toBeLessThan(SAME_INCIDENCE_DEG);
    });
    expect(Math.max(...here.map((rib) => Math.abs(degrees(rib.incidenceRad))))).toBeGreaterThan(atLeastDeg);
  });
});

describe("the comparison notices", () => {
  const answer = calculix.states.specified;
  const start = flat(answer);
  const scaled = (values: Float64Array, factor: number): Float64Array =>
    values.map((value) => factor * value);
  const lineOf = (name: string): number => input.members.findIndex((member) => member.name === name);

  it("nothing, where nothing was changed", () => {
    expect(farthestApart(solve("specified", { start }).positions, answer)).toBeLessThan(SAME_PLACE_M);
  });

  it.each(["right:C5", "left:AL2", "left:BR7"])(
    "one line, %s, that is a tenth of a millimetre longer",
    (name) => {
      const unstretched = Float64Array.from(input.unstretched.specified);
      const m = lineOf(name);
      unstretched[m] = (unstretched[m] as number) + 1e-4;
      const result = solve("specified", { start, unstretched });
      expect(farthestApart(result.positions, answer)).toBeGreaterThan(100 * SAME_PLACE_M);
      expect(largestForceDifference(result.tensionsN, answer)).toBeGreaterThan(10 * SAME_FORCE_N);
    },
  );

  it.each<[string, Network]>([
    ["lines and fabric a thousandth stiffer", { ...network, stiffness: scaled(network.stiffness, 1.001) }],
    ["loads a thousandth larger", { ...network, loads: scaled(network.loads, 1.001) }],
    [
      "bends a hundredth stiffer",
      { ...network, bends: { ...network.bends, stiffness: scaled(network.bends.stiffness, 1.01) } },
    ],
    ["fabric that can't be pressed", { ...network, bars: new Uint8Array(network.bars.length) }],
    ["a slack line that could push", { ...network, bars: network.bars.with(lineOf("left:BR2"), 1) }],
  ])("%s", (_, changed) => {
    const result = solveEquilibrium(changed, { start });
    expect(farthestApart(result.positions, answer)).toBeGreaterThan(100 * SAME_PLACE_M);
    expect(largestForceDifference(result.tensionsN, answer)).toBeGreaterThan(10 * SAME_FORCE_N);
  });
});
