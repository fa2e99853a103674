import { describe, expect, it } from "vitest";
import { fillNormal, seededUniform } from "../../src/diagnosis/normal-draws.ts";

const COUNT = 200_000;

describe("seeded draws", () => {
  it("are the same for the same seed and others for another", () => {
    const take = (seed: number): number[] => {
      const uniform = seededUniform(seed);
      return Array.from({ length: 5 }, () => uniform());
    };
    expect(take(7)).toEqual(take(7));
    expect(take(7)).not.toEqual(take(8));
  });

  it("fill the unit interval evenly", () => {
    const uniform = seededUniform(2);
    const bins = new Array<number>(20).fill(0);
    for (let i = 0; i < COUNT; i++) {
      const bin = Math.floor(20 * uniform());
      bins[bin] = (bins[bin] as number) + 1;
    }
    const square = bins.reduce((sum, found) => sum + (found - COUNT / 20) ** 2 / (COUNT / 20), 0);
    // Chi-squared with 19 degrees of freedom, 99.9 %.
    expect(square).toBeLessThan(43.8);
  });

  it("are standard normal: mean, variance, fourth moment, tails and no carry-over from one to the next", () => {
    const values = new Float64Array(COUNT);
    fillNormal(values, seededUniform(5));
    const moment = (power: number): number => values.reduce((sum, v) => sum + v ** power, 0) / COUNT;
    expect(Math.abs(moment(1))).toBeLessThan(4 / Math.sqrt(COUNT));
    expect(Math.abs(moment(2) - 1)).toBeLessThan(4 * Math.sqrt(2 / COUNT));
    expect(Math.abs(moment(4) - 3)).toBeLessThan(4 * Math.sqrt(96 / COUNT));
    const beyond = values.filter((v) => Math.abs(v) > 1.959963985).length / COUNT;
    expect(Math.abs(beyond - 0.05)).toBeLessThan(4 * Math.sqrt((0.05 * 0.95) / COUNT));
    const next = values.reduce((sum, v, i) => sum + v * (values[i + 1] ?? 0), 0) / COUNT;
    expect(Math.abs(next)).toBeLessThan(4 / Math.sqrt(COUNT));
  });
});
