import { describe, expect, it } from "vitest";
import type { Deviations } from "../../src/readings/model.ts";
import type { PathUncertainties } from "../../src/readings/uncertainty.ts";
import { type CheckedState, compareChecks, type PromisedChange } from "../../src/workshop/compare.ts";
import { madeDeviations, pathsOfChanges } from "../diagnosis/made.ts";
import { normalsOf } from "../diagnosis/simulated.ts";
import { samplePlan, wingOf } from "../plan/factory.ts";

const wing = wingOf(samplePlan());
const OWN = 0.0012;
const ZERO = 0.001;
const tabOf = new Map(wing.tabs.map((tab, index) => [tab.key, index]));
const aged = pathsOfChanges(
  new Map(wing.lines.map((line) => [line.key, line.row === "C" || line.row === "D" ? -0.004 : 0.0005])),
);

/** Readings with a spread of their own and a zero that all share. */
function uncertaintiesOf(deviations: Deviations): PathUncertainties {
  const read = Uint8Array.from(deviations.paths, (path) => (path.deviationM === undefined ? 0 : 1));
  const masked = (value: number): Float64Array => Float64Array.from(read, (flag) => flag * value);
  return {
    tabKeys: wing.paths.map((path) => path.tabKey),
    read,
    ownM: masked(OWN),
    scatterM: masked(OWN),
    resolutionM: 0,
    effects: [{ name: "zero", loadingsM: masked(ZERO) }],
    totalM: masked(Math.hypot(OWN, ZERO)),
    scatter: { varianceFactor: 1, degreesOfFreedom: 8 },
    doubtfulTabKeys: [],
    settings: {} as PathUncertainties["settings"],
  };
}

function checked(
  trueM: (path: (typeof wing.paths)[number]) => number,
  seed: number,
  zeroM = 0,
  unread: readonly string[] = [],
): CheckedState {
  const normal = normalsOf(seed);
  const deviations = madeDeviations(wing, (path) => {
    const error = zeroM + OWN * normal();
    return unread.includes(path.tabKey) ? undefined : trueM(path) + error;
  });
  return { deviations, uncertainties: uncertaintiesOf(deviations) };
}

const OUT = 0.013;
const DONE: readonly PromisedChange[] = ["left:C1", "right:C1", "left:D1", "right:D1"].map((lineKey) => ({
  lineKey,
  changeM: OUT,
  standardUncertaintyM: 0.0008,
}));
/** What the changes do to a path if each takes what it was promised, or what is given for a line. */
const changed =
  (otherwise: Readonly<Record<string, number>> = {}) =>
  (path: (typeof wing.paths)[number]): number =>
    aged(path) +
    DONE.reduce(
      (sum, { lineKey, changeM }) =>
        path.lineKeys.includes(lineKey) ? sum + (otherwise[lineKey] ?? changeM) : sum,
      0,
    );

