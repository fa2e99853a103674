import { describe, expect, it } from "vitest";
import { attachedStations, cellCount } from "../../src/geometry/stations.ts";
import { samplePlan, wingOf } from "../plan/factory.ts";

const plan = samplePlan();
const wing = wingOf(plan);
const stations = attachedStations(wing);

describe("the ribs that carry tabs", () => {
  it("run from the left tip to the right tip, a mirror image about the middle", () => {
    const sigmas = stations.map((station) => station.sigma);
    expect(sigmas).toEqual([...sigmas].sort((a, b) => a - b));
    stations.forEach((station, s) => {
      const other = stations[stations.length - 1 - s] as (typeof stations)[number];
      expect(other.sigma).toBe(-station.sigma);
      expect(other.rib).toBe(station.rib);
      expect(other.side).not.toBe(station.side);
      expect(other.tabs.map((tab) => tab.row)).toEqual(station.tabs.map((tab) => tab.row));
    });
    expect(stations[0]?.side).toBe("left");
  });

  it("hold every tab of the wing once, from the front to the rear", () => {
    const tabs = stations.flatMap((station) => station.tabs.map((tab) => tab.tab));
    expect([...tabs].sort((a, b) => a - b)).toEqual(wing.tabs.map((_, i) => i));
    for (const { tabs: own } of stations) {
      const fractions = own.map((tab) => tab.chordFraction);
      expect(fractions).toEqual([...fractions].sort((a, b) => a - b));
    }
  });

  it("stand on their cell walls: with 46 cells rib 2 is one wall of 23 from the middle", () => {
    const rib2 = stations.find((station) => station.side === "right" && station.rib === 2);
    expect(rib2?.sigma).toBeCloseTo(1 / 23, 12);
  });

  it("take a tab's own chord fraction before the row's, and the row's before a typical one", () => {
    const own = samplePlan();
    const tabs = own.sides.mirrored.tabs;
    const first = tabs.find((tab) => tab.id === "B1");
    if (first) first.chordFraction = 0.27;
    if (own.canopy) own.canopy.rowChordFractions = { A: 0.1, B: 0.3, D: 0.73, tip: 0.3 };
    const found = attachedStations(wingOf(own)).flatMap((station) => station.tabs);
    const parsed = wingOf(own);
    const of = (id: string) => found.find((tab) => parsed.tabs[tab.tab]?.key === `left:${id}`);
    expect(of("B1")).toMatchObject({ chordFraction: 0.27, assumed: false });
    expect(of("B2")).toMatchObject({ chordFraction: 0.3, assumed: false });
    expect(of("C1")).toMatchObject({ chordFraction: 0.56, assumed: true });
    expect(of("K1")).toMatchObject({ chordFraction: 1, assumed: false });
  });

  it("keep the two halves of a rib in the very middle apart, but by less than a hundredth of the half-span", () => {
    const central = samplePlan({ tip: false });
    for (const tab of central.sides.mirrored.tabs) if (tab.row !== "brake") tab.rib -= 1;
    const innermost = attachedStations(wingOf(central)).filter((station) => station.rib === 1);
    expect(innermost.length).toBe(2);
    for (const { sigma } of innermost) {
      expect(Math.abs(sigma)).toBeGreaterThan(0);
      expect(Math.abs(sigma)).toBeLessThan(0.01);
    }
  });
});

describe("the number of cells", () => {
  it("is the plan's", () => {
    expect(cellCount(wing)).toBe(46);
  });

  it("puts the outermost rib with a tab near the tip, but not beyond it, where the plan gives none", () => {
    for (const options of [{}, { tip: false }, { rows: ["A", "B"] as const, tip: false, brakes: false }]) {
      const unknown = samplePlan(options);
      unknown.canopy = {};
      const open = wingOf(unknown);
      const outermost = Math.max(...attachedStations(open).map((station) => station.sigma));
      expect(outermost).toBeGreaterThan(0.85);
      expect(outermost).toBeLessThanOrEqual(1);
      expect(cellCount(open) % 2).toBe(0);
    }
  });
});
