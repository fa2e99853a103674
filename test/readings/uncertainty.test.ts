import { describe, expect, it } from "vitest";
import type { Wing } from "../../src/plan/index.ts";
import {
  type Check,
  combinedUncertainty,
  covarianceOf,
  DEFAULT_READING_UNCERTAINTY,
  deviations,
  differenceWeights,
  lookUp,
  meanWeights,
  type PathUncertainties,
  pathCompliance,
  pathCorrections,
  READING_UNCERTAINTY_NOTES,
  type Reading,
  type ReadingUncertainty,
  readingUncertainty,
  readingUncertaintyOf,
  standardUncertainty,
} from "../../src/readings/index.ts";
import { say } from "../../src/words/index.ts";
import { randomFrom } from "../plan/random.ts";
import { check, testWing } from "./wing.ts";

const wing = testWing();

/** Nothing uncertain but a single reading's hand by a millimetre; tests add what they are about. */
const BARE: ReadingUncertainty = {
  resolutionM: 0,
  readingM: 0.001,
  readingDegreesOfFreedom: 8,
  tensionEachN: 0,
  zeroM: 0,
  scale: 0,
  tensionCheckN: 0,
  stiffness: 0,
  rowPointM: 0,
  sidePointM: 0,
};

/** A check of all tabs as specified, each read as often and off by as much as told [mm]. */
function readAll(
  repeats: (tabKey: string, place: number) => readonly number[] = () => [0],
  frame: Partial<Check> = {},
  of: Wing = wing,
): Check {
  const readings = of.tabs.flatMap((tab, place): Reading[] => {
    const path = of.paths[place];
    const offMm = repeats(tab.key, place);
    if (path === undefined || offMm.length === 0) return [];
    const valuesM = offMm.map((off) => path.specifiedM + off / 1000);
    return [{ target: { kind: "tab", id: tab.id, side: tab.side }, valuesM, note: undefined }];
  });
  return check(readings, frame);
}

function uncertaintyOf(
  of: Check,
  settings: Partial<ReadingUncertainty> = {},
  on: Wing = wing,
): PathUncertainties {
  return readingUncertainty(on, of, deviations(on, of), settings);
}

const tabs = (row: string, side?: string): number[] =>
  wing.tabs.flatMap((tab, place) =>
    tab.row === row && (side === undefined || tab.side === side) ? [place] : [],
  );
const [first = 0] = tabs("A", "left");
const mirrored = wing.tabs.findIndex((tab) => tab.key === wing.tabs[first]?.mirrorKey);
const one = new Map([[first, 1]]);
const leftRight = new Map([
  [first, 1],
  [mirrored, -1],
]);

describe("the budget of a single path", () => {
  it("adds up hand, resolution, tension through the path's compliance, zero and scale", () => {
    const settings = {
      ...BARE,
      resolutionM: 0.002,
      tensionEachN: 3,
      zeroM: 0.0015,
      scale: 1e-4,
      tensionCheckN: 1,
    };
    const path = wing.paths[first];
    if (path === undefined) throw new Error("No path.");
    // A1: 4.0, 1.95 and 0.36 m at 40, 25 and 13.8 kN, each a little shorter unstretched.
    const compliance = 4 / 40_050 + 1.95 / 25_050 + 0.36 / 13_850;
    const expected = Math.hypot(
      0.001,
      0.002 / Math.sqrt(12),
      3 * compliance,
      0.0015,
      1e-4 * path.specifiedM,
      compliance,
    );
    const uncertainties = uncertaintyOf(readAll(), settings);
    expect(standardUncertainty(uncertainties, one)).toBeCloseTo(expected, 9);
    expect(uncertainties.totalM[first]).toBeCloseTo(expected, 9);
  });

  it("names what it is made of, the largest first", () => {
    const { sources, standardUncertaintyM } = combinedUncertainty(
      uncertaintyOf(readAll(), { ...BARE, zeroM: 0.003, resolutionM: 0.001 }),
      one,
    );
    expect(sources.map((source) => source.name)).toEqual(["zero", "scatter", "resolution"]);
    expect(Math.hypot(...sources.map((source) => source.standardUncertaintyM))).toBeCloseTo(
      standardUncertaintyM,
      12,
    );
  });

  it("with the defaults is about two millimetres, of which the tension of a reading has four tenths", () => {
    const uncertainties = uncertaintyOf(readAll());
    expect(uncertainties.totalM[first]).toBeGreaterThan(0.0015);
    expect(uncertainties.totalM[first]).toBeLessThan(0.0025);
    expect(Math.sqrt((uncertainties.scatterM[first] ?? 0) ** 2 - 0.001 ** 2)).toBeCloseTo(0.0004, 4);
  });

  it("grows in proportion where all its parts do", () => {
    const doubled = Object.fromEntries(
      Object.entries(DEFAULT_READING_UNCERTAINTY).map(([name, value]) => [
        name,
        name === "readingDegreesOfFreedom" ? value : 2 * value,
      ]),
    );
    expect(standardUncertainty(uncertaintyOf(readAll(), doubled), leftRight)).toBeCloseTo(
      2 * standardUncertainty(uncertaintyOf(readAll()), leftRight),
      12,
    );
  });

  it("takes in the strap where it was read but doesn't count: the scale's error goes with what was measured", () => {
    const scaleOnly = { ...BARE, scale: 1e-3 };
    const plan = testWing("maillon");
    const read = (from: Check["from"]): PathUncertainties => {
      const strap = from === "riser" ? 470 : 0;
      return uncertaintyOf(
        readAll(() => [strap], { from }, plan),
        scaleOnly,
        plan,
      );
    };
    const loading = (from: Check["from"]): number => read(from).effects[0]?.loadingsM[first] ?? 0;
    expect(loading("riser") - loading("maillon")).toBeCloseTo(0.47e-3, 6);
  });

  it("knows nothing of a path that wasn't read", () => {
    const uncertainties = uncertaintyOf(readAll((_, place) => (place === first ? [] : [0])));
    expect(uncertainties.read[first]).toBe(0);
    expect(uncertainties.totalM[first]).toBe(0);
    expect(() => standardUncertainty(uncertainties, one)).toThrow("left:A1, which wasn't read");
    expect(() => standardUncertainty(uncertainties, new Map([[999, 1]]))).toThrow("tab 999");
    expect(standardUncertainty(uncertainties, new Map([[first, 0]]))).toBe(0);
  });
});

