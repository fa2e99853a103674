import { describe, expect, test } from "vitest";
import { hangTabs } from "../../src/demo/hang.ts";
import { LIGHT_WING } from "../../src/demo/light-wing.ts";
import { makeWing } from "../../src/demo/make-plan.ts";
import { SCHOOL_WING } from "../../src/demo/school-wing.ts";
import type { WingSpec } from "../../src/demo/wing-spec.ts";
import { type Line, type Path, parsePlan, type Wing } from "../../src/plan/index.ts";

const wingOf = (spec: WingSpec): Wing => {
  const parsed = parsePlan(makeWing(spec));
  expect(parsed.problems).toEqual([]);
  if (!parsed.ok) throw new Error("the plan is faulty");
  return parsed.value;
};

const CASES = [
  {
    spec: SCHOOL_WING,
    rows: ["A", "B", "C", "D", "tip", "brake"],
    lines: [250, 350],
    perM2: [8.5, 11.5],
  },
  {
    spec: LIGHT_WING,
    rows: ["A", "B", "C", "tip", "brake"],
    lines: [150, 220],
    perM2: [8.5, 9.7],
  },
] as const;

describe.each(CASES)("the plan of $spec.wing.name", ({ spec, rows, lines, perM2 }) => {
  const wing = wingOf(spec);
  const left = wing.lines.filter((line) => line.side === "left");
  const strap = spec.reference.from === "riser" ? (spec.risers[0]?.lengthMm ?? 0) / 1000 : 0;
  const lineOf = new Map(wing.lines.map((line) => [line.key, line]));

  test("has the rows and the number of lines of its kind, both sides alike", () => {
    expect([...new Set(wing.lines.map((line) => line.row))]).toEqual(rows);
    expect(wing.lines.length).toBe(2 * left.length);
    expect(wing.lines.length).toBeGreaterThanOrEqual(lines[0]);
    expect(wing.lines.length).toBeLessThanOrEqual(lines[1]);
  });

  test("has a plausible length of line for its area", () => {
    const total = wing.lines.reduce((sum, line) => sum + line.lengthM, 0);
    const each = total / (wing.canopy.flatAreaM2 as number);
    expect(each).toBeGreaterThan(perM2[0]);
    expect(each).toBeLessThan(perM2[1]);
  });

  test("hangs two to four lower lines a side on each riser row, two or three lines on each line that carries any, long lines lowest", () => {
    for (const row of rows) {
      const lower = left.filter((line) => line.row === row && line.tier === 1);
      if (row === "tip" || row === "brake") expect(lower.length).toBe(1);
      else {
        expect(lower.length).toBeGreaterThanOrEqual(2);
        expect(lower.length).toBeLessThanOrEqual(4);
      }
    }
    for (const line of left) {
      const above = line.carriesLines.map((key) => lineOf.get(key) as Line);
      if (above.length === 0) expect(line.carriesTabs.length).toBe(1);
      else {
        expect(above.length).toBeGreaterThanOrEqual(2);
        expect(above.length).toBeLessThanOrEqual(line.row === "brake" ? 4 : 3);
        for (const next of above) expect(next.lengthM).toBeLessThan(line.lengthM);
      }
    }
  });

  test("carries rows on every second or third cell wall only, and no tab on the middle wall", () => {
    const ribs = [...new Set(wing.tabs.filter((tab) => tab.row === "A").map((tab) => tab.rib))];
    expect(Math.min(...ribs)).toBeGreaterThan(1);
    ribs.slice(1).forEach((rib, i) => {
      expect([2, 3]).toContain(rib - (ribs[i] as number));
    });
  });

  test("uses thinner line further up, and only materials in its list", () => {
    const diameter = new Map(wing.materials.map((material) => [material.id, material.diameterM]));
    for (const line of wing.lines) {
      for (const key of line.carriesLines) {
        const above = lineOf.get(key) as Line;
        expect(diameter.get(above.materialId)).toBeLessThanOrEqual(diameter.get(line.materialId) as number);
      }
    }
  });

  test("states totals that are the sum of its whole-millimetre lengths", () => {
    wing.tabs.forEach((tab, i) => {
      const stated = tab.statedPathM as number;
      expect((wing.paths[i] as Path).specifiedM).toBeCloseTo(stated, 9);
      expect(1000 * stated).toBeCloseTo(Math.round(1000 * stated), 9);
    });
  });

  test("reaches every tab by a path a little longer than the straight way, the brakes by their free travel besides", () => {
    const tabs = hangTabs(spec);
    const carabiner = [0, spec.carabinerSpacingM / 2, 0] as const;
    tabs.forEach((tab, i) => {
      const [x, y, z] = tab.position;
      const straight = Math.hypot(x - carabiner[0], y - carabiner[1], z - carabiner[2]);
      const path = (wing.paths[i] as Path).specifiedM;
      const risers = (spec.risers[0]?.lengthMm as number) / 1000;
      const isBrake = tab.row.row === "brake";
      const whole = isBrake
        ? path - spec.brakes.freeTravelMm / 1000 + spec.brakes.pulleyHeightMm / 1000
        : path - strap + risers;
      expect(whole - straight).toBeGreaterThan(-0.001);
      // A single main brake line serves more than half the half-span.
      const longest = isBrake ? 1.1 : 1.05;
      expect(whole / straight).toBeLessThan(longest);
    });
  });

  test("has central lines of about 0.61 of the flat span", () => {
    const risers = (spec.risers[0]?.lengthMm as number) / 1000;
    const central = (wing.paths[0] as Path).specifiedM - strap + risers;
    expect(central / (wing.canopy.flatSpanM as number)).toBeGreaterThan(0.6);
    expect(central / (wing.canopy.flatSpanM as number)).toBeLessThan(0.635);
  });

  test("has whole row totals of neighbouring tabs that run smoothly from the middle outwards", () => {
    for (const row of rows.filter((each) => each !== "tip" && each !== "brake")) {
      const paths = wing.paths
        .filter((path) => path.side === "left" && path.row === row)
        .map((p) => p.specifiedM);
      for (let i = 1; i < paths.length; i++) {
        expect(Math.abs((paths[i] as number) - (paths[i - 1] as number))).toBeLessThan(0.3);
      }
    }
  });

  test("says in its note that it is invented and clears nothing", () => {
    expect(wing.note).toMatch(/Invented for demonstration/);
    expect(wing.note).toMatch(/Nothing here says that a wing may be flown/);
  });
});

