/** Checks of invented wings, aged at random, with or without real faults: what an honest hand would have typed. */
import { type AgedLines, ageLines } from "../../../src/demo/ageing.ts";
import { DEMOS } from "../../../src/demo/index.ts";
import { type Random, seededRandom } from "../../../src/demo/random.ts";
import type { PlanFile, Row, Side, Wing } from "../../../src/plan/index.ts";
import { expectedReadingM, lookUp, type WingLookup } from "../../../src/readings/index.ts";
import type { Check, Reading, Target } from "../../../src/readings/model.ts";
import { samplePlan, wingOf } from "../../plan/factory.ts";

export interface Case {
  readonly name: string;
  readonly plan: PlanFile;
  readonly wing: Wing;
  readonly lookup: WingLookup;
}

function caseOf(name: string, plan: PlanFile): Case {
  const wing = wingOf(plan);
  return { name, plan, wing, lookup: lookUp(wing) };
}

/** The two demo wings and the small wing with round figures. */
export const CASES: readonly Case[] = [
  caseOf("four rows", DEMOS.school.plan),
  caseOf("three rows", DEMOS.second.plan),
  caseOf("round figures", samplePlan()),
];

export type Fault = "wrong loop" | "worse side" | "tip trend" | "middle line";

export interface Made {
  readonly of: Case;
  readonly check: Check;
  /** Standard deviation of a path about its row, scatter of lines and reading together [m], roughly. */
  readonly sigmaM: number;
  readonly random: Random;
}

/** A check of one of the wings: every path read once, some twice, a few missing; noise 1 to 2 mm; real faults as asked. */
export function madeCheck(
  seed: number,
  faults: readonly Fault[] = [],
  of = CASES[seed % CASES.length] as Case,
): Made {
  const random = seededRandom(seed * 7919 + 17);
  const between = (low: number, high: number): number => low + (high - low) * random.even();
  const worse = faults.includes("worse side") ? between(4, 9) : between(0, 2);
  const rates: Partial<Record<Row, number>> = {
    A: between(-2, 3),
    B: between(-4, 1),
    C: between(-13, 0),
    D: between(-22, 0),
    tip: between(-5, 1),
    brake: between(-70, 0),
  };
  const side = (extra: number): Partial<Record<Row, number>> =>
    Object.fromEntries(
      Object.entries(rates).map(([row, rate]) => [
        row,
        rate - extra * (row === "brake" ? 1.5 : row === "A" ? 0.5 : 1),
      ]),
    );
  const lowers = of.wing.lines.filter(
    (line) => line.tier === 1 && line.side === "left" && line.row !== "tip" && line.row !== "brake",
  );
  const wrongLoops = faults.includes("wrong loop")
    ? [
        {
          side: pick(random, ["left", "right"] as const),
          line: pick(random, lowers).id,
          extraTakeUpMm: (random.even() < 0.5 ? -1 : 1) * between(8, 20),
        },
      ]
    : [];
  const scatterMm = between(0.15, 0.5);
  const noiseM = between(0.001, 0.002);
  const aged: AgedLines = ageLines(
    of.plan,
    { pathChangeMm: { left: side(0), right: side(worse) }, scatterMm, wrongLoops },
    random,
  );
  const middles = of.wing.lines.filter((line) => line.tier === 2 && line.carriesLines.length > 1);
  const offMiddle = faults.includes("middle line") ? pick(random, middles).key : undefined;
  const middleM = (random.even() < 0.5 ? -1 : 1) * between(0.008, 0.015);
  const tipM = faults.includes("tip trend") ? between(-0.02, -0.008) : 0;
  const outermost = Math.max(...of.wing.tabs.map((tab) => tab.rib));
  const readings: Reading[] = [];
  of.wing.paths.forEach((path, i) => {
    const tab = of.wing.tabs[i] as Wing["tabs"][number];
    if (random.even() < 0.03) return;
    const changed = path.lineKeys.reduce(
      (sum, key) => sum + (aged.workingChangeMm.get(key) ?? 0) / 1000 + (key === offMiddle ? middleM : 0),
      0,
    );
    const target: Target = { kind: "tab", id: tab.id, side: tab.side };
    const should = expectedReadingM(of.lookup, target, FRAME(of)) as number;
    const trueM = should + changed + tipM * Math.max(0, (2 * tab.rib) / outermost - 1) ** 1.5;
    const times = random.even() < 0.04 ? 2 : 1;
    const valuesM = Array.from(
      { length: times },
      () => Math.round(1000 * (trueM + noiseM * random.normal())) / 1000,
    );
    readings.push({ target, valuesM, note: undefined });
  });
  // A path is some seven metres of line: scatter grows as the root of the length.
  const sigmaM = Math.hypot((scatterMm / 1000) * Math.sqrt(7), noiseM);
  return { of, check: { ...FRAME(of), readings }, sigmaM, random };
}

function FRAME(of: Case): Omit<Check, "readings"> {
  return {
    wingName: of.wing.name,
    date: "2026-03-14",
    tensionN: of.wing.reference.tensionN,
    from: of.wing.reference.from,
    instrumentZeroM: 0,
    instrument: undefined,
    resolutionM: 0.001,
    note: undefined,
  };
}

export function pick<T>(random: Random, of: readonly T[]): T {
  const one = of[random.below(of.length)];
  if (one === undefined) throw new RangeError("Nothing to pick from.");
  return one;
}

/** The readings with those of some targets replaced; undefined takes one out. */
export function withValues(check: Check, change: (reading: Reading) => readonly number[] | undefined): Check {
  return {
    ...check,
    readings: check.readings.flatMap((reading) => {
      const valuesM = change(reading);
      return valuesM === undefined ? [] : [{ ...reading, valuesM }];
    }),
  };
}

export function firstValue(check: Check, id: string, side: Side): number | undefined {
  return check.readings.find(
    ({ target }) => target.kind === "tab" && target.id === id && target.side === side,
  )?.valuesM[0];
}
