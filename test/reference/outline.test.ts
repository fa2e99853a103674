import { all, create, type FactoryFunctionMap } from "mathjs";
import { describe, expect, test } from "vitest";
import { ellipticArc as arcOfEllipse, arcPoint } from "../../src/geometry/arc.ts";
import { ellipticArc, outlineFigures, truncatedEllipseChord } from "../../src/geometry/outline.ts";
import { planformArea, planformChord } from "../../src/geometry/planform.ts";

/** The parts of the library that its types leave out, as used here. */
interface OdeSolver {
  solveODE(
    slopes: (t: number, state: number[]) => number[],
    span: [number, number],
    start: number[],
    options: { tol: number; maxStep: number },
  ): { t: number[]; y: number[][] };
}
const math = create(all as FactoryFunctionMap, { number: "number" });
const { solveODE } = math as unknown as OdeSolver;

/**
 * H. Belloc, "Wind Tunnel Investigation of a Rigid Paraglider Reference Wing", J. Aircraft 52(2):703–708, 2015,
 * doi 10.2514/1.C032513; table as reproduced in P. Heatwole, Parametric Paraglider Modeling, MSc thesis, 2022,
 * doi 10.5281/zenodo.6383051. 1:8 model, right half, on the 60 % chord line: y [m], z [m] (negative upwards from the tip), chord [m].
 */
const BELLOC_TABLE = [
  [0.0, -0.375, 0.35],
  [0.178, -0.362, 0.339],
  [0.344, -0.325, 0.308],
  [0.486, -0.265, 0.259],
  [0.595, -0.188, 0.198],
  [0.664, -0.097, 0.137],
  [0.688, 0.0, 0.107],
] as const;
/** The same paper's full-scale figures. */
const BELLOC = {
  flatAreaM2: 28.56,
  flatSpanM: 13.64,
  projectedAreaM2: 25.08,
  projectedSpanM: 11.0,
  aspectRatio: 6.52,
  projectedAspectRatio: 4.82,
  archHeightM: 3.0,
  rootChordM: 2.8,
};
const SCALE = 8;

describe("the tunnel's reference wing (Belloc 2015)", () => {
  test("joined by straight pieces from its table has the published figures, less what the chords of the arc leave out", () => {
    let span = 0;
    let area = 0;
    let projected = 0;
    for (let i = 1; i < BELLOC_TABLE.length; i++) {
      const [y0, z0, c0] = BELLOC_TABLE[i - 1] as (typeof BELLOC_TABLE)[number];
      const [y1, z1, c1] = BELLOC_TABLE[i] as (typeof BELLOC_TABLE)[number];
      const piece = Math.hypot(y1 - y0, z1 - z0);
      span += 2 * SCALE * piece;
      area += SCALE * SCALE * (c0 + c1) * piece;
      projected += SCALE * SCALE * (c0 + c1) * (y1 - y0);
    }
    // Our own sums over the table: 13.60 m, 28.42 m², 24.92 m². Straight pieces lie inside the arc and the ellipse: 0.3 to 0.7 % low.
    expect(span).toBeCloseTo(13.6, 2);
    expect(area).toBeCloseTo(28.42, 1);
    expect(projected).toBeCloseTo(24.92, 1);
    for (const [sum, published] of [
      [span, BELLOC.flatSpanM],
      [area, BELLOC.flatAreaM2],
      [projected, BELLOC.projectedAreaM2],
    ] as const) {
      expect(sum).toBeLessThan(published);
      expect(sum / published).toBeGreaterThan(0.993);
    }
  });

  test("is half an ellipse from the front within 1.2 mm of the model", () => {
    const arc = ellipticArc(Math.atan2(0.375, 0.688), Math.PI / 2, BELLOC.flatSpanM / SCALE);
    for (const [y, z] of BELLOC_TABLE) {
      const height = 0.375 * Math.sqrt(1 - (y / 0.688) ** 2);
      expect(Math.abs(height - Math.abs(z))).toBeLessThan(0.00125);
    }
    // The arc of the published flat span: the ellipse's half-axes come out as the table's 688 and 375 mm within 3 mm.
    expect(Math.abs(arc.semiAxesM[0] - 0.688)).toBeLessThan(0.003);
    expect(Math.abs(arc.semiAxesM[1] - 0.375)).toBeLessThan(0.003);
  });

  test("has the chord of a truncated ellipse over the projected span, within 1.1 mm of the model", () => {
    for (const [y, , chord] of BELLOC_TABLE) {
      expect(Math.abs(truncatedEllipseChord(0.35, 0.107, y / 0.688) - chord)).toBeLessThan(0.0011);
    }
    expect(1 / Math.sqrt(1 - (0.107 / 0.35) ** 2)).toBeCloseTo(0.7226 / 0.688, 3);
  });

  test("made of those two families has the published span, areas, aspect ratios and arch within 0.5 %", () => {
    const arc = ellipticArc(Math.atan2(0.375, 0.688), Math.PI / 2, BELLOC.flatSpanM);
    const halfProjected = arc.projectedSpanM / 2;
    let area = 0;
    let projected = 0;
    const strips = 2000;
    for (let i = 0; i < strips; i++) {
      const a = arc.at(i / strips);
      const b = arc.at((i + 1) / strips);
      const middle = arc.at((i + 0.5) / strips);
      const chord = truncatedEllipseChord(
        BELLOC.rootChordM,
        0.107 * SCALE,
        Math.min(1, middle.y / halfProjected),
      );
      area += (2 * chord * BELLOC.flatSpanM) / 2 / strips;
      projected += 2 * chord * (b.y - a.y);
    }
    expect(arc.projectedSpanM / BELLOC.projectedSpanM).toBeCloseTo(1, 2);
    expect(Math.abs(arc.archHeightM / BELLOC.archHeightM - 1)).toBeLessThan(0.005);
    expect(Math.abs(area / BELLOC.flatAreaM2 - 1)).toBeLessThan(0.005);
    expect(Math.abs(projected / BELLOC.projectedAreaM2 - 1)).toBeLessThan(0.005);
    expect(Math.abs(BELLOC.flatSpanM ** 2 / area / BELLOC.aspectRatio - 1)).toBeLessThan(0.006);
    expect(Math.abs(arc.projectedSpanM ** 2 / projected / BELLOC.projectedAspectRatio - 1)).toBeLessThan(
      0.006,
    );
  });
});

