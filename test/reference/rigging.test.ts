import { describe, expect, test } from "vitest";
import { incidenceFromRowDifference, riserPoint } from "../../src/geometry/rigging.ts";

const DEGREE = Math.PI / 180;

/**
 * Example of P. Heatwole, Parametric Paraglider Modeling, MSc thesis, 2022, doi 10.5281/zenodo.6383051: central lines of
 * 6.313 m (front) and 6.281 m (rear) from the carabiner, tabs at 11 % and 59 % of a 2.69 m chord.
 */
const EXAMPLE = {
  front: 6.313,
  rear: 6.281,
  frontFraction: 0.11,
  rearFraction: 0.59,
  chord: 2.69,
};

/** Where two circles about points on the chord line meet below it, found by halving an angle and not by the formula under test. */
function circlesMeet(
  front: number,
  rear: number,
  xFront: number,
  xRear: number,
): { x: number; depth: number } {
  // Swing the front line backwards from its forward-most position: the distance to the rear tab falls steadily.
  let low = 0;
  let high = Math.PI;
  for (let pass = 0; pass < 200; pass++) {
    const angle = (low + high) / 2;
    const x = xFront - front * Math.cos(angle);
    const depth = front * Math.sin(angle);
    if (Math.hypot(x - xRear, depth) > rear) low = angle;
    else high = angle;
  }
  return { x: xFront - front * Math.cos(low), depth: front * Math.sin(low) };
}

describe("the riser point from two central lines", () => {
  const { front, rear, frontFraction, rearFraction, chord } = EXAMPLE;
  const point = riserPoint(front, rear, frontFraction, rearFraction, chord);

  test("is where circles of the two lengths about the two tabs meet", () => {
    const met = circlesMeet(front, rear, frontFraction * chord, rearFraction * chord);
    expect(point.xOverChord * chord).toBeCloseTo(met.x, 9);
    expect(point.zOverChord * chord).toBeCloseTo(met.depth, 9);
    expect(Math.hypot((point.xOverChord - frontFraction) * chord, point.zOverChord * chord)).toBeCloseTo(
      front,
      12,
    );
    expect(Math.hypot((point.xOverChord - rearFraction) * chord, point.zOverChord * chord)).toBeCloseTo(
      rear,
      12,
    );
  });

  // The example is quoted with x = 0.418 c. The quoted formula with the quoted lengths gives 0.408 c, and so do the circles;
  // at 0.418 c the front line would have to be 5.5 mm longer against the same rear one. We hold to the geometry.
  test("lies at 0.408 of the example's chord; 0.418 would need the front line about 5 mm longer against the rear one", () => {
    expect(point.xOverChord).toBeCloseTo(0.408, 3);
    const depth = Math.sqrt(rear ** 2 - ((rearFraction - 0.418) * chord) ** 2);
    const frontNeeded = Math.hypot((0.418 - frontFraction) * chord, depth);
    expect(frontNeeded - front).toBeCloseTo(0.0055, 4);
  });

  test("lies between the tabs' middle for equal lines, and doesn't depend on the wing's size", () => {
    expect(riserPoint(7, 7, 0.1, 0.6, 2.5).xOverChord).toBeCloseTo(0.35, 14);
    const twice = riserPoint(2 * front, 2 * rear, frontFraction, rearFraction, 2 * chord);
    expect(twice.xOverChord).toBeCloseTo(point.xOverChord, 14);
    expect(twice.zOverChord).toBeCloseTo(point.zOverChord, 14);
  });

  test("is refused where the lines don't meet or the tabs are in the wrong order", () => {
    expect(() => riserPoint(9, 2, 0.1, 0.6, 2.5)).toThrow(/do not meet/);
    expect(() => riserPoint(7, 7, 0.6, 0.1, 2.5)).toThrow(RangeError);
  });
});

describe("incidence from the difference of two rows", () => {
  test("10 mm on the example's rear row turns it by 0.444° (same source)", () => {
    const distance = (EXAMPLE.rearFraction - EXAMPLE.frontFraction) * EXAMPLE.chord;
    expect(incidenceFromRowDifference(0.01, distance) / DEGREE).toBeCloseTo(0.444, 3);
  });

  test("agrees within 3 % with the two circles: the chord's turn against the line from the riser point to its middle", () => {
    const { front, rear, frontFraction, rearFraction, chord } = EXAMPLE;
    const middle = (frontFraction + rearFraction) / 2;
    const lean = (rearLength: number) => {
      const p = riserPoint(front, rearLength, frontFraction, rearFraction, chord);
      return Math.atan2(middle - p.xOverChord, p.zOverChord);
    };
    const exact = lean(rear - 0.01) - lean(rear);
    const thumb = incidenceFromRowDifference(0.01, (rearFraction - frontFraction) * chord);
    expect(Math.abs(Math.abs(exact) / thumb - 1)).toBeLessThan(0.03);
  });

  /** Our own figures from δ/(x_rear − x_front), rows at 11 % and 59 % chord, 10 mm. */
  test.each([
    [2.8, 0.43],
    [2.58, 0.46],
    [2.06, 0.58],
    [1.5, 0.8],
    [1.0, 1.19],
  ])("10 mm at a chord of %f m is %f°", (chord, degrees) => {
    expect(incidenceFromRowDifference(0.01, 0.48 * chord) / DEGREE).toBeCloseTo(degrees, 2);
  });

  test("is nose up for a short rear row, nose down for a short front row, nothing for equal ones (common practice, no source)", () => {
    const turn = (frontM: number, rearM: number) => incidenceFromRowDifference(frontM - rearM, 1.2);
    expect(turn(0, -0.01)).toBeGreaterThan(0);
    expect(turn(-0.01, 0)).toBeLessThan(0);
    expect(turn(-0.01, -0.01)).toBe(0);
    expect(() => incidenceFromRowDifference(0.01, 0)).toThrow(RangeError);
  });
});
