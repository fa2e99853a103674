import { describe, expect, test } from "vitest";
import {
  ellipticArc,
  type OutlineParameters,
  outlineFigures,
  pointOnRib,
  ribFrame,
  ribSigma,
  tipBankFromSpans,
  truncatedEllipseChord,
  type Vec3,
} from "../../src/geometry/outline.ts";

const WING: OutlineParameters = {
  flatHalfSpanM: 5.9,
  rootChordM: 2.8,
  tipChordM: 0.6,
  tipBankRad: 1.25,
  arcExponent: 1.3,
  sweepFraction: 0.35,
  twistTipRad: 0.04,
};
const SIGMAS = [-1, -0.83, -0.4, -0.05, 0, 0.05, 0.4, 0.83, 1];

const dot = (a: Vec3, b: Vec3) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

describe("a rib's frame", () => {
  test("has unit directions, chord × span = normal, on both sides and with twist", () => {
    for (const sigma of SIGMAS) {
      const rib = ribFrame(WING, sigma);
      const made = cross(rib.chordDirection, rib.spanDirection);
      for (let k = 0; k < 3; k++) expect(made[k]).toBeCloseTo(rib.normal[k] as number, 14);
      expect(dot(rib.chordDirection, rib.chordDirection)).toBeCloseTo(1, 14);
      expect(dot(rib.spanDirection, rib.spanDirection)).toBeCloseTo(1, 14);
      expect(dot(rib.chordDirection, rib.spanDirection)).toBeCloseTo(0, 14);
    }
  });

  test("stands level in the middle, leading edge at the origin", () => {
    expect(ribFrame(WING, 0)).toEqual({
      sigma: 0,
      chordM: 2.8,
      origin: [0, 0, -0],
      chordDirection: [1, -0, -0],
      normal: [0, 0, 1],
      spanDirection: [0, 1, -0],
    });
  });

  test("leans outwards: the normal points to the right on the right, to the left on the left, and span always to the right", () => {
    expect(ribFrame(WING, 0.7).normal[1]).toBeGreaterThan(0.3);
    expect(ribFrame(WING, -0.7).normal[1]).toBeLessThan(-0.3);
    for (const sigma of SIGMAS) expect(ribFrame(WING, sigma).spanDirection[1]).toBeGreaterThan(0);
    expect(ribFrame(WING, 0.7).spanDirection[2]).toBeLessThan(0);
    expect(ribFrame(WING, -0.7).spanDirection[2]).toBeGreaterThan(0);
  });

  test("is the mirror image of the same rib on the other side", () => {
    for (const sigma of [0.05, 0.4, 0.83, 1]) {
      const right = ribFrame(WING, sigma);
      const left = ribFrame(WING, -sigma);
      for (const xi of [0, 0.3, 1]) {
        const r = pointOnRib(right, xi, -0.04);
        const l = pointOnRib(left, xi, -0.04);
        expect(l[0]).toBeCloseTo(r[0], 14);
        expect(l[1]).toBeCloseTo(-r[1], 14);
        expect(l[2]).toBeCloseTo(r[2], 14);
      }
    }
  });

  test("runs along the arc: the span direction is the tangent of the leading edge seen from the front", () => {
    const flat = { ...WING, sweepFraction: 0, twistTipRad: 0 };
    for (const sigma of [-0.9, -0.3, 0.3, 0.6, 0.9]) {
      const step = 1e-4;
      const ahead = ribFrame(flat, sigma + step).origin;
      const behind = ribFrame(flat, sigma - step).origin;
      const length = 2 * step * flat.flatHalfSpanM;
      const { spanDirection } = ribFrame(flat, sigma);
      for (let k = 0; k < 3; k++) {
        expect(((ahead[k] as number) - (behind[k] as number)) / length).toBeCloseTo(
          spanDirection[k] as number,
          6,
        );
      }
    }
  });

  test("with nose-up twist has its trailing edge below the untwisted chord and its leading edge where it was", () => {
    const straight = ribFrame({ ...WING, twistTipRad: 0 }, 0.8);
    const twisted = ribFrame(WING, 0.8);
    expect(twisted.origin).toEqual(straight.origin);
    const fall = pointOnRib(twisted, 1).map(
      (v, k) => v - (pointOnRib(straight, 1)[k] as number),
    ) as unknown as Vec3;
    expect(dot(fall, straight.normal)).toBeCloseTo(-straight.chordM * Math.sin(0.04 * 0.64), 12);
  });

  test("sweeps the leading edge back by the stated part of the chord that is lost", () => {
    const rib = ribFrame(WING, 1);
    expect(rib.chordM).toBeCloseTo(0.6, 14);
    expect(rib.origin[0]).toBeCloseTo(0.35 * 2.2, 14);
  });

  test("changes smoothly with every parameter: central differences at two steps agree", () => {
    const keys = [
      "flatHalfSpanM",
      "rootChordM",
      "tipChordM",
      "tipBankRad",
      "arcExponent",
      "sweepFraction",
    ] as const;
    for (const key of keys) {
      const slope = (step: number) => {
        const up = pointOnRib(ribFrame({ ...WING, [key]: WING[key] + step }, 0.77), 0.5);
        const down = pointOnRib(ribFrame({ ...WING, [key]: WING[key] - step }, 0.77), 0.5);
        return up.map((v, k) => (v - (down[k] as number)) / (2 * step));
      };
      const coarse = slope(1e-4);
      const fine = slope(1e-5);
      for (let k = 0; k < 3; k++) expect(coarse[k]).toBeCloseTo(fine[k] as number, 7);
    }
  });

  test("is refused outside the wing and for a wing without size", () => {
    expect(() => ribFrame(WING, 1.01)).toThrow(/σ = 1.01/);
    expect(() => ribFrame(WING, Number.NaN)).toThrow(RangeError);
    expect(() => ribFrame({ ...WING, tipChordM: 0 }, 0.5)).toThrow(/tip chord 0/);
  });
});