/**
 * P. Heatwole, Parametric Paraglider Modeling, MSc thesis, 2022, doi 10.5281/zenodo.6383051: a wing of 23 m², flat span
 * 11.15 m, chords 2.58 and 0.52 m, mean anhedral 32°, tip roll 75°; the thesis gives a projected span of 8.845 m and a
 * projected area of 19.405 m², against 8.84 m and 19.55 m² listed for the wing itself. Its sections are twisted towards the
 * tip, which moves the tips' edges outwards and takes some of the shadow; arc and chord alone give 8.827 m and 19.434 m².
 */
describe("the thesis' example wing (Heatwole 2022)", () => {
  const arc = arcOfEllipse((32 * Math.PI) / 180, (75 * Math.PI) / 180, 11.15);
  const chord = (sigma: number) => truncatedEllipseChord(2.58, 0.52, sigma);

  test("has the published projected span within 0.25 %, the twist left out", () => {
    expect(Math.abs(arc.projectedSpanM / 8.845 - 1)).toBeLessThan(0.0025);
    expect(arc.projectedSpanM).toBeCloseTo(8.827, 3);
  });

  test("has the published areas within 0.2 %, the twist left out", () => {
    let flat = 0;
    let projected = 0;
    const strips = 4000;
    for (let i = 0; i < strips; i++) {
      const c = chord((i + 0.5) / strips);
      flat += (c * 11.15) / strips;
      projected += 2 * c * (arc.at((i + 1) / strips).y - arc.at(i / strips).y);
    }
    expect(Math.abs(flat / 23 - 1)).toBeLessThan(0.002);
    expect(Math.abs(projected / 19.405 - 1)).toBeLessThan(0.002);
  });
});

describe("our arc and planform against a general mathematics library", () => {
  const shapes = [
    { bank: 0.3, p: 1 },
    { bank: 1.2, p: 1.3 },
    { bank: 1.5, p: 2 },
    { bank: 2.4, p: 0.7 },
  ];

  test("the arc is the solution of dy/ds = cos θ, dz/ds = −sin θ by a Runge–Kutta solver", () => {
    for (const { bank, p } of shapes) {
      const solution = solveODE((s) => [Math.cos(bank * s ** p), -Math.sin(bank * s ** p)], [0, 1], [0, 0], {
        tol: 1e-11,
        maxStep: 0.01,
      });
      const [y, z] = solution.y.at(-1) as [number, number];
      const tip = arcPoint(1, bank, p, 1);
      expect(tip.y).toBeCloseTo(y, 8);
      expect(tip.z).toBeCloseTo(z, 8);
    }
  });

  test("at exponent 1 the arc is a circle: y = h·sin θ/θ, z = −h·(1 − cos θ)/θ", () => {
    for (const bank of [0.2, 0.9, 1.7, 3]) {
      const tip = arcPoint(5.5, bank, 1, 1);
      expect(tip.y).toBeCloseTo((5.5 * Math.sin(bank)) / bank, 12);
      expect(tip.z).toBeCloseTo((-5.5 * (1 - Math.cos(bank))) / bank, 12);
    }
  });

  test("the projected span is the power series of the cosine, integrated term by term, to 13 digits", () => {
    for (const { bank, p } of shapes) {
      let series = 0;
      for (let k = 0; k < 30; k++) {
        series += ((-1) ** k * bank ** (2 * k)) / math.factorial(2 * k) / (2 * k * p + 1);
      }
      expect(arcPoint(1, bank, p, 1).y).toBeCloseTo(series, 12);
    }
  });

  test("the projected area is the same series with the ellipse's moments ½·B(kp + ½, 3/2)", () => {
    const beta = (a: number, b: number) => (math.gamma(a) * math.gamma(b)) / math.gamma(a + b);
    for (const { bank, p } of shapes) {
      let series = 0;
      for (let k = 0; k < 30; k++) {
        const moment = 0.6 / (2 * k * p + 1) + (2.8 - 0.6) * 0.5 * beta(k * p + 0.5, 1.5);
        series += (((-1) ** k * bank ** (2 * k)) / math.factorial(2 * k)) * moment;
      }
      const figures = outlineFigures({
        flatHalfSpanM: 0.5,
        rootChordM: 2.8,
        tipChordM: 0.6,
        tipBankRad: bank,
        arcExponent: p,
        sweepFraction: 0.3,
      });
      expect(figures.projectedAreaM2).toBeCloseTo(series, 10);
    }
  });

  test("the flat area is the integral of the chord", () => {
    const solution = solveODE(
      // σ = sin u takes the ellipse's vertical tangent at the tip away.
      (u) => [planformChord(2.8, 0.6, Math.sin(u)) * Math.cos(u)],
      [0, Math.PI / 2],
      [0],
      { tol: 1e-11, maxStep: 0.02 },
    );
    const half = (solution.y.at(-1) as [number])[0];
    expect(planformArea(5.9, 2.8, 0.6)).toBeCloseTo(2 * 5.9 * half, 7);
  });
});
