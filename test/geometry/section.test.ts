import { describe, expect, test } from "vitest";
import { sectionHalfThickness, sectionHeight, sectionMeanLine } from "../../src/geometry/section.ts";

describe("the drawing section", () => {
  test("is 15 % thick, thickest near 30 % chord", () => {
    let thickest = 0;
    let at = 0;
    for (let xi = 0; xi <= 1; xi += 0.001) {
      if (sectionHalfThickness(xi) > thickest) {
        thickest = sectionHalfThickness(xi);
        at = xi;
      }
    }
    expect(2 * thickest).toBeCloseTo(0.15, 3);
    expect(at).toBeCloseTo(0.3, 1);
  });

  test("closes at the nose and at the trailing edge", () => {
    for (const xi of [0, 1]) {
      expect(sectionHeight(xi, "upper")).toBeCloseTo(0, 6);
      expect(sectionHeight(xi, "lower")).toBeCloseTo(0, 6);
    }
  });

  test("has its mean line highest at 15 % chord with 1.84 % (NACA 230 mean line, value from memory), and without a kink", () => {
    expect(sectionMeanLine(0.15)).toBeCloseTo(0.0184, 4);
    expect(sectionMeanLine(0.15)).toBeGreaterThan(sectionMeanLine(0.13));
    expect(sectionMeanLine(0.15)).toBeGreaterThan(sectionMeanLine(0.17));
    const before = (sectionMeanLine(0.2025) - sectionMeanLine(0.2025 - 1e-6)) / 1e-6;
    const behind = (sectionMeanLine(0.2025 + 1e-6) - sectionMeanLine(0.2025)) / 1e-6;
    expect(before).toBeCloseTo(behind, 4);
  });

  test("keeps the lower surface below the chord line wherever a row may hang", () => {
    for (let xi = 0.02; xi < 1; xi += 0.01) {
      expect(sectionHeight(xi, "lower")).toBeLessThan(0);
      expect(sectionHeight(xi, "lower")).toBeGreaterThan(-0.08);
      expect(sectionHeight(xi, "upper")).toBeGreaterThan(0);
    }
  });

  test("is refused off the chord", () => {
    expect(() => sectionHeight(1.2, "upper")).toThrow(RangeError);
  });
});