test("the two wings show both data: one from the riser's base, one from the maillon", () => {
  expect(SCHOOL_WING.reference.from).toBe("riser");
  expect(LIGHT_WING.reference.from).toBe("maillon");
});

test("the same wing measured from the maillon has the same lines, and totals shorter by the strap", () => {
  const fromRiser = makeWing(SCHOOL_WING);
  const fromMaillon = makeWing({
    ...SCHOOL_WING,
    reference: { ...SCHOOL_WING.reference, from: "maillon" },
  });
  if (!("mirrored" in fromRiser.sides && "mirrored" in fromMaillon.sides))
    throw new Error("expected one half for both sides");
  expect(fromMaillon.sides.mirrored.lines).toEqual(fromRiser.sides.mirrored.lines);
  const other = fromMaillon.sides.mirrored.tabs;
  fromRiser.sides.mirrored.tabs.forEach((tab, i) => {
    expect((tab.pathMm as number) - (other[i]?.pathMm as number)).toBe(tab.row === "brake" ? 0 : 480);
  });
});

test("a wing whose lines shall rise higher than its canopy has no plan", () => {
  const rows = LIGHT_WING.rows.map((row) => ({
    ...row,
    riseM: row.riseM.map((rise) => 9 * rise),
  }));
  expect(() => makeWing({ ...LIGHT_WING, rows })).toThrow(RangeError);
});
