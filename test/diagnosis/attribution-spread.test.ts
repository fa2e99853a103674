/** How well the lines' changes are known: coverage, errors, what can't be told apart, all on wings whose truth is known. */
import { describe, expect, it } from "vitest";
import { type AgeingPrior, DEFAULT_AGEING } from "../../src/diagnosis/ageing-prior.ts";
import { type Attribution, attribute, estimateSpread } from "../../src/diagnosis/attribution.ts";
import type { Wing } from "../../src/plan/model.ts";
import { deviations as deviationsOf } from "../../src/readings/deviations.ts";
import { readingUncertainty } from "../../src/readings/uncertainty.ts";
import { samplePlan, wingOf } from "../plan/factory.ts";
import { madeDeviations, pathsOfChanges } from "./made.ts";
import { simulate, spreadOf } from "./simulated.ts";

const wing = wingOf(samplePlan());
const LINES_ALONE: AgeingPrior = { spread: 0.0015, rowRate: 0, groupRate: 0, sideRate: 0 };

/** Share of true changes within the given number of standard deviations, over many invented wings. */
function coverage(of: Wing, taken: AgeingPrior, truth: AgeingPrior, wings: number) {
  const spread = spreadOf(of, 0.0015, { zero: 0.002, scale: 0.001 });
  const alone = ["left:A1", "right:C2", "left:C1.1"];
  const unread = ["left:B3", "right:D8"];
  let [within68, within95, total] = [0, 0, 0];
  for (let seed = 1; seed <= wings; seed++) {
    const made = simulate(of, truth, spread, seed, { alone, unread });
    const { lines } = attribute(of, made.deviations, spread, taken);
    for (const { lineKey, changeM, deviationM } of lines) {
      const off = Math.abs(changeM - (made.truth.get(lineKey) as number)) / deviationM;
      total++;
      if (off < 1) within68++;
      if (off < 1.959963985) within95++;
    }
  }
  return { share68: within68 / total, share95: within95 / total };
}

const rms = (values: readonly number[]): number =>
  Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / values.length);
const lineOf = (attribution: Attribution, key: string) => {
  const found = attribution.lines.find((line) => line.lineKey === key);
  if (!found) throw new Error(`no line ${key}`);
  return found;
};

