import { beforeAll, describe, expect, it } from "vitest";
import { DEMOS } from "../../src/demo/index.ts";
import { analyse } from "../../src/diagnosis/analyse.ts";
import { assumptionBand, bandOf } from "../../src/diagnosis/assumption-band.ts";
import { brakeTravel } from "../../src/diagnosis/brake-travel.ts";
import { meanIncidence } from "../../src/diagnosis/chord-mean.ts";
import type { Analysis } from "../../src/diagnosis/model.ts";
import {
  afterAnalysisOf,
  analysisOf,
  openSession,
  type Session,
  type States,
  sameCondition,
  solveStates,
  statesAtTrim,
} from "../../src/diagnosis/states.ts";
import { AT_TRIM, type Condition, strapChanges } from "../../src/geometry/condition.ts";
import { changedLengths } from "../../src/geometry/solve.ts";
import { parsePlan } from "../../src/plan/index.ts";
import type { Wing } from "../../src/plan/model.ts";
import { parseCheck } from "../../src/readings/index.ts";
import { degrees } from "../geometry/states.ts";

function load(name: "school" | "second"): { wing: Wing; analysis: Analysis } {
  const wing = parsePlan(DEMOS[name].plan);
  if (!wing.ok) throw new Error("the demo plan is faulty");
  const check = parseCheck(DEMOS[name].check, wing.value);
  if (!check.ok) throw new Error("the demo check is faulty");
  return { wing: wing.value, analysis: analyse(wing.value, check.value) };
}

let wing: Wing;
let analysis: Analysis;
let session: Session;
let trim: States;

beforeAll(() => {
  // The three-row wing: the smaller one.
  ({ wing, analysis } = load("second"));
  session = openSession(analysis);
  trim = statesAtTrim(analysis);
});

const nothing: ReadonlyMap<string, number> = new Map();
const accelerated = (share: number): Condition => ({
  ...AT_TRIM,
  strapChangesM: strapChanges(wing.settings, { speed: share }),
});
const largest = (a: Float64Array, b: Float64Array): number =>
  a.reduce((worst, value, i) => Math.max(worst, Math.abs(value - (b[i] as number))), 0);
const lowers = (row: string): string[] =>
  wing.lines.filter((line) => line.row === row && line.tier === 1).map((line) => line.key);

describe("states at trim with nothing tried", () => {
  it("are those of the analysis; nothing is solved again", () => {
    const states = solveStates(session, { condition: AT_TRIM, trial: nothing });
    expect(states.specified).toBe(analysis.model.specified);
    expect(states.measured).toBe(analysis.measured);
    expect(states.tried).toBeUndefined();
    expect(meanIncidence(analysis.model, states.conditionRibs)).toBeCloseTo(0, 12);
  });

  it("leave the brakes the plan's free travel as specified", () => {
    const plan = wing.brakes?.freeTravelM ?? Number.NaN;
    expect(trim.travel.specified.left).toBeCloseTo(plan, 9);
    expect(trim.travel.specified.right).toBeCloseTo(plan, 9);
  });
});

describe("a check after the work", () => {
  it("is one more state: that of its own analysis at trim, and solved anew under another rigging", () => {
    const path = (mm: number): Analysis => {
      const check = analysis.check;
      if (check === undefined) throw new Error("no check");
      const readings = check.readings.map((reading) =>
        reading.target.id.startsWith("A")
          ? { ...reading, valuesM: reading.valuesM.map((value) => value + mm / 1000) }
          : reading,
      );
      return analyse(wing, { ...check, readings }, { model: analysis.model });
    };
    const after = path(10);
    const both = openSession(analysis, after);
    const states = solveStates(both, { condition: AT_TRIM, trial: nothing });
    expect(states.after?.solved).toBe(after.measured);
    expect(statesAtTrim(analysis, after).after?.solved).toBe(after.measured);
    const fast = solveStates(both, { condition: accelerated(1), trial: nothing }, states);
    expect(fast.after?.solved.converged).toBe(true);
    expect(
      largest(fast.after?.solved.positions as Float64Array, after.measured?.positions as Float64Array),
    ).toBeGreaterThan(0.01);
    const shown = afterAnalysisOf(after, fast);
    expect(shown.measured).toBe(fast.after?.solved);
    // Longer in front: nose up, by about 10 mm over the distance to the rear rows, at trim and with the speed system alike.
    expect(
      degrees(
        (shown.meanIncidenceRad ?? 0) -
          (fast.measured === undefined
            ? 0
            : (analysisOf(analysis, fast, "measured", nothing).meanIncidenceRad ?? 0)),
      ),
    ).toBeGreaterThan(0.2);
    expect(solveStates(session, { condition: AT_TRIM, trial: nothing }).after).toBeUndefined();
  });
});

