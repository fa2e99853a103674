import { describe, expect, it } from "vitest";
import { DEMOS } from "../../src/demo/index.ts";
import { analyse } from "../../src/diagnosis/analyse.ts";
import { assumptionBand } from "../../src/diagnosis/assumption-band.ts";
import { travelOnLines } from "../../src/diagnosis/brake-travel.ts";
import { judge } from "../../src/diagnosis/judge.ts";
import { openSession, statesAtTrim } from "../../src/diagnosis/states.ts";
import { parsePlan } from "../../src/plan/index.ts";
import { parseCheck } from "../../src/readings/index.ts";

function load(name: "school" | "second") {
  const wing = parsePlan(DEMOS[name].plan);
  if (!wing.ok) throw new Error("the demo plan is faulty");
  const check = parseCheck(DEMOS[name].check, wing.value);
  if (!check.ok) throw new Error("the demo check is faulty");
  return { wing: wing.value, analysis: analyse(wing.value, check.value) };
}

describe("the judgement", { timeout: 120_000 }, () => {
  const { wing, analysis } = load("second");
  const bands = judge(analysis, { draws: 400 })?.bands;
  const early = assumptionBand(openSession(analysis), analysis.ribs, wing.allUpWeightKg);

  it("leaves to the assumptions what was said of them before it was there, rib by rib and side by side", () => {
    if (bands === undefined || early === undefined) throw new Error("no bands");
    expect(bands.ribs.map(({ side, rib }) => [side, rib])).toEqual(
      early.ribs.map(({ side, rib }) => [side, rib]),
    );
    bands.ribs.forEach((rib, i) => {
      expect(rib.assumptionsRad).toBeCloseTo(early.halfWidthRad[i] as number, 9);
    });
    expect(bands.mean?.assumptionsRad).toBeCloseTo(early.meanRad, 9);
    expect(bands.left?.assumptionsRad).toBeCloseTo(early.leftRad, 9);
    expect(bands.right?.assumptionsRad).toBeCloseTo(early.rightRad, 9);
  });

  it("is of the angles that the analysis has, so that figure and interval belong together", () => {
    expect(bands?.mean?.measuredRad).toBeCloseTo(analysis.meanIncidenceRad as number, 9);
    expect(bands?.left?.measuredRad).toBeCloseTo(analysis.leftIncidenceRad as number, 9);
    expect(bands?.right?.measuredRad).toBeCloseTo(analysis.rightIncidenceRad as number, 9);
  });
});

describe("the brakes' free travel", { timeout: 120_000 }, () => {
  it("is less on the lines alone than in the model where the rear rows are short", () => {
    const { analysis } = load("school");
    if (analysis.assessment === undefined) throw new Error("not assessed");
    const lines = travelOnLines(analysis.assessment);
    const { measured } = statesAtTrim(analysis).travel;
    for (const side of ["left", "right"] as const)
      expect(lines?.[side]).toBeLessThan(measured?.[side] as number);
  });

  it("isn't told of where no brake was read", () => {
    expect(travelOnLines({ assessed: [] })).toBeUndefined();
  });
});
