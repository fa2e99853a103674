import { describe, expect, it } from "vitest";
import { ageingPrior, DEFAULT_AGEING } from "../../src/diagnosis/ageing-prior.ts";
import { samplePlan, wingOf } from "../plan/factory.ts";

const wing = wingOf(samplePlan());

describe("what is taken for granted of ageing lines", () => {
  const { spreadM, lineEffects, effects } = ageingPrior(wing);
  const index = new Map(wing.lines.map((line, m) => [line.key, m]));
  const namesOf = (key: string): string[] =>
    (lineEffects[index.get(key) as number] ?? []).map(({ index: effect }) => effects[effect]?.name as string);

  it("scatters a line by 1.5 mm on a metre and by the root of its length on more", () => {
    const lower = wing.lines[index.get("left:A1") as number];
    expect(spreadM[index.get("left:A1") as number]).toBeCloseTo(
      0.0015 * Math.sqrt(lower?.lengthM as number),
      12,
    );
  });

  it("lets a line share its row's rate, its material and tier's within the row, and its side's", () => {
    expect(namesOf("left:C1.2")).toEqual(["row C", "row C, tier 2, sheathed 1.1", "row C, left"]);
    expect(namesOf("right:C1.2")).toEqual(["row C", "row C, tier 2, sheathed 1.1", "row C, right"]);
  });

  it("moves a line by a shared rate in proportion to its length", () => {
    wing.lines.forEach((line, m) => {
      expect(lineEffects[m]?.[0]?.coefficient).toBeCloseTo(DEFAULT_AGEING.rowRate * line.lengthM, 12);
    });
  });

  it("leaves out what has no spread", () => {
    const alone = ageingPrior(wing, { spread: 0.002, rowRate: 0, groupRate: 0, sideRate: 0 });
    expect(alone.effects).toEqual([]);
    expect(alone.lineEffects.every((terms) => terms.length === 0)).toBe(true);
  });

  it("throws a spread of nothing and a negative rate back at the caller", () => {
    expect(() => ageingPrior(wing, { ...DEFAULT_AGEING, spread: 0 })).toThrow(/spread is 0/);
    expect(() => ageingPrior(wing, { ...DEFAULT_AGEING, rowRate: -1 })).toThrow(/-1/);
  });
});