describe("a length that is tried", () => {
  it("solves that state only, and leaves the others as they are", () => {
    const states = solveStates(session, { condition: AT_TRIM, trial: new Map([["left:A1", -0.01]]) }, trim);
    expect(states.specified).toBe(trim.specified);
    expect(states.measured).toBe(trim.measured);
    expect(states.tried?.converged).toBe(true);
  });

  it("turns the profile nose-up where the rear row is shortened, on top of what was measured", () => {
    const rear =
      [...new Set(wing.tabs.map((tab) => tab.row))].filter((row) => /^[A-D]$/.test(row)).at(-1) ?? "C";
    const trial = new Map(lowers(rear).map((key) => [key, -0.01]));
    const states = solveStates(session, { condition: AT_TRIM, trial }, trim);
    const before = meanIncidence(analysis.model, states.ribs) ?? Number.NaN;
    const after = meanIncidence(analysis.model, states.triedRibs ?? []) ?? Number.NaN;
    expect(degrees(after - before)).toBeGreaterThan(0.3);
    expect(degrees(after - before)).toBeLessThan(0.9);
  });

  it("comes out the same whatever states it starts from", () => {
    const trial = new Map([["right:A1", -0.02]]);
    const cold = solveStates(session, { condition: AT_TRIM, trial });
    const elsewhere = solveStates(session, { condition: accelerated(1), trial: nothing }, trim);
    const warm = solveStates(session, { condition: AT_TRIM, trial }, elsewhere);
    expect(
      largest(cold.tried?.positions ?? new Float64Array(1), warm.tried?.positions ?? new Float64Array(1)),
    ).toBeLessThan(1e-5);
  });

  it("taken back by the opposite change gives the measured wing again", () => {
    const first = analysis.lines.find((line) => line.attributedM !== 0)?.lineKey ?? "left:A1";
    const there = solveStates(session, { condition: AT_TRIM, trial: new Map([[first, -0.03]]) }, trim);
    const back = solveStates(session, { condition: AT_TRIM, trial: new Map([[first, 0]]) }, there);
    expect(
      largest(back.tried?.positions ?? new Float64Array(1), trim.measured?.positions ?? new Float64Array(1)),
    ).toBeLessThan(1e-5);
  });

  it("is refused by name where the wing has no such line or the line no such length", () => {
    const ask = (key: string, change: number) => () =>
      solveStates(session, { condition: AT_TRIM, trial: new Map([[key, change]]) }, trim);
    expect(ask("left:nowhere", -0.01)).toThrow(/left:nowhere/);
    expect(ask("left:A1", -99)).toThrow(RangeError);
  });
});

describe("a rigging", () => {
  it("moves the specified and the measured wing alike: the speed system lowers the nose of both", () => {
    const half = solveStates(session, { condition: accelerated(0.5), trial: nothing }, trim);
    const full = solveStates(session, { condition: accelerated(1), trial: nothing }, half);
    const [one, two] = [half, full].map((states) =>
      degrees(meanIncidence(analysis.model, states.conditionRibs) ?? Number.NaN),
    );
    expect(one).toBeLessThan(-1);
    expect(two).toBeLessThan((one ?? 0) - 1);
    const atTrim = degrees(analysis.meanIncidenceRad ?? Number.NaN);
    expect(degrees(meanIncidence(analysis.model, full.ribs) ?? Number.NaN)).toBeCloseTo(atTrim, 0);
  });

  it("gone back from leaves the wing as it was", () => {
    const there = solveStates(session, { condition: accelerated(1), trial: nothing }, trim);
    const back = solveStates(session, { condition: AT_TRIM, trial: nothing }, there);
    expect(back.specified).toBe(analysis.model.specified);
    expect(back.measured).toBe(analysis.measured);
  });

  it("is the same as another only where straps, weight and brakes are", () => {
    expect(sameCondition(AT_TRIM, { ...AT_TRIM, strapChangesM: new Map([["A", 0]]) })).toBe(true);
    expect(sameCondition(AT_TRIM, accelerated(0.1))).toBe(false);
    expect(sameCondition(AT_TRIM, { ...AT_TRIM, weightN: 900 })).toBe(false);
    expect(sameCondition(AT_TRIM, { ...AT_TRIM, brakePullM: { left: 0.01, right: 0 } })).toBe(false);
  });
});