describe("errors that readings share", () => {
  it("drop out of every difference where all paths have them alike: a wrong zero turns no profile", () => {
    const plain = uncertaintyOf(readAll(), BARE);
    const zero = uncertaintyOf(readAll(), { ...BARE, zeroM: 0.05 });
    const rows = differenceWeights(meanWeights(tabs("A")), meanWeights(tabs("B")));
    for (const weights of [leftRight, rows])
      expect(standardUncertainty(zero, weights)).toBeCloseTo(standardUncertainty(plain, weights), 12);
    expect(standardUncertainty(zero, one)).toBeGreaterThan(0.05);
  });

  it("don't average out, as a single reading's do", () => {
    const row = meanWeights(tabs("A"));
    expect(standardUncertainty(uncertaintyOf(readAll(), BARE), row)).toBeCloseTo(0.001 / Math.sqrt(8), 12);
    expect(standardUncertainty(uncertaintyOf(readAll(), { ...BARE, zeroM: 0.002 }), row)).toBeCloseTo(
      Math.hypot(0.001 / Math.sqrt(8), 0.002),
      12,
    );
  });

  it("leave in a difference what the paths' lengths and stretch differ by", () => {
    const scale = uncertaintyOf(readAll(), { ...BARE, scale: 1e-3, readingM: 1e-9 });
    const [a = 0, b = 0] = [tabs("A")[0], tabs("B")[0]];
    const apart = (wing.paths[a]?.specifiedM ?? 0) - (wing.paths[b]?.specifiedM ?? 0);
    const weights = new Map([
      [a, 1],
      [b, -1],
    ]);
    expect(Math.abs(apart)).toBeGreaterThan(0.01);
    expect(standardUncertainty(scale, weights)).toBeCloseTo(1e-3 * Math.abs(apart), 9);
    expect(standardUncertainty(scale, leftRight)).toBeCloseTo(0, 8);
  });

  it("by row set the rows apart but not the sides; by side the other way round", () => {
    const rows = differenceWeights(meanWeights(tabs("A")), meanWeights(tabs("B")));
    const sides = differenceWeights(meanWeights(tabs("A", "left")), meanWeights(tabs("A", "right")));
    const byRow = uncertaintyOf(readAll(), { ...BARE, rowPointM: 0.003, readingM: 1e-9 });
    const bySide = uncertaintyOf(readAll(), { ...BARE, sidePointM: 0.003, readingM: 1e-9 });
    expect(standardUncertainty(byRow, rows)).toBeCloseTo(0.003 * Math.SQRT2, 8);
    expect(standardUncertainty(byRow, sides)).toBeCloseTo(0, 8);
    expect(standardUncertainty(bySide, sides)).toBeCloseTo(0.003 * Math.SQRT2, 8);
    expect(standardUncertainty(bySide, rows)).toBeCloseTo(0, 8);
  });

  it("by a stiffness count only where another tension was used, and add up over the materials' shares", () => {
    const only = { ...BARE, stiffness: 0.2, readingM: 1e-9 };
    expect(uncertaintyOf(readAll(), only).effects).toEqual([]);
    const at20 = readAll(() => [0], { tensionN: 20 });
    const lookup = lookUp(wing);
    const path = lookup.paths.get("left:A1");
    if (path === undefined) throw new Error("No path.");
    const { effects } = uncertaintyOf(at20, only);
    expect(effects.map((effect) => effect.name)).toEqual([
      "stiffness lower",
      "stiffness middle",
      "stiffness upper",
    ]);
    const together = effects.reduce((sum, effect) => sum + (effect.loadingsM[first] ?? 0), 0);
    expect(together).toBeCloseTo(0.2 * pathCorrections(lookup, path, at20).stretchM, 12);
  });

  it("give a covariance matrix that says the same of any combination", () => {
    const uncertainties = uncertaintyOf(
      readAll((_, place) => (place === 3 ? [] : [0, 1])),
      {
        rowPointM: 0.001,
        sidePointM: 0.002,
      },
    );
    const covariance = covarianceOf(uncertainties);
    const n = wing.tabs.length;
    const random = randomFrom(5).next;
    for (let trial = 0; trial < 20; trial++) {
      const weights = new Map(
        wing.tabs.flatMap((_, place) => (place === 3 ? [] : [[place, random() * 2 - 1] as const])),
      );
      let variance = 0;
      for (const [i, wi] of weights)
        for (const [j, wj] of weights) variance += wi * wj * (covariance[i * n + j] ?? 0);
      expect(standardUncertainty(uncertainties, weights)).toBeCloseTo(Math.sqrt(variance), 12);
    }
    expect(covariance[3 * n + 3]).toBe(0);
    expect(covariance[first * n + first]).toBeCloseTo((uncertainties.totalM[first] ?? 0) ** 2, 15);
  });

  it("are what many made-up checks with such errors show", () => {
    const settings = { ...BARE, tensionEachN: 4, zeroM: 0.002, scale: 2e-4, tensionCheckN: 5 };
    const uncertainties = uncertaintyOf(readAll(), settings);
    const lookup = lookUp(wing);
    const random = randomFrom(2026).next;
    const normal = (): number => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    const combinations = [
      one,
      leftRight,
      meanWeights(tabs("A")),
      differenceWeights(meanWeights(tabs("A")), meanWeights(tabs("B"))),
    ];
    const squares = combinations.map(() => 0);
    const trials = 4000;
    for (let trial = 0; trial < trials; trial++) {
      const [zero, scale, tension] = [normal() * 0.002, normal() * 2e-4, normal() * 5];
      const errors = wing.paths.map((path) => {
        const stretch = pathCompliance(lookup, path) * (tension + 4 * normal());
        return normal() * 0.001 + zero + scale * path.specifiedM + stretch;
      });
      combinations.forEach((weights, c) => {
        let error = 0;
        for (const [tab, weight] of weights) error += weight * (errors[tab] ?? 0);
        squares[c] = (squares[c] ?? 0) + error ** 2;
      });
    }
    // A standard deviation from 4000 trials is known to about 1.1 %; four times that.
    combinations.forEach((weights, c) => {
      const ratio = Math.sqrt((squares[c] ?? 0) / trials) / standardUncertainty(uncertainties, weights);
      expect(Math.abs(ratio - 1)).toBeLessThan(0.045);
    });
  });
});

