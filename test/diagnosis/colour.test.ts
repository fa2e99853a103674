import { converter, differenceCiede2000, wcagContrast } from "culori";
import { describe, expect, it } from "vitest";
import {
  type Colour,
  deviationColour,
  deviationScale,
  GROUND_HEX,
  isBeyondScale,
  legendStops,
} from "../../src/diagnosis/colour.ts";
import { type ColourVision, seenWith } from "./colour-vision.ts";

const difference = differenceCiede2000();
const toLab = converter("lab65");
const scale = deviationScale();
const middle = (scale.length - 1) / 2;

const wide = (rangeM: number, neutralM = 0) => ({ rangeM, neutralM });
const rgb = ({ r, g, b }: Pick<Colour, "r" | "g" | "b">) => ({ mode: "rgb" as const, r, g, b });
const apart = (a: Colour, b: Colour, vision: ColourVision) =>
  difference(rgb(seenWith(vision, a)), rgb(seenWith(vision, b)));
const entry = (i: number): Colour => scale[i] as Colour;

describe("the deviation colour scale", () => {
  it("has a neutral in the middle and as many steps to either side", () => {
    expect(scale.length % 2).toBe(1);
    const { a, b } = toLab(rgb(entry(middle)));
    expect(Math.hypot(a, b)).toBeLessThan(0.5);
  });

  it.each([
    ["short", 0],
    ["long", middle],
  ])("goes in even CIEDE2000 steps along the %s arm", (_name, first) => {
    const steps = Array.from({ length: middle }, (_, i) =>
      difference(rgb(entry(first + i)), rgb(entry(first + i + 1))),
    );
    expect(Math.max(...steps) / Math.min(...steps)).toBeLessThan(1.01);
  });

  it("gets darker with every step away from the neutral, equally on both sides", () => {
    for (let i = 1; i <= middle; i++) {
      const short = toLab(rgb(entry(middle - i))).l;
      const long = toLab(rgb(entry(middle + i))).l;
      expect(short).toBeLessThan(toLab(rgb(entry(middle - i + 1))).l);
      expect(long).toBeLessThan(toLab(rgb(entry(middle + i - 1))).l);
      expect(Math.abs(short - long)).toBeLessThan(0.01);
    }
  });

  it("gets more colourful with every step away from the neutral", () => {
    const chroma = (i: number) => Math.hypot(toLab(rgb(entry(i))).a, toLab(rgb(entry(i))).b);
    for (let i = 1; i <= middle; i++) {
      expect(chroma(middle - i)).toBeGreaterThan(chroma(middle - i + 1) - 0.05);
      expect(chroma(middle + i)).toBeGreaterThan(chroma(middle + i - 1) - 0.05);
    }
  });

  it("stands out from the pale ground everywhere by the contrast asked of lines and symbols (WCAG 2.1, 1.4.11: 3:1)", () => {
    for (const colour of scale) expect(wcagContrast(colour.hex, GROUND_HEX)).toBeGreaterThanOrEqual(3);
  });

  // Two colours 10 apart are told apart at a glance even on thin lines; limits recorded from the scale, not from theory.
  it.each([
    ["normal", 40, 24],
    ["protan", 40, 22],
    ["deutan", 40, 24],
    ["tritan", 40, 34],
  ] as const)("tells short from long in %s vision", (vision, atEnd, atHalf) => {
    expect(apart(entry(0), entry(2 * middle), vision)).toBeGreaterThan(atEnd);
    expect(apart(entry(middle / 2), entry((3 * middle) / 2), vision)).toBeGreaterThan(atHalf);
    expect(apart(entry((3 * middle) / 4), entry((5 * middle) / 4), vision)).toBeGreaterThan(11);
  });

  it.each(["normal", "protan", "deutan", "tritan"] as const)(
    "tells the scale's ends from the neutral in %s vision",
    (vision) => {
      expect(apart(entry(0), entry(middle), vision)).toBeGreaterThan(20);
      expect(apart(entry(2 * middle), entry(middle), vision)).toBeGreaterThan(20);
    },
  );
});

describe("the colour of a deviation", () => {
  it("is the neutral for a line as specified, rust for a short one, blue for a long one", () => {
    expect(deviationColour(0, wide(0.02))).toBe(entry(middle));
    const short = deviationColour(-0.02, wide(0.02));
    const long = deviationColour(0.02, wide(0.02));
    expect(short.r).toBeGreaterThan(short.b + 0.3);
    expect(long.b).toBeGreaterThan(long.r + 0.3);
  });

  it("depends on the deviation over the range only", () => {
    for (const share of [-1, -0.4, 0.03, 0.77]) {
      expect(deviationColour(share * 0.01, wide(0.01))).toBe(deviationColour(share * 0.04, wide(0.04)));
    }
  });

  it("keeps the end colour beyond the range, and says that it is beyond", () => {
    expect(deviationColour(-0.5, wide(0.02))).toBe(entry(0));
    expect(deviationColour(0.5, wide(0.02))).toBe(entry(2 * middle));
    expect(isBeyondScale(-0.021, wide(0.02))).toBe(true);
    expect(isBeyondScale(0.02, wide(0.02))).toBe(false);
    expect(isBeyondScale(undefined, wide(0.02))).toBe(false);
  });

  it("holds everything inside a neutral half width neutral, on both sides alike", () => {
    for (const deviation of [-0.003, 0.001, 0.003])
      expect(deviationColour(deviation, wide(0.02, 0.003))).toBe(entry(middle));
    expect(deviationColour(0.006, wide(0.02, 0.003))).not.toBe(entry(middle));
    expect(deviationColour(0.02, wide(0.02, 0.003))).toBe(entry(2 * middle));
  });

  it("is a colour of its own, lighter than the whole scale, where nothing was measured", () => {
    const notMeasured = deviationColour(undefined, wide(0.02));
    expect(scale).not.toContain(notMeasured);
    expect(toLab(rgb(notMeasured)).l).toBeGreaterThan(toLab(rgb(entry(middle))).l + 8);
  });

  it("refuses a range that isn't positive and a neutral as wide as the range", () => {
    expect(() => deviationColour(0.001, wide(0))).toThrow(/range must be positive, got 0/);
    expect(() => deviationColour(0.001, wide(0.01, 0.01))).toThrow(/neutral half width/);
  });
});

describe("the legend", () => {
  it("runs from short to long with the neutral in the middle and the colours the lines have", () => {
    const stops = legendStops(wide(0.02), 5);
    expect(stops.map((s) => s.deviationM)).toEqual([-0.02, -0.01, 0, 0.01, 0.02]);
    for (const stop of stops) expect(stop.colour).toBe(deviationColour(stop.deviationM, wide(0.02)));
  });

  it("has the neutral over its whole half width, and right numbers beside it", () => {
    const stops = legendStops(wide(0.02, 0.006), 9);
    expect(stops.map((s) => Math.round(s.deviationM * 1000))).toEqual([-20, -15, -10, -5, 0, 5, 10, 15, 20]);
    expect(stops.map((s) => s.colour === entry(middle))).toEqual(
      [-20, -15, -10, -5, 0, 5, 10, 15, 20].map((mm) => Math.abs(mm) <= 6),
    );
  });

  it("refuses fewer than two stops", () => {
    expect(() => legendStops(wide(0.02), 1)).toThrow(/at least 2/);
  });
});