describe("the figures of an outline", () => {
  test("of a flat wing: the shadow is the wing and the arch has no height", () => {
    const figures = outlineFigures({ ...WING, tipBankRad: 0, twistTipRad: 0 });
    expect(figures.projectedSpanM).toBeCloseTo(figures.flatSpanM, 12);
    expect(figures.projectedAreaM2).toBeCloseTo(figures.flatAreaM2, 11);
    expect(figures.archHeightM).toBeCloseTo(0, 14);
  });

  test("scale with the wing: lengths with the factor, areas with its square, ratios not at all", () => {
    const k = 1.37;
    const small = outlineFigures(WING);
    const large = outlineFigures({
      ...WING,
      flatHalfSpanM: k * WING.flatHalfSpanM,
      rootChordM: k * WING.rootChordM,
      tipChordM: k * WING.tipChordM,
    });
    expect(large.projectedSpanM).toBeCloseTo(k * small.projectedSpanM, 12);
    expect(large.archHeightM).toBeCloseTo(k * small.archHeightM, 12);
    expect(large.projectedAreaM2).toBeCloseTo(k * k * small.projectedAreaM2, 11);
    expect(large.aspectRatioFlat).toBeCloseTo(small.aspectRatioFlat, 12);
  });

  test("agree with a wing added up from narrow strips between ribs", () => {
    const untwisted = { ...WING, twistTipRad: 0 };
    const figures = outlineFigures(untwisted);
    let span = 0;
    let area = 0;
    let projected = 0;
    const strips = 4000;
    for (let i = 0; i < strips; i++) {
      // Strips crowd towards the tip, where the planform is round.
      const s = (j: number) => Math.sin(((j / strips) * Math.PI) / 2);
      const a = ribFrame(untwisted, s(i));
      const b = ribFrame(untwisted, s(i + 1));
      const dy = b.origin[1] - a.origin[1];
      const ds = Math.hypot(dy, b.origin[2] - a.origin[2]);
      span += 2 * ds;
      area += (a.chordM + b.chordM) * ds;
      projected += (a.chordM + b.chordM) * dy;
    }
    expect(span).toBeCloseTo(figures.flatSpanM, 5);
    expect(area).toBeCloseTo(figures.flatAreaM2, 5);
    expect(projected).toBeCloseTo(figures.projectedAreaM2, 5);
  });
});