describe("a check's own repeats", () => {
  it("lessen a path's scatter by the root of their number, not what all readings share", () => {
    // Two repeats ±0.7071 mm have a standard deviation of 1 mm: as expected, so the expectation stands.
    const spread = Math.SQRT1_2;
    const uncertainties = uncertaintyOf(
      readAll((_, place) => (place === first ? [spread, -spread] : [0])),
      { ...BARE, zeroM: 0.002 },
    );
    expect(uncertainties.scatter.varianceFactor).toBeCloseTo(1, 9);
    expect(uncertainties.ownM[first]).toBeCloseTo(0.001 / Math.SQRT2, 9);
    expect(uncertainties.totalM[first]).toBeCloseTo(Math.hypot(0.001 / Math.SQRT2, 0.002), 9);
  });

  it("replace the expectation step by step: eight degrees of freedom beforehand, one more for each pair", () => {
    const each = 2;
    const half = (each * Math.SQRT2) / 2;
    for (const pairs of [0, 1, 4, wing.tabs.length]) {
      const { scatter } = uncertaintyOf(
        readAll((_, place) => (place < pairs ? [half, -half] : [0])),
        BARE,
      );
      expect(scatter.degreesOfFreedom).toBe(8 + pairs);
      expect(scatter.varianceFactor).toBeCloseTo((8 + pairs * each ** 2) / (8 + pairs), 9);
    }
  });

  it("that agree to the millimetre leave the resolution", () => {
    const uncertainties = uncertaintyOf(
      readAll(() => [0, 0, 0, 0, 0]),
      { ...BARE, resolutionM: 0.001 },
    );
    expect(uncertainties.scatter.varianceFactor).toBeLessThan(0.1);
    expect(uncertainties.ownM[first]).toBeGreaterThanOrEqual(0.001 / Math.sqrt(12));
  });

  it("with one slip among them don't make every other path look uncertain; the slip is named", () => {
    const slip = (_: string, place: number): readonly number[] => (place === first ? [0, 90] : [0.4, -0.4]);
    const uncertainties = uncertaintyOf(readAll(slip), BARE);
    expect(uncertainties.doubtfulTabKeys).toEqual([wing.tabs[first]?.key]);
    expect(uncertainties.scatter.varianceFactor).toBeLessThan(1);
    expect(uncertainties.ownM[first]).toBeCloseTo(0.09 / 2, 6);
    expect(uncertainties.ownM[first + 1]).toBeLessThan(0.001);
  });

  it("that all scatter more than expected are believed, and none is called a slip", () => {
    const random = randomFrom(9).next;
    const rough = readAll(() => [random() * 30 - 15, random() * 30 - 15]);
    const uncertainties = uncertaintyOf(rough, BARE);
    expect(uncertainties.doubtfulTabKeys).toEqual([]);
    expect(uncertainties.ownM[first]).toBeGreaterThan(0.003);
  });

  it("set the effective degrees of freedom, and no averaging over paths adds any", () => {
    const uncertainties = uncertaintyOf(readAll(), BARE);
    expect(combinedUncertainty(uncertainties, one).degreesOfFreedom).toBeCloseTo(8, 9);
    expect(combinedUncertainty(uncertainties, meanWeights(tabs("A"))).degreesOfFreedom).toBeCloseTo(8, 9);
    const shared = uncertaintyOf(readAll(), { ...BARE, zeroM: 0.01 });
    expect(combinedUncertainty(shared, one).degreesOfFreedom).toBeGreaterThan(1000);
    const known = uncertaintyOf(readAll(), { ...BARE, readingDegreesOfFreedom: Number.POSITIVE_INFINITY });
    expect(combinedUncertainty(known, one).degreesOfFreedom).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("the settings", () => {
  it("come from the caller, else from the check, else from the defaults, each of which says where it is from", () => {
    const stated = {
      resolutionM: 0.0005,
      uncertainty: { zeroM: 0.0002, scale: 5e-5, tensionN: 0.5, readingM: 0.0007 },
    };
    expect(readingUncertaintyOf(stated)).toEqual({
      ...DEFAULT_READING_UNCERTAINTY,
      resolutionM: 0.0005,
      zeroM: 0.0002,
      scale: 5e-5,
      tensionEachN: 0.5,
      readingM: 0.0007,
    });
    expect(readingUncertaintyOf(stated, { zeroM: 0.009 }).zeroM).toBe(0.009);
    for (const name of Object.keys(DEFAULT_READING_UNCERTAINTY) as (keyof ReadingUncertainty)[])
      expect(say(READING_UNCERTAINTY_NOTES[name].source)).toMatch(
        /common practice, no source|from memory|none assumed/iu,
      );
  });

  it("are refused where they can't be an uncertainty", () => {
    for (const wrong of [
      { zeroM: -1 },
      { scale: Number.NaN },
      { readingM: 0 },
      { readingDegreesOfFreedom: 0 },
    ])
      expect(() => readingUncertaintyOf({ resolutionM: undefined }, wrong)).toThrow(RangeError);
  });

  it("of a check are used: a surer hand gives surer deviations", () => {
    const sure = readAll(() => [0], { uncertainty: { readingM: 0.0002, tensionN: 0, zeroM: 0 } });
    expect(uncertaintyOf(sure).totalM[first]).toBeLessThan(uncertaintyOf(readAll()).totalM[first] ?? 0);
  });
});

describe("the uncertainties of a check", () => {
  it("cross a worker's boundary", () => {
    const uncertainties = uncertaintyOf(readAll());
    const copy = structuredClone(uncertainties);
    expect(copy).toEqual(uncertainties);
    expect(standardUncertainty(copy, leftRight)).toBe(standardUncertainty(uncertainties, leftRight));
  });

  it("are the same seen in the mirror", () => {
    const uncertainties = uncertaintyOf(readAll());
    wing.tabs.forEach((tab, place) => {
      const other = wing.tabs.findIndex((each) => each.key === tab.mirrorKey);
      expect(uncertainties.totalM[other]).toBeCloseTo(uncertainties.totalM[place] ?? 0, 12);
    });
  });

  it("are refused for another wing's deviations", () => {
    const of = readAll();
    const { paths, lines } = deviations(wing, of);
    expect(() => readingUncertainty(wing, of, { paths: paths.slice(1), lines })).toThrow(
      "its tabs are others",
    );
  });
});