describe("before and after", () => {
  // Common practice, no source: taking a loop out lengthens every path above it.
  it("says that taking loops out did what it promised, for each line and the row", () => {
    const result = compareChecks(wing, checked(aged, 1), checked(changed(), 2), DONE);
    expect(result.changes.map((change) => change.outcome)).toEqual(DONE.map(() => "as promised"));
    for (const change of result.changes) {
      expect(Math.abs((change.didM as number) - OUT)).toBeLessThan(0.0025);
      expect(change.tabKeys).toHaveLength(4);
    }
    expect(result.movedTabKeys).toEqual([]);
    const c = result.rows.find((row) => row.row === "C");
    expect((c?.afterM as number) - (c?.beforeM as number)).toBeCloseTo(OUT / 2, 2);
    expect((c?.plannedM as number) - (c?.beforeM as number)).toBeCloseTo(OUT / 2, 3);
  });

  it("finds the line whose loop was left in, and no other", () => {
    const result = compareChecks(wing, checked(aged, 3), checked(changed({ "left:D1": 0 }), 4), DONE);
    expect(result.changes.filter((change) => change.outcome === "otherwise").map((c) => c.lineKey)).toEqual([
      "left:D1",
    ]);
  });

  it("finds a line that moved though nothing was done to it", () => {
    const slipped = (path: (typeof wing.paths)[number]): number =>
      changed()(path) + (path.lineKeys.includes("right:B2.1") ? -0.01 : 0);
    const result = compareChecks(wing, checked(aged, 5), checked(slipped, 6), DONE);
    const above = wing.paths.filter((path) => path.lineKeys.includes("right:B2.1")).map((p) => p.tabKey);
    for (const key of above) expect(result.movedTabKeys).toContain(key);
    expect(result.movedTabKeys.length).toBe(above.length);
  });

  it("takes out a shift that all paths share between the two days, and tells it", () => {
    const steady = compareChecks(wing, checked(aged, 7), checked(changed(), 8), DONE);
    const shifted = compareChecks(wing, checked(aged, 7), checked(changed(), 8, 0.006), DONE);
    expect(shifted.shiftRemoved).toBe(true);
    expect((shifted.shiftM as number) - (steady.shiftM as number)).toBeCloseTo(0.006, 9);
    const did = (result: typeof steady): (number | undefined)[] => result.changes.map((c) => c.didM);
    did(shifted).forEach((value, i) => {
      expect(value).toBeCloseTo(did(steady)[i] as number, 9);
    });
  });

  it("keeps the shift where hardly anything was left untouched, and is less sure then", () => {
    const rest = wing.paths.filter((path) => !DONE.some((one) => path.lineKeys.includes(one.lineKey)));
    const unread = rest.slice(5).map((path) => path.tabKey);
    const few = compareChecks(wing, checked(aged, 7, 0, unread), checked(changed(), 8, 0, unread), DONE);
    const all = compareChecks(wing, checked(aged, 7), checked(changed(), 8), DONE);
    expect(few.shiftRemoved).toBe(false);
    expect(few.changes[0]?.standardUncertaintyM).toBeGreaterThan(
      all.changes[0]?.standardUncertaintyM as number,
    );
  });

  it("says nothing of paths that weren't read on both days", () => {
    const above = wing.paths.filter((path) => path.lineKeys.includes("left:C1")).map((path) => path.tabKey);
    const result = compareChecks(wing, checked(aged, 9, 0, above), checked(changed(), 10), DONE);
    expect(result.changes[0]?.outcome).toBe("not read");
    for (const key of above) expect(result.paths[tabOf.get(key) as number]?.outcome).toBe("not read");
    expect(result.movedTabKeys).toEqual([]);
  });

  it("is wrong about a change that kept its promise in about one of twenty, and about the rest in one check of twenty", () => {
    const others = normalsOf(77);
    let told = 0;
    let count = 0;
    let alarms = 0;
    for (let day = 0; day < 300; day++) {
      const takes = Object.fromEntries(DONE.map(({ lineKey }) => [lineKey, OUT + 0.0008 * others()]));
      const result = compareChecks(
        wing,
        checked(aged, 1000 + 2 * day, ZERO * others()),
        checked(changed(takes), 1001 + 2 * day, ZERO * others()),
        DONE,
      );
      count += result.changes.length;
      alarms += result.movedTabKeys.length > 0 ? 1 : 0;
      told += result.changes.filter((change) => change.outcome === "otherwise").length;
    }
    // 1 − erf(√2) = 4.55 %; 1,200 cases, of which the four of a day share little: three standard errors are 1.8 %.
    expect(Math.abs(told / count - 0.0455)).toBeLessThan(0.018);
    expect(alarms / 300).toBeLessThan(0.09);
    expect(alarms).toBeGreaterThan(0);
  });

  it("refuses a line or a check of another wing", () => {
    const state = checked(aged, 1);
    expect(() =>
      compareChecks(wing, state, state, [{ lineKey: "left:Z9", changeM: 0.01, standardUncertaintyM: 0 }]),
    ).toThrow(/left:Z9/);
    const short = { ...state, deviations: { ...state.deviations, paths: state.deviations.paths.slice(1) } };
    expect(() => compareChecks(wing, short, state, [])).toThrow(/tabs are others/);
  });
});