describe("what is said about a line's change", () => {
  it("holds the truth in 68 and 95 of 100 cases, with a common zero, unread paths and lines read alone", () => {
    const { share68, share95 } = coverage(wing, DEFAULT_AGEING, DEFAULT_AGEING, 150);
    expect(Math.abs(share68 - 0.6827)).toBeLessThan(0.02);
    expect(Math.abs(share95 - 0.95)).toBeLessThan(0.012);
  });

  it("would be found out if lines scattered twice as much as taken for granted", () => {
    const { share68, share95 } = coverage(wing, DEFAULT_AGEING, { ...DEFAULT_AGEING, spread: 0.003 }, 20);
    expect(share68).toBeLessThan(0.6);
    expect(share95).toBeLessThan(0.9);
  });

  /**
   * Independent simulation: two tiers, lower lines about 4.3 m and uppers about 2.6 m, read with 1.5 mm, each line on its
   * own: lower lines' error 1.4 to 1.6 mm against 3.1 mm beforehand, uppers about 1.7 against 2.4.
   */
  it("is off as much as an independent simulation found: lowers about half of their spread, uppers seven tenths", () => {
    const two = twoTierWing();
    const spread = spreadOf(two, 0.0015);
    const errors: number[][] = [[], []];
    const truths: number[][] = [[], []];
    for (let seed = 1; seed <= 60; seed++) {
      const made = simulate(two, LINES_ALONE, spread, seed);
      const { lines } = attribute(two, made.deviations, spread, LINES_ALONE);
      two.lines.forEach((line, m) => {
        const truth = made.truth.get(line.key) as number;
        errors[line.tier - 1]?.push((lines[m]?.changeM as number) - truth);
        truths[line.tier - 1]?.push(truth);
      });
    }
    const [lower, upper] = errors.map((each) => 1000 * rms(each)) as [number, number];
    const [lowerBefore, upperBefore] = truths.map((each) => 1000 * rms(each)) as [number, number];
    expect(lowerBefore).toBeCloseTo(3.1, 0);
    expect(upperBefore).toBeCloseTo(2.4, 0);
    expect(lower).toBeGreaterThan(1.35);
    expect(lower).toBeLessThan(1.65);
    expect(upper).toBeGreaterThan(1.55);
    expect(upper).toBeLessThan(1.8);
  });

  it("doesn't give the uniform part of all readings to the lines alone, nor to the zero alone", () => {
    const all = madeDeviations(wing, () => -0.006);
    const withZero = attribute(wing, all, spreadOf(wing, 0.0015, { zero: 0.003 }));
    const without = attribute(wing, all, spreadOf(wing, 0.0015));
    const [zero] = withZero.common;
    expect(zero?.name).toBe("zero");
    expect(zero?.mean).toBeLessThan(-0.0002);
    expect(zero?.mean).toBeGreaterThan(-0.0058);
    // Totals alone can't settle it: the zero stays nearly as unknown as it was.
    expect(zero?.deviation).toBeGreaterThan(0.9 * 0.003);
    const total = (attribution: Attribution): number =>
      attribution.lines.reduce((sum, line) => sum + line.changeM, 0);
    expect(Math.abs(total(withZero))).toBeLessThan(Math.abs(total(without)));
    expect(total(withZero)).toBeLessThan(0);
    // What is known less of the datum is known less of the lines.
    expect(lineOf(withZero, "left:A1").deviationM).toBeGreaterThan(lineOf(without, "left:A1").deviationM);
  });

  it("finds each row's rate of shrinking, and knows how well", () => {
    const rates = { A: 0.0003, B: -0.0004, C: -0.0016, D: -0.0026, tip: -0.0005, brake: -0.006 };
    const changes = new Map(wing.lines.map((line) => [line.key, rates[line.row] * line.lengthM]));
    const found = attribute(wing, madeDeviations(wing, pathsOfChanges(changes)), spreadOf(wing, 0.0015));
    for (const row of ["A", "B", "C", "D"] as const) {
      // A row's rate together with its tiers' rates: over a whole path it is the readings' word.
      const path = wing.paths.find((each) => each.row === row);
      const keys = path?.lineKeys ?? [];
      const sum = keys.reduce((total, key) => total + lineOf(found, key).changeM, 0);
      expect(Math.abs(sum - pathsOfChanges(changes)(path as NonNullable<typeof path>))).toBeLessThan(0.0005);
      const rate = found.rates.find(({ name }) => name === `row ${row}`);
      expect(Math.abs((rate?.mean as number) - rates[row])).toBeLessThan(2 * (rate?.deviation as number));
      expect(rate?.deviation).toBeLessThan(DEFAULT_AGEING.rowRate);
    }
  });
});

describe("lines that can't be told apart", () => {
  const made = simulate(wing, DEFAULT_AGEING, spreadOf(wing, 0.0005), 3);

  it("are those with the same paths: a middle line and its upper where only one of its two was read", () => {
    const one = {
      ...made.deviations,
      paths: made.deviations.paths.map((path) =>
        path.tabKey === "left:B2" ? { ...path, deviationM: undefined } : path,
      ),
    };
    const found = attribute(wing, one, spreadOf(wing, 0.0005));
    const middle = lineOf(found, "left:B1.1");
    expect(middle.knowledge).toBe("not told apart");
    expect(middle.partners.map(({ lineKey }) => lineKey)).toContain("left:B1.1.1");
    expect(lineOf(found, "left:B1.1.1").partners.map(({ lineKey }) => lineKey)).toContain("left:B1.1");
    expect(lineOf(found, "left:B1.1.2").knowledge).toBe("not read");
  });

  it("are told apart as soon as one of them is read alone", () => {
    const before = attribute(wing, made.deviations, spreadOf(wing, 0.0005));
    const lower = lineOf(before, "left:C1");
    // A lower line against all that hangs on it together.
    expect(lower.knowledge).toBe("not told apart");
    expect(lower.partners.length).toBeGreaterThan(1);
    for (const partner of lower.partners) expect(partner.correlation).toBeLessThan(0);
    const truth = made.truth.get("left:C1") as number;
    const lines = [{ lineKey: "left:C1", specifiedM: 4.62, measuredM: 4.62 + truth, deviationM: truth }];
    const after = attribute(wing, { ...made.deviations, lines }, spreadOf(wing, 0.0005));
    expect(lineOf(after, "left:C1").knowledge).toBe("read alone");
    expect(lineOf(after, "left:C1").partners).toEqual([]);
    // What its loop takes up isn't in its own reading, and stays.
    expect(lineOf(after, "left:C1").deviationM).toBeLessThan(0.75 * lower.deviationM);
    expect(lineOf(after, "left:C1").deviationM).toBeGreaterThan(0.5 * lower.deviationM);
    expect(lineOf(after, "left:C1.1").deviationM).toBeLessThan(lineOf(before, "left:C1.1").deviationM);
  });
});

