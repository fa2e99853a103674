import { describe, expect, it } from "vitest";
import type { LineAttribution } from "../../src/diagnosis/attribution.ts";
import { deviationColour } from "../../src/diagnosis/colour.ts";
import type { LineDeviation } from "../../src/diagnosis/model.ts";
import { deviationScaleOf, isCramped, lineExpandedM, pathExpandedM } from "../../src/diagnosis/scale.ts";
import type { PathUncertainties } from "../../src/readings/uncertainty.ts";

const uncertain = (totalMm: readonly (number | undefined)[]): PathUncertainties =>
  ({
    read: Uint8Array.from(totalMm, (mm) => (mm === undefined ? 0 : 1)),
    totalM: Float64Array.from(totalMm, (mm) => (mm ?? 0) / 1000),
  }) as unknown as PathUncertainties;

describe("the uncertainty that a scale's neutral stands for", () => {
  it("is twice the standard uncertainty of the median path, those not read left out (k = 2: JCGM 100:2008, 6.2)", () => {
    expect(pathExpandedM(uncertain([1.4, undefined, 1.6, undefined, undefined, undefined, 1.5]))).toBeCloseTo(
      0.003,
      12,
    );
  });

  it("is hardly moved by one path read badly", () => {
    expect(pathExpandedM(uncertain([1.5, 1.5, 1.5, 1.5, 40]))).toBeCloseTo(0.003, 12);
  });

  it("is none with a plan alone, and where no path was read", () => {
    expect(pathExpandedM(undefined)).toBe(0);
    expect(pathExpandedM(uncertain([undefined, undefined]))).toBe(0);
  });

  it("is that of the estimate for single lines, over those that a reading runs through", () => {
    const lines = ["a", "b", "c", "d"].map(
      (lineKey): LineDeviation => ({
        lineKey,
        basis: lineKey === "d" ? "not measured" : "path",
        deviationM: undefined,
        attributedM: 0,
      }),
    );
    const estimated = lines.map(({ lineKey }, i) => ({ lineKey, deviationM: (i + 1) / 1000 }));
    const attribution = { lines: estimated as unknown as LineAttribution[] };
    expect(lineExpandedM(lines, attribution)).toBeCloseTo(0.004, 12);
    expect(lineExpandedM(lines, undefined)).toBe(0);
    expect(lineExpandedM([], attribution)).toBe(0);
  });
});

describe("a deviation scale", () => {
  it("is neutral within the uncertainty, and only at 0 where there is none", () => {
    expect(deviationScaleOf(0.02, 0.003)).toEqual({ rangeM: 0.02, neutralM: 0.003, expandedM: 0.003 });
    const bare = deviationScaleOf(0.02);
    expect(bare.neutralM).toBe(0);
    expect(deviationColour(0.0005, bare)).not.toBe(deviationColour(0, bare));
  });

  it("never greys more than half of its range, so that a gross mistake still has its colour, and says that it's cramped", () => {
    const scale = deviationScaleOf(0.01, 0.025);
    expect(scale.neutralM).toBe(0.005);
    expect(scale.expandedM).toBe(0.025);
    expect(isCramped(scale)).toBe(true);
    expect(isCramped(deviationScaleOf(0.05, 0.025))).toBe(false);
    expect(deviationColour(-0.01, scale)).toBe(deviationColour(-1, deviationScaleOf(0.01)));
  });

  it("refuses a range that isn't positive and an uncertainty that's negative or no number", () => {
    expect(() => deviationScaleOf(0)).toThrow(/range must be positive, got 0/);
    expect(() => deviationScaleOf(0.02, -0.001)).toThrow(/negative/);
    expect(() => deviationScaleOf(0.02, Number.NaN)).toThrow(RangeError);
  });
});
