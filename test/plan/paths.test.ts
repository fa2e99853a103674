import { describe, expect, test } from "vitest";
import { chainTo, type Line, linesByKey, pathLengthM, strapLengthM } from "../../src/plan/index.ts";
import { samplePlan, wingOf } from "./factory.ts";

const totalMm = (from: "riser" | "maillon", tabKey: string): number => {
  const path = wingOf(samplePlan({ from })).paths.find((one) => one.tabKey === tabKey);
  if (path === undefined) throw new Error(`no path to ${tabKey}`);
  return path.specifiedM * 1000;
};

describe("a path's specified total", () => {
  test("from the maillon is the members' sum less the lowest line's loop", () => {
    expect(totalMm("maillon", "left:A1")).toBeCloseTo(4600 + 1885 + 450 - 13, 9);
    expect(totalMm("maillon", "right:B8")).toBeCloseTo(4490 + 1870 + 440, 9);
  });

  test("from the riser's base has the strap on top", () => {
    expect(totalMm("riser", "left:A1")).toBeCloseTo(4600 + 1885 + 450 - 13 + 470, 9);
    expect(totalMm("riser", "left:T2")).toBeCloseTo(5400 + 850 + 470, 9);
  });

  test("of a brake begins at the pulley, with no strap either way", () => {
    for (const from of ["riser", "maillon"] as const) {
      expect(totalMm(from, "left:K1")).toBeCloseTo(2400 + 2870 + 1630, 9);
    }
  });
});

describe("paths", () => {
  test("are one for each tab, in the tabs' order, lowest line first", () => {
    const wing = wingOf(samplePlan());
    expect(wing.paths.map((path) => path.tabKey)).toEqual(wing.tabs.map((tab) => tab.key));
    const lines = linesByKey(wing);
    for (const path of wing.paths) {
      const tiers = path.lineKeys.map((key) => lines.get(key)?.tier);
      expect(tiers).toEqual(tiers.map((_, index) => index + 1));
      const last = path.lineKeys[path.lineKeys.length - 1];
      expect(lines.get(last ?? "")?.carriesTabs).toContain(path.tabKey);
    }
  });

  test("of a single tier are that line alone", () => {
    const plan = samplePlan({ tip: false });
    plan.sides.mirrored.lines.push({
      id: "A9",
      row: "A",
      tier: 1,
      hangsOn: "A",
      lengthMm: 6900,
      material: "bare 0.7",
    });
    plan.sides.mirrored.tabs.push({ id: "A9", row: "A", rib: 17, line: "A9" });
    const path = wingOf(plan).paths.find((one) => one.tabKey === "right:A9");
    expect(path?.lineKeys).toEqual(["right:A9"]);
  });

  test("can be summed with other lengths than the specified ones", () => {
    const chain = chainTo("left:A1.1.1", linesByKey(wingOf(samplePlan())));
    expect(pathLengthM(chain)).toBeCloseTo(6.922, 12);
    expect(pathLengthM(chain, 0.47, (line) => line.lengthM - 0.002)).toBeCloseTo(6.922 + 0.47 - 0.006, 12);
    expect(pathLengthM([])).toBe(0);
  });

  test("through lines that a caller made up wrongly throw, and say which", () => {
    const lines = new Map(linesByKey(wingOf(samplePlan())));
    expect(() => chainTo("left:nothing", lines)).toThrow('no line "left:nothing"');
    const lower = lines.get("left:A1") as Line;
    lines.set("left:A1", { ...lower, hangsOn: { kind: "line", lineKey: "left:A1.1" } });
    expect(() => chainTo("left:A1.1.1", lines)).toThrow("hangs on itself");
    expect(() => strapLengthM("Z", "riser", [])).toThrow('no riser "Z"');
    expect(strapLengthM("Z", "maillon", [])).toBe(0);
  });
});
