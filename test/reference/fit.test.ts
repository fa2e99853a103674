import { describe, expect, test } from "vitest";
import { ellipticArc } from "../../src/geometry/arc.ts";
import { fitWing } from "../../src/geometry/fit.ts";
import { cascadeOf } from "../../src/geometry/lay-out.ts";
import {
  outlineFigures,
  type RibFrame,
  ribFrame,
  truncatedEllipseChord,
} from "../../src/geometry/outline.ts";
import type { PlanFile } from "../../src/plan/index.ts";
import { wingOf } from "../plan/factory.ts";
import { type HungWing, hungPlan } from "./hung-wing.ts";

const DEGREE = Math.PI / 180;

/** A rib at a point of the arc, its chord turned nose up by the twist about the given fraction, over the carabiners. */
function rib(
  { y, z, bankRad }: { readonly y: number; readonly z: number; readonly bankRad: number },
  {
    chordM,
    twist,
    about,
    x,
  }: { readonly chordM: number; readonly twist: number; readonly about: number; readonly x: number },
): RibFrame {
  const sin = Math.sin(twist);
  const cos = Math.cos(twist);
  const chordDirection = [cos, -sin * Math.sin(bankRad), -sin * Math.cos(bankRad)] as const;
  return {
    sigma: 0,
    chordM,
    origin: [
      x - about * chordM * chordDirection[0],
      y - about * chordM * chordDirection[1],
      z - about * chordM * chordDirection[2],
    ],
    chordDirection,
    normal: [sin, cos * Math.sin(bankRad), cos * Math.cos(bankRad)],
    spanDirection: [0, Math.cos(bankRad), -Math.sin(bankRad)],
  };
}

function fitted(plan: PlanFile) {
  const wing = wingOf(plan);
  const { fitted: fit } = fitWing(wing, cascadeOf(wing));
  const figures = outlineFigures(fit.outline);
  const chordAt = (sigma: number) => ribFrame(fit.outline, sigma).chordM;
  const deviation = (name: string) =>
    fit.report.parameters.find((each) => each.name === name)?.deviation as number;
  return { fit, figures, chordAt, deviation };
}

/**
 * H. Belloc, "Wind Tunnel Investigation of a Rigid Paraglider Reference Wing", J. Aircraft 52(2):703–708, 2015,
 * doi 10.2514/1.C032513; table as reproduced in P. Heatwole, Parametric Paraglider Modeling, MSc thesis, 2022,
 * doi 10.5281/zenodo.6383051. 1:8 model, right half, on the straight 60 % chord line: y [m], z [m], chord [m], twist [°].
 */
const BELLOC_TABLE = [
  [0.0, -0.375, 0.35, 0],
  [0.178, -0.362, 0.339, 0],
  [0.344, -0.325, 0.308, 0],
  [0.486, -0.265, 0.259, 0],
  [0.595, -0.188, 0.198, 0],
  [0.664, -0.097, 0.137, 3],
  [0.688, 0.0, 0.107, 3],
] as const;
/** Full scale, same source. */
const BELLOC = {
  flatAreaM2: 28.56,
  flatSpanM: 13.64,
  projectedAreaM2: 25.08,
  projectedSpanM: 11,
  archHeightM: 3,
};
const SCALE = 8;

/** Values of a column between the table's ribs, by the distance along its polyline over the half-span. */
function alongTable(column: 0 | 1 | 2 | 3, sigma: number): number {
  const lengths = [0];
  for (let i = 1; i < BELLOC_TABLE.length; i++) {
    const [y0, z0] = BELLOC_TABLE[i - 1] as (typeof BELLOC_TABLE)[number];
    const [y1, z1] = BELLOC_TABLE[i] as (typeof BELLOC_TABLE)[number];
    lengths.push((lengths[i - 1] as number) + Math.hypot(y1 - y0, z1 - z0));
  }
  const at = sigma * (lengths.at(-1) as number);
  const i = Math.min(
    BELLOC_TABLE.length - 1,
    Math.max(
      1,
      lengths.findIndex((length) => length >= at),
    ),
  );
  const from = lengths[i - 1] as number;
  const share = (at - from) / ((lengths[i] as number) - from);
  const a = (BELLOC_TABLE[i - 1] as (typeof BELLOC_TABLE)[number])[column];
  return a + share * ((BELLOC_TABLE[i] as (typeof BELLOC_TABLE)[number])[column] - a);
}

