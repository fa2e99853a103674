import { describe, expect, it } from "vitest";
import { carabiner, cascadeOf, layOut } from "../../src/geometry/lay-out.ts";
import { distance, type Vector } from "../../src/geometry/vector.ts";
import type { PlanFile } from "../../src/plan/index.ts";
import { samplePlan, wingOf } from "../plan/factory.ts";

/** One lower line with two upper lines a side in one row: all in sight. */
function smallPlan(): PlanFile {
  const plan = samplePlan({ rows: ["A", "B"], brakes: false, tip: false });
  const half = (row: string) => ({
    lines: [
      {
        id: `${row}L`,
        row,
        tier: 1,
        hangsOn: row,
        lengthMm: 5013,
        material: "sheathed 1.5",
        loop: { name: "hitch", takeUpMm: 13 },
      },
      { id: `${row}1`, row, tier: 2, hangsOn: `${row}L`, lengthMm: 1500, material: "bare 0.7" },
      { id: `${row}2`, row, tier: 2, hangsOn: `${row}L`, lengthMm: 1500, material: "bare 0.7" },
    ],
    tabs: [
      { id: `${row}1`, row, rib: 2, line: `${row}1` },
      { id: `${row}2`, row, rib: 4, line: `${row}2` },
    ],
  });
  const [a, b] = [half("A"), half("B")];
  const mirrored = { lines: [...a.lines, ...b.lines], tabs: [...a.tabs, ...b.tabs] };
  return { ...plan, sides: { mirrored } } as PlanFile;
}

const wing = wingOf(smallPlan());
const cascade = cascadeOf(wing);
const indexOf = (key: string): number => wing.tabs.findIndex((tab) => tab.key === key);
/** Both tabs of a line at the same distance from the middle between them. */
const tabs: Vector[] = wing.tabs.map((tab) => {
  const y = 0.22 + (tab.id.endsWith("1") ? -0.3 : 0.3);
  return [tab.row === "A" ? -0.8 : -0.2, tab.side === "left" ? -y : y, 6.9];
});
const even = wing.tabs.map(() => 1);
const laidOut = layOut(cascade, tabs, even);

describe("a cascade laid out under its tabs", () => {
  it("hangs on carabiners on both sides of the origin, left at negative y", () => {
    expect(carabiner(cascade, "left")).toEqual([0, -0.22, 0]);
    expect(carabiner(cascade, "right")).toEqual([0, 0.22, 0]);
  });

  it("has its maillon a strap away from the carabiner and the junction a line's working length away from that", () => {
    const maillon = laidOut.maillons.get("right A") as Vector;
    expect(distance(maillon, carabiner(cascade, "right"))).toBeCloseTo(0.47, 12);
    // The loop takes 13 mm up.
    expect(distance(laidOut.junctions.get("right:AL") as Vector, maillon)).toBeCloseTo(5, 12);
  });

  it("points straight at the load's centre: half-way for even loads, at the tab that carries all otherwise", () => {
    const junction = laidOut.junctions.get("right:AL") as Vector;
    expect(junction[1]).toBeCloseTo(0.22, 12);
    const weights = wing.tabs.map((tab) => (tab.id === "A1" ? 1 : 0));
    const lopsided = layOut(cascade, tabs, weights).junctions.get("right:AL") as Vector;
    expect(lopsided[1]).toBeLessThan(0.1);
  });

  it("reports what the last line is short of its tab: model path less plan path", () => {
    const junction = laidOut.junctions.get("right:AL") as Vector;
    const gap = distance(junction, tabs[indexOf("right:A1")] as Vector);
    expect(laidOut.misfitM[indexOf("right:A1")]).toBeCloseTo(gap - 1.5, 12);
    const shorter = smallPlan();
    const mirrored = (shorter.sides as { mirrored: { lines: { id: string; lengthMm: number }[] } }).mirrored;
    for (const line of mirrored.lines) if (line.id === "A1") line.lengthMm -= 10;
    const after = layOut(cascadeOf(wingOf(shorter)), tabs, even).misfitM;
    wing.tabs.forEach((tab, i) => {
      expect((after[i] as number) - (laidOut.misfitM[i] as number)).toBeCloseTo(
        tab.id === "A1" ? 0.01 : 0,
        12,
      );
    });
  });

  it("is a mirror image where plan and tabs are", () => {
    for (const [key, [x, y, z]] of laidOut.junctions) {
      if (!key.startsWith("left")) continue;
      const other = laidOut.junctions.get(key.replace("left", "right")) as Vector;
      expect(other[0]).toBeCloseTo(x, 12);
      expect(other[1]).toBeCloseTo(-y, 12);
      expect(other[2]).toBeCloseTo(z, 12);
    }
  });

  it("knows which tabs hang above a line and which lines hang on a maillon", () => {
    expect(cascade.tabsAbove.get("left:AL")?.map((i) => wing.tabs[i]?.key)).toEqual(["left:A1", "left:A2"]);
    expect(cascade.roots.get("right B")?.map((line) => line.key)).toEqual(["right:BL"]);
  });

  it("puts the brake's pulley on its strap, as high as the plan says, and hangs the main there", () => {
    const braked = wingOf(samplePlan());
    const whole = cascadeOf(braked);
    const positions: Vector[] = braked.tabs.map((tab) => [
      -0.5,
      (tab.side === "left" ? -1 : 1) * 0.24 * tab.rib,
      6.8,
    ]);
    const { pulleys, maillons, junctions } = layOut(
      whole,
      positions,
      braked.tabs.map(() => 1),
    );
    const hook = carabiner(whole, "left");
    const pulley = pulleys.get("left") as Vector;
    expect(distance(pulley, hook)).toBeCloseTo(0.2, 12);
    const maillon = maillons.get("left D") as Vector;
    expect(distance(pulley, maillon)).toBeCloseTo(0.27, 12);
    expect(distance(junctions.get("left:K1") as Vector, pulley)).toBeCloseTo(2.4, 12);
  });
});