describe("the brakes' free travel", () => {
  const plan = (): number => wing.brakes?.freeTravelM ?? Number.NaN;
  const pulled = (left: number): States =>
    solveStates(session, { condition: { ...AT_TRIM, brakePullM: { left, right: 0 } }, trial: nothing }, trim);

  it("goes by what the handle is pulled, on that side only", () => {
    const { specified } = pulled(0.03).travel;
    expect((specified.left ?? 0) - (plan() - 0.03)).toBeCloseTo(0, 3);
    expect((specified.right ?? 0) - plan()).toBeCloseTo(0, 3);
  });

  it("used up pulls the trailing edge down", () => {
    const states = pulled(plan() + 0.08);
    expect(states.travel.specified.left).toBeLessThan(-0.05);
    const { model } = analysis;
    const tab = model.ribs
      .filter((rib) => rib.side === "left")
      .flatMap((rib) => rib.nodes.filter((node) => node.row === "brake" && node.tabKey !== undefined));
    const lowered = tab.map(
      ({ node }) =>
        (model.specified.positions[3 * node + 2] as number) -
        (states.specified.positions[3 * node + 2] as number),
    );
    expect(Math.max(...lowered)).toBeGreaterThan(0.02);
  });

  it("goes by what the brake's own lines have shrunk", () => {
    const main = wing.lines.find((line) => line.side === "left" && line.row === "brake" && line.tier === 1);
    if (main === undefined) throw new Error("the wing has no brake main");
    const { model } = analysis;
    const shorter = changedLengths(model, new Map([[main.key, -0.04]]));
    const travel = brakeTravel(model, shorter, model.specified, plan());
    expect((travel.left ?? 0) - (plan() - 0.04)).toBeCloseTo(0, 3);
    expect(travel.right).toBeCloseTo(plan(), 9);
  });

  it("is taken by the speed system, which lifts the trailing edge against the pulley", () => {
    const { specified } = solveStates(session, { condition: accelerated(1), trial: nothing }, trim).travel;
    expect(specified.left ?? 0).toBeLessThan(plan() - 0.02);
  });
});

describe("the analysis of a state", () => {
  it("as tried adds what is tried to the paths that run through it, and to no other", () => {
    const key = lowers("A")[0] ?? "";
    const trial = new Map([[key, -0.012]]);
    const states = solveStates(session, { condition: AT_TRIM, trial }, trim);
    const tried = analysisOf(analysis, states, "tried", trial);
    wing.paths.forEach((path, i) => {
      const before = analysis.deviations.paths[i]?.deviationM;
      const after = tried.deviations.paths[i]?.deviationM;
      if (before === undefined) expect(after).toBeUndefined();
      else expect(after).toBeCloseTo(before - (path.lineKeys.includes(key) ? 0.012 : 0), 9);
    });
    const before = analysis.lines.find((line) => line.lineKey === key)?.deviationM ?? Number.NaN;
    expect(tried.lines.find((line) => line.lineKey === key)?.deviationM).toBeCloseTo(before - 0.012, 9);
    expect(tried.measured).toBe(states.tried);
    expect(tried.findings).toBe(analysis.findings);
  });

  it("as tried on a wing without readings counts from the plan", () => {
    const bare = analyse(wing, undefined, { model: analysis.model });
    const own = openSession(bare);
    const trial = new Map([["left:A1", 0.008]]);
    const states = solveStates(own, { condition: AT_TRIM, trial }, statesAtTrim(bare));
    expect(states.measured).toBeUndefined();
    const tried = analysisOf(bare, states, "tried", trial);
    const through = wing.paths.findIndex((path) => path.lineKeys.includes("left:A1"));
    expect(tried.deviations.paths[through]?.deviationM).toBeCloseTo(0.008, 9);
    expect(tried.measured).toBe(states.tried);
  });

  it("as measured under a rigging takes its incidences from there", () => {
    const states = solveStates(session, { condition: accelerated(0.5), trial: nothing }, trim);
    const rigged = analysisOf(analysis, states, "measured", nothing);
    expect(rigged.ribs).toBe(states.ribs);
    expect(rigged.model.specified).toBe(states.specified);
    expect(rigged.deviations).toBe(analysis.deviations);
  });
});

describe("the band that assumptions leave on the incidence", () => {
  it("is the root of the squares of its named parts, rib by rib", () => {
    const band = assumptionBand(session, analysis.ribs, wing.allUpWeightKg);
    if (band === undefined) throw new Error("no band");
    expect(band.parts.length).toBeGreaterThanOrEqual(4);
    band.halfWidthRad.forEach((width, i) => {
      const squares = band.parts.reduce((sum, part) => sum + (part.halfWidthRad[i] ?? 0) ** 2, 0);
      expect(width).toBeCloseTo(Math.sqrt(squares), 12);
      expect(width).toBeGreaterThan(0);
    });
    expect(degrees(band.meanRad)).toBeLessThan(0.1);
  });

  it("takes a part that another cause adds, and refuses one of another length", () => {
    const ribs = [{ side: "left", rib: 1 } as const];
    const part = {
      name: "reading",
      ends: undefined,
      halfWidthRad: [0.003],
      meanRad: 0.001,
      leftRad: 0.001,
      rightRad: 0,
    };
    const other = { ...part, name: "fabric", halfWidthRad: [0.004] };
    expect(bandOf(ribs, [part, other]).halfWidthRad[0]).toBeCloseTo(0.005, 12);
    expect(() => bandOf(ribs, [{ ...part, halfWidthRad: [] }])).toThrow(/reading/);
  });

  it("isn't there without readings", () => {
    const bare = analyse(wing, undefined, { model: analysis.model });
    expect(assumptionBand(openSession(bare), [], wing.allUpWeightKg)).toBeUndefined();
  });
});