describe("the lines' own spread, found from the readings", () => {
  it("is about what it was on wings whose lines scattered little, usually and much", () => {
    const spread = spreadOf(wing, 0.001);
    for (const truth of [0.0008, 0.0015, 0.003]) {
      const found = [1, 2, 3, 4, 5].map((seed) => {
        const made = simulate(wing, { ...DEFAULT_AGEING, spread: truth }, spread, seed);
        return estimateSpread(wing, made.deviations, spread);
      });
      const mean = found.reduce((sum, value) => sum + value, 0) / found.length;
      expect(Math.abs(mean / truth - 1)).toBeLessThan(0.3);
    }
  });

  it("stays at the default where nothing was read", () => {
    const nothing = madeDeviations(wing, () => undefined);
    expect(estimateSpread(wing, nothing, spreadOf(wing, 0.001)) / DEFAULT_AGEING.spread).toBeCloseTo(1, 1);
  });
});

describe("with the readings' own uncertainties", () => {
  it("takes a check's paths, common effects and lines read alone as they come", () => {
    const readings = wing.paths.map((path) => {
      const tab = wing.tabs.find((each) => each.key === path.tabKey);
      return {
        target: { kind: "tab" as const, id: tab?.id as string, side: path.side },
        valuesM: [path.specifiedM - (path.row === "C" ? 0.012 : 0)],
        note: undefined,
      };
    });
    const check = {
      wingName: undefined,
      date: "2026-03-14",
      tensionN: 50,
      from: wing.reference.from,
      instrumentZeroM: 0,
      instrument: undefined,
      resolutionM: 0.001,
      note: undefined,
      readings: [
        ...readings,
        {
          target: { kind: "line" as const, id: "C1", side: "left" as const },
          valuesM: [4.612],
          note: undefined,
        },
      ],
    };
    const deviations = deviationsOf(wing, check);
    const found = attribute(wing, deviations, readingUncertainty(wing, check, deviations));
    expect(found.common.map(({ name }) => name)).toContain("zero");
    expect(lineOf(found, "left:C1").knowledge).toBe("read alone");
    expect(lineOf(found, "left:C1").changeM).toBeCloseTo(-0.008, 3);
    // Its twin wasn't read alone but is likely to have changed alike.
    expect(lineOf(found, "right:C1").changeM).toBeLessThan(-0.005);
    expect(found.residuals).toHaveLength(wing.paths.length + 1);
    expect(structuredClone(found)).toEqual(found);
  });
});

/** Rows of lower lines with three uppers each, and nothing between. */
function twoTierWing(): Wing {
  const plan = samplePlan({ brakes: false, tip: false });
  const half = plan.sides.mirrored;
  half.lines.length = 0;
  half.tabs.length = 0;
  for (const row of ["A", "B", "C", "D"] as const)
    for (const lower of [1, 2]) {
      half.lines.push({
        id: `${row}${lower}`,
        row,
        tier: 1,
        hangsOn: row,
        lengthMm: 4270 + lower,
        material: "sheathed 1.5",
      });
      for (const upper of [1, 2, 3]) {
        const number = 3 * (lower - 1) + upper;
        half.lines.push({
          id: `${row}${lower}.${upper}`,
          row,
          tier: 2,
          hangsOn: `${row}${lower}`,
          lengthMm: 2560 - upper,
          material: "bare 0.7",
        });
        half.tabs.push({ id: `${row}${number}`, row, rib: 2 * number, line: `${row}${lower}.${upper}` });
      }
    }
  return wingOf(plan);
}