describe("the tip's bank from the spans", () => {
  test("gives back the bank that made them, for any exponent", () => {
    for (const p of [0.6, 1, 1.3, 2, 3.5]) {
      for (const bank of [0.01, 0.4, 1.2, 1.6, 2.1]) {
        const { flatSpanM, projectedSpanM } = outlineFigures({
          ...WING,
          tipBankRad: bank,
          arcExponent: p,
        });
        expect(tipBankFromSpans(flatSpanM, projectedSpanM, p)).toBeCloseTo(bank, 10);
      }
    }
  });

  test("grows as the projected span shrinks", () => {
    const banks = [0.99, 0.9, 0.8, 0.7, 0.6].map((ratio) => tipBankFromSpans(1, ratio, 1.3));
    for (let i = 1; i < banks.length; i++) expect(banks[i]).toBeGreaterThan(banks[i - 1] as number);
    expect(tipBankFromSpans(10, 10, 1.3)).toBe(0);
  });

  test("is refused where the projected span is longer than the flat one, or too short for any arc", () => {
    expect(() => tipBankFromSpans(10, 10.1, 1.3)).toThrow(/1\.010 of the flat span when expected/);
    expect(() => tipBankFromSpans(10, -1, 1.3)).toThrow(RangeError);
    expect(() => tipBankFromSpans(10, 0.001, 1)).not.toThrow();
    expect(() => tipBankFromSpans(10, 2, 2)).toThrow(/of the flat span/);
  });
});

describe("the elliptic arc", () => {
  test("is part of a circle where the tip's roll is twice the mean anhedral", () => {
    const arc = ellipticArc(0.5, 1.0, 10);
    expect(arc.semiAxesM[0]).toBeCloseTo(arc.semiAxesM[1], 12);
    // A circular arc of half length 5 m and half angle 1 rad has a radius of 5 m.
    expect(arc.semiAxesM[0]).toBeCloseTo(5, 12);
    expect(arc.projectedSpanM).toBeCloseTo(10 * Math.sin(1), 12);
    expect(arc.archHeightM).toBeCloseTo(5 * (1 - Math.cos(1)), 12);
  });

  test("has the mean anhedral and the tip roll that were asked for, and the flat span as its length", () => {
    const arc = ellipticArc(0.56, 1.31, 11.15);
    const tip = arc.at(1);
    expect(Math.atan2(-tip.z, tip.y)).toBeCloseTo(0.56, 12);
    expect(tip.bankRad).toBeCloseTo(1.31, 12);
    let length = 0;
    for (let i = 0; i < 2000; i++) {
      const a = arc.at(i / 2000);
      const b = arc.at((i + 1) / 2000);
      length += 2 * Math.hypot(b.y - a.y, b.z - a.z);
    }
    expect(length).toBeCloseTo(11.15, 5);
  });

  test("is refused where no such ellipse lies flat enough", () => {
    expect(() => ellipticArc(0.5, 0.9, 10)).toThrow(RangeError);
    expect(() => ellipticArc(0, 1, 10)).toThrow(RangeError);
    expect(() => ellipticArc(0.5, 1.6, 10)).toThrow(RangeError);
    expect(() => ellipticArc(0.5, 1.2, 0)).toThrow(RangeError);
  });
});

describe("ribs along the span", () => {
  test("with an even number of cells the first rib is the middle wall, with an odd number half a cell off", () => {
    expect(ribSigma(1, 52)).toBe(0);
    expect(ribSigma(27, 52)).toBe(1);
    expect(ribSigma(1, 49)).toBeCloseTo(1 / 49, 15);
    expect(ribSigma(25, 49)).toBe(1);
  });

  test("a rib beyond the tip, or a rib that isn't a whole number, is refused", () => {
    expect(() => ribSigma(28, 52)).toThrow(/expected 1 to 27/);
    expect(() => ribSigma(0, 52)).toThrow(RangeError);
    expect(() => ribSigma(2.5, 52)).toThrow(RangeError);
  });
});

test("a truncated ellipse has the root chord in the middle and the tip chord at the tip", () => {
  expect(truncatedEllipseChord(2.58, 0.52, 0)).toBe(2.58);
  expect(truncatedEllipseChord(2.58, 0.52, 1)).toBeCloseTo(0.52, 12);
  expect(() => truncatedEllipseChord(2.58, 2.6, 0.5)).toThrow(RangeError);
});
