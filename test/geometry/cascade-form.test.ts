import { describe, expect, test } from "vitest";
import { type CascadeTree, formCascade } from "../../src/geometry/cascade-form.ts";
import { add, distance, dot, type ReadonlyVector, towards, type Vector } from "../../src/geometry/vector.ts";

/** One lower line, two middle lines, two upper lines on each. */
const TREE: CascadeTree = {
  hangsOn: [-1, 0, 0, 1, 1, 2, 2],
  tab: [-1, -1, -1, 0, 1, 2, 3],
  wantedM: [4.2, 1.6, 1.5, 0, 0, 0, 0],
};
const TABS: readonly Vector[] = [
  [-0.6, 0.3, 6.9],
  [-0.55, 0.8, 6.85],
  [-0.5, 1.3, 6.75],
  [-0.45, 1.8, 6.6],
];
const LOADS: readonly Vector[] = [
  [0, 0.4, 18],
  [0, 1.2, 17],
  [0.1, 2.0, 15],
  [0.1, 3.0, 13],
];
const ROOT: Vector = [0.02, 0.22, 0.47];

const lowerEnds = (tree: CascadeTree, ends: readonly ReadonlyVector[], root: ReadonlyVector) =>
  tree.hangsOn.map((below) => (below < 0 ? root : (ends[below] as ReadonlyVector)));

describe("a cascade formed under its tabs' pulls", () => {
  const form = formCascade(TREE, TABS, LOADS, ROOT);
  const lower = lowerEnds(TREE, form.upperEnds, ROOT);
  const pull = (line: number) =>
    add([0, 0, 0], towards(lower[line] as Vector, form.upperEnds[line] as Vector), form.tensionsN[line]);

  test("is in balance at every junction, to a millionth of a newton", () => {
    expect(form.converged).toBe(true);
    expect(form.residualN).toBeLessThan(1e-9);
    for (const junction of [0, 1, 2]) {
      let rest = add([0, 0, 0], pull(junction), -1);
      TREE.hangsOn.forEach((below, line) => {
        if (below === junction) rest = add(rest, pull(line));
      });
      expect(Math.hypot(...rest)).toBeLessThan(1e-9);
    }
  });

  test("gives lower and middle lines the wanted lengths and lets the upper lines reach their tabs", () => {
    for (const line of [0, 1, 2]) expect(form.lengthsM[line]).toBeCloseTo(TREE.wantedM[line] as number, 11);
    for (const [line, tab] of [
      [3, 0],
      [4, 1],
      [5, 2],
      [6, 3],
    ] as const) {
      expect(form.upperEnds[line]).toEqual(TABS[tab]);
      expect(form.lengthsM[line]).toBeCloseTo(distance(lower[line] as Vector, TABS[tab] as Vector), 12);
    }
  });

  test("has every tab's line pull with the load along the load", () => {
    for (const [line, tab] of [
      [3, 0],
      [4, 1],
      [5, 2],
      [6, 3],
    ] as const) {
      const load = LOADS[tab] as Vector;
      expect(dot(pull(line), load) / Math.hypot(...load)).toBeCloseTo(Math.hypot(...load), 11);
    }
  });

  test("doesn't depend on how hard the whole wing pulls", () => {
    const heavier = formCascade(
      TREE,
      TABS,
      LOADS.map((load) => add([0, 0, 0], load, 3)),
      ROOT,
    );
    heavier.upperEnds.forEach((end, line) => {
      expect(distance(end, form.upperEnds[line] as Vector)).toBeLessThan(1e-11);
    });
    expect(heavier.tensionsN[0]).toBeCloseTo(3 * (form.tensionsN[0] as number), 9);
  });

  test("is mirrored with its tabs", () => {
    const mirrored = (v: ReadonlyVector): Vector => [v[0], -v[1], v[2]];
    const other = formCascade(TREE, TABS.map(mirrored), LOADS.map(mirrored), mirrored(ROOT));
    other.lengthsM.forEach((length, line) => {
      expect(length).toBeCloseTo(form.lengthsM[line] as number, 11);
    });
  });

  test("moves a junction towards the tab that pulls harder", () => {
    const harder = formCascade(TREE, TABS, [add([0, 0, 0], LOADS[0] as Vector, 2), ...LOADS.slice(1)], ROOT);
    const y = (f: typeof form, line: number) => (f.upperEnds[line] as Vector)[1];
    expect(y(harder, 1)).toBeLessThan(y(form, 1));
    expect(y(harder, 0)).toBeLessThan(y(form, 0));
  });

  test("of three symmetric lines has its junction below the middle, each leg pulling p/cos² of its lean against upright loads", () => {
    const y = formCascade(
      { hangsOn: [-1, 0, 0], tab: [-1, 0, 1], wantedM: [3, 0, 0] },
      [
        [0, -0.5, 4],
        [0, 0.5, 4],
      ],
      [
        [0, 0, 10],
        [0, 0, 10],
      ],
      [0, 0, 0],
    );
    expect(distance(y.upperEnds[0] as Vector, [0, 0, 3])).toBeLessThan(1e-12);
    // A leg of length √1.25 rises 1 m: its vertical component is the load, 10 N.
    expect(y.tensionsN[1]).toBeCloseTo(10 * Math.sqrt(1.25), 12);
    expect(y.tensionsN[0]).toBeCloseTo(20, 12);
  });

  test("says so where the wanted lengths reach past the tabs", () => {
    expect(formCascade({ ...TREE, wantedM: [9, 1.6, 1.5, 0, 0, 0, 0] }, TABS, LOADS, ROOT).converged).toBe(
      false,
    );
  });

  test("is refused where the arrays are no tree", () => {
    expect(() => formCascade({ ...TREE, hangsOn: [-1, 0, 0, 1, 1, 2, 6] }, TABS, LOADS, ROOT)).toThrow(
      /earlier line/,
    );
    expect(() => formCascade({ ...TREE, hangsOn: [-1, 0, 0, 1, 1, 3, 2] }, TABS, LOADS, ROOT)).toThrow(
      /ends at a tab/,
    );
    expect(() => formCascade({ ...TREE, wantedM: [4.2, 0, 1.5, 0, 0, 0, 0] }, TABS, LOADS, ROOT)).toThrow(
      /0 m long/,
    );
    expect(() => formCascade(TREE, TABS, LOADS.slice(1), ROOT)).toThrow(/3 loads/);
  });
});
