import { describe, expect, test } from "vitest";
import { ageLines, chainDown, halfOf } from "../../src/demo/ageing.ts";
import { demoFiles, lightWing, schoolWing } from "../../src/demo/index.ts";
import { seededRandom } from "../../src/demo/random.ts";
import { keyOf, parsePlan, type Row, type Side } from "../../src/plan/index.ts";
import { defaultFrame, deviations, parseCheck, parseReadingsCsv } from "../../src/readings/index.ts";

const readBack = (demo: ReturnType<typeof schoolWing>) => {
  const wing = parsePlan(demo.plan);
  if (!wing.ok) throw new Error("the plan is faulty");
  const check = parseCheck(demo.check, wing.value);
  expect(check.problems).toEqual([]);
  if (!check.ok) throw new Error("the check is faulty");
  return {
    wing: wing.value,
    check: check.value,
    found: deviations(wing.value, check.value),
  };
};
const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

describe("the school wing's check", () => {
  const { wing, check, found } = readBack(schoolWing());
  const row = (name: Row, side: Side) =>
    found.paths
      .filter((path) => path.row === name && path.side === side)
      .flatMap((path) => (path.deviationM === undefined ? [] : [1000 * path.deviationM]));

  test("has rear rows short, the right side worse, and the front row slightly long", () => {
    for (const side of ["left", "right"] as const) {
      expect(mean(row("A", side))).toBeGreaterThan(0);
      expect(mean(row("A", side))).toBeLessThan(3);
      expect(mean(row("C", side))).toBeLessThan(-9);
      expect(mean(row("C", side))).toBeGreaterThan(-16);
      expect(mean(row("D", side))).toBeLessThan(-16);
      expect(mean(row("D", side))).toBeGreaterThan(-25);
    }
    for (const name of ["C", "D"] as const) {
      expect(mean(row(name, "left")) - mean(row(name, "right"))).toBeGreaterThan(2);
      expect(mean(row(name, "left")) - mean(row(name, "right"))).toBeLessThan(7);
    }
  });

  test("has brakes so short that less than the least free travel is left", () => {
    const freeTravelMm = 1000 * (wing.brakes?.freeTravelM as number);
    for (const side of ["left", "right"] as const) {
      expect(freeTravelMm + mean(row("brake", side))).toBeLessThan(
        1000 * wing.tolerances.minBrakeFreeTravelM,
      );
    }
  });

  test("has one group of five tabs on the left B row that stands out by the wrong loop below it", () => {
    const group = new Set(
      wing.paths.filter((path) => path.lineKeys.includes("left:BL2")).map((path) => path.tabKey),
    );
    expect(group.size).toBe(5);
    const left = found.paths.filter((path) => path.row === "B" && path.side === "left");
    const inGroup = left
      .filter((path) => group.has(path.tabKey))
      .map((path) => 1000 * (path.deviationM as number));
    const others = left
      .filter((path) => !group.has(path.tabKey))
      .map((path) => 1000 * (path.deviationM as number));
    expect(mean(others) - mean(inGroup)).toBeCloseTo(10, -0.5);
    expect(Math.max(...inGroup)).toBeLessThan(Math.min(...others));
    // The lines above it, read on their own, are as they should be: it is the lower line.
    for (const line of found.lines.filter(({ lineKey }) => /^left:B(M3|6)$/.test(lineKey))) {
      expect(Math.abs(line.deviationM)).toBeLessThan(0.004);
    }
  });

  test("has a few repeats, a few tabs left out, and readings of single lines, at an instrument zero of 2 mm", () => {
    expect(check.instrumentZeroM).toBe(0.002);
    expect(check.readings.filter(({ valuesM }) => valuesM.length > 1).length).toBe(5);
    expect(found.paths.filter((path) => path.deviationM === undefined).length).toBe(5);
    expect(found.lines.length).toBe(6);
    for (const { valuesM } of check.readings) {
      for (const value of valuesM) expect(1000 * value).toBeCloseTo(Math.round(1000 * value), 9);
    }
  });

  test("reads the same from its table as from its own file", () => {
    const csv = demoFiles().find(({ name }) => name === "tidewrack-28.check.csv");
    const read = parseReadingsCsv(csv?.text as string, wing, defaultFrame(wing, "2020-01-01"));
    expect(read.problems).toEqual([]);
    expect(read.ok && read.value).toEqual(check);
  });
});

test("the light wing's check is within 3 mm everywhere, every tab read", () => {
  const { found } = readBack(lightWing());
  for (const path of found.paths) expect(Math.abs(path.deviationM as number)).toBeLessThanOrEqual(0.003);
});

describe("ageing", () => {
  const { plan } = schoolWing();
  const half = halfOf(plan, "left");
  const change = (aged: ReturnType<typeof ageLines>, side: Side, tabRow: Row) =>
    half.tabs
      .filter((tab) => tab.row === tabRow)
      .map((tab) =>
        chainDown(half, tab.line).reduce(
          (sum, line) => sum + (aged.workingChangeMm.get(keyOf(side, line.id)) ?? 0),
          0,
        ),
      );
  const quiet = {
    pathChangeMm: { left: { C: -12 }, right: { C: -15 } },
    scatterMm: 0,
    wrongLoops: [],
  } as const;

  test("without scatter takes the stated mean off a row's paths, in proportion to length, and nothing off the others", () => {
    const aged = ageLines(plan, quiet, seededRandom(1));
    expect(mean(change(aged, "left", "C"))).toBeCloseTo(-12, 10);
    expect(mean(change(aged, "right", "C"))).toBeCloseTo(-15, 10);
    expect(mean(change(aged, "left", "B"))).toBe(0);
    const perMetre = half.lines
      .filter((line) => line.row === "C")
      .map((line) => (aged.changeMm.get(keyOf("left", line.id)) as number) / line.lengthMm);
    expect(Math.max(...perMetre) - Math.min(...perMetre)).toBeLessThan(1e-15);
  });

  test("puts a wrong loop into the working length of its line and not into the line's own", () => {
    const wrongLoops = [{ side: "left", line: "CL1", extraTakeUpMm: 10 }] as const;
    const aged = ageLines(plan, { ...quiet, wrongLoops }, seededRandom(1));
    const without = ageLines(plan, quiet, seededRandom(1));
    expect(aged.changeMm).toEqual(without.changeMm);
    const difference = change(aged, "left", "C").map(
      (value, i) => value - (change(without, "left", "C")[i] as number),
    );
    expect(difference.filter((value) => Math.abs(value + 10) < 1e-9).length).toBe(4);
    expect(change(aged, "right", "C")).toEqual(change(without, "right", "C"));
  });
});
