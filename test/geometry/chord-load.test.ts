import { describe, expect, it } from "vitest";
import { chordShares, liftAhead } from "../../src/geometry/chord-load.ts";

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

/** Centre of pressure over chord, by its own quadrature: ∫ x dL over the lift. */
function centreOfPressure(lift: number): number {
  const steps = 4000;
  let moment = 0;
  for (let i = 0; i < steps; i++) {
    const [a, b] = [i, i + 1].map((k) => (1 - Math.cos((Math.PI * k) / steps)) / 2) as [number, number];
    moment += ((a + b) / 2) * (liftAhead(b, lift) - liftAhead(a, lift));
  }
  return moment;
}

describe("lift along the chord", () => {
  it("is nothing ahead of the leading edge and the whole ahead of the trailing edge", () => {
    for (const lift of [0.35, 0.6, 0.9]) {
      expect(liftAhead(0, lift)).toBe(0);
      expect(liftAhead(-0.1, lift)).toBe(0);
      expect(liftAhead(1, lift)).toBeCloseTo(1, 12);
    }
  });

  // Thin airfoil: c_m about the quarter chord is −π/4 (A1 − A2), whatever the lift.
  it("has its centre at the quarter chord plus π/4·(A1 − A2) over the lift coefficient", () => {
    const moment = (Math.PI / 4) * (0.0955064 - 0.0791636);
    for (const lift of [0.35, 0.6, 0.9]) expect(centreOfPressure(lift)).toBeCloseTo(0.25 + moment / lift, 4);
  });

  // Anderson, Fundamentals of Aerodynamics, NACA 23012 at 4°: c_l 0.559, x_cp/c 0.273 (recalculated 0.558574, 0.272979).
  it("has its centre where a textbook example has it", () => {
    expect(centreOfPressure(0.558574)).toBeCloseTo(0.272979, 5);
  });

  it("grows steadily over the lined part at trim; the slightly reflexed tail takes less than a hundredth back", () => {
    let before = 0;
    for (let i = 1; i <= 100; i++) {
      const here = liftAhead(i / 100);
      if (i <= 85) expect(here).toBeGreaterThan(before);
      expect(here).toBeLessThan(1.01);
      before = here;
    }
  });
});

describe("shares of the rows", () => {
  const LAYOUTS = [
    [0.09, 0.29, 0.55, 0.78],
    [0.1, 0.33, 0.62],
    [0.1, 0.3, 0.52, 0.73],
    [0.12, 0.58],
  ];

  it("add up to the whole, none of them negative", () => {
    for (const layout of [...LAYOUTS, [0.4], [0.02, 0.04, 0.06, 0.95]]) {
      const shares = chordShares(layout);
      expect(sum(shares)).toBeCloseTo(1, 12);
      for (const share of shares) expect(share).toBeGreaterThan(0);
    }
  });

  it("keep the centre of pressure, so that the wing isn't pitched by how its load is shared out", () => {
    for (const layout of LAYOUTS) {
      const centre = sum(chordShares(layout).map((share, i) => share * (layout[i] as number)));
      expect(centre).toBeCloseTo(centreOfPressure(0.6), 4);
    }
  });

  // Bands: common practice, no source; from an inviscid panel calculation, rounded outwards. Whole percent.
  const BANDS = [
    [45, 60],
    [15, 30],
    [14, 25],
    [5, 10],
  ] as const;
  it.each([
    ["four rows at 9, 29, 55 and 78 %", [0.09, 0.29, 0.55, 0.78]],
    ["three rows at 10, 33 and 62 %", [0.1, 0.33, 0.62]],
  ])("lie in the plausible bands for %s", (_, layout) => {
    chordShares(layout).forEach((share, i) => {
      const [least, most] = BANDS[i] as readonly [number, number];
      const percent = Math.round(100 * share);
      expect(percent).toBeGreaterThanOrEqual(least);
      expect(percent).toBeLessThanOrEqual(most);
    });
  });

  it("move forwards as the lift coefficient grows", () => {
    const low = chordShares(LAYOUTS[0] as number[], 0.5);
    const high = chordShares(LAYOUTS[0] as number[], 0.9);
    expect(high[0]).toBeGreaterThan(low[0] as number);
    expect(high[1]).toBeLessThan(low[1] as number);
  });

  it("give a single row everything", () => {
    expect(chordShares([0.3])).toEqual([1]);
  });
});