describe("lines hung on the tunnel's reference wing (Belloc 2015), the plan telling spans, flat area and cells alone", () => {
  const cells = 64;
  const arc = ellipticArc(Math.atan2(0.375, 0.688), Math.PI / 2, BELLOC.flatSpanM);
  const sigmas = Array.from({ length: 16 }, (_, i) => (2 * i + 1) / 32);
  // The ellipse that the table's ribs lie on within 1.2 mm of the model, chords of its truncated ellipse: see outline.test.ts.
  const ribs: HungWing["ribs"] = sigmas.map((sigma, i) => {
    const point = arc.at(sigma);
    return {
      rib: 2 * i + 2,
      frame: rib(
        { ...point, z: point.z + 8.3 },
        {
          chordM: truncatedEllipseChord(0.35 * SCALE, 0.107 * SCALE, Math.min(1, point.y / (0.688 * SCALE))),
          twist: alongTable(3, sigma) * DEGREE,
          about: 0.6,
          x: (0.6 - 0.42) * 0.35 * SCALE,
        },
      ),
    };
  });
  const rows = [
    { row: "A", chordFraction: 0.11 },
    { row: "B", chordFraction: 0.32 },
    { row: "C", chordFraction: 0.62 },
  ] as const;
  const { flatAreaM2, flatSpanM, projectedSpanM } = BELLOC;
  const { fit, figures, chordAt } = fitted(
    hungPlan({ ribs, rows, canopy: { flatAreaM2, flatSpanM, projectedSpanM, cells } }),
  );

  test("the ribs that are hung stand where the table has them, within 6 cm of its straight pieces on the whole wing", () => {
    for (const [i, sigma] of sigmas.entries()) {
      const { frame } = ribs[i] as HungWing["ribs"][number];
      expect(Math.abs(frame.chordM - SCALE * alongTable(2, sigma))).toBeLessThan(0.04);
      const y = frame.origin[1] + 0.6 * frame.chordM * frame.chordDirection[1];
      expect(Math.abs(y - SCALE * alongTable(0, sigma))).toBeLessThan(0.06);
    }
  });

  test("are met within 6 mm (root mean square)", () => {
    expect(fit.report.rmsMisfitM).toBeLessThan(0.006);
  });

  test("give the published arch height within 1 % and the projected area within 0.5 %", () => {
    expect(Math.abs(figures.archHeightM / BELLOC.archHeightM - 1)).toBeLessThan(0.01);
    expect(Math.abs(figures.projectedAreaM2 / BELLOC.projectedAreaM2 - 1)).toBeLessThan(0.005);
  });

  test("give the table's chords within 10 cm, 4 % of the root chord", () => {
    for (const sigma of [0, 0.21, 0.41, 0.59, 0.75, 0.88])
      expect(Math.abs(chordAt(sigma) - SCALE * alongTable(2, sigma))).toBeLessThan(0.1);
  });

  test("give the arc within 3 cm at every rib", () => {
    for (const [i, sigma] of sigmas.entries()) {
      const here = ribFrame(fit.outline, sigma).origin;
      const there = arc.at(sigmas[i] as number);
      expect(Math.hypot(here[1] - there.y, here[2] - there.z)).toBeLessThan(0.03);
    }
  });
});

/**
 * P. Heatwole, Parametric Paraglider Modeling, MSc thesis, 2022, doi 10.5281/zenodo.6383051: flat span 11.15 m, flat area
 * 23 m², chords 2.58 and 0.52 m, mean anhedral 32°, tip roll 75°, tabs at 11 % and 59 % chord, central line 6.80 m from tab to
 * carabiner; the wing's listed projected span is 8.84 m and its projected area 19.55 m², the thesis' model has 19.405 m².
 */
describe("lines hung on the thesis' example wing (Heatwole 2022), the plan telling spans, flat area and cells alone", () => {
  const flatSpanM = 11.15;
  const arc = ellipticArc(32 * DEGREE, 75 * DEGREE, flatSpanM);
  const chord = (sigma: number) => truncatedEllipseChord(2.58, 0.52, sigma);
  const rows = [
    { row: "A", chordFraction: 0.11 },
    { row: "B", chordFraction: 0.59 },
  ] as const;
  const sigmas = Array.from({ length: 12 }, (_, i) => (2 * i + 1) / 24);
  const ribsAt = (height: number): HungWing["ribs"] =>
    sigmas.map((sigma, i) => {
      const point = arc.at(sigma);
      return {
        rib: 2 * i + 2,
        frame: rib(
          { ...point, z: point.z + height },
          { chordM: chord(sigma), twist: 0, about: 0.6, x: (0.6 - 0.408) * 2.58 },
        ),
      };
    });
  /** From the innermost front tab down to the carabiner [m]. */
  const central = (ribs: HungWing["ribs"]): number =>
    (wingOf(hungPlan({ ribs, rows, canopy: {} })).paths[0]?.specifiedM as number) + 0.48;
  // The lines fan out, so that a path is some centimetres longer than its tab is high.
  const ribs = ribsAt(6.8 + (6.8 - central(ribsAt(6.8))));
  const { fit, figures, chordAt } = fitted(
    hungPlan({
      ribs,
      rows,
      canopy: { flatAreaM2: 23, flatSpanM, projectedSpanM: 8.84, cells: 48 },
    }),
  );

  test("have the listed central line, 6.80 m from the innermost front tab to the carabiner, within a centimetre", () => {
    expect(Math.abs(central(ribs) - 6.8)).toBeLessThan(0.01);
  });

  test("are met within 6 mm (root mean square)", () => {
    expect(fit.report.rmsMisfitM).toBeLessThan(0.006);
  });

  test("give the listed projected area within 1.5 %, and the arch of the thesis' arc within 1 %", () => {
    expect(Math.abs(figures.projectedAreaM2 / 19.55 - 1)).toBeLessThan(0.015);
    expect(Math.abs(figures.archHeightM / arc.archHeightM - 1)).toBeLessThan(0.01);
  });

  test("give the chords within 10 cm", () => {
    for (const sigma of [0, 0.2, 0.4, 0.6, 0.8])
      expect(Math.abs(chordAt(sigma) - chord(sigma))).toBeLessThan(0.1);
  });
});
