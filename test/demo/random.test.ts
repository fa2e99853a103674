import { describe, expect, test } from "vitest";
import { seededRandom } from "../../src/demo/random.ts";

const COUNT = 20_000;

describe("the demo's random numbers", () => {
  test("are the same for the same seed and others for another", () => {
    const draw = (seed: number) => {
      const random = seededRandom(seed);
      return [random.even(), random.normal(), random.even()];
    };
    expect(draw(7)).toEqual(draw(7));
    expect(draw(7)).not.toEqual(draw(8));
  });

  test("are even in [0, 1): tenths filled alike, neighbours unrelated", () => {
    const random = seededRandom(1);
    const values = Array.from({ length: COUNT }, random.even);
    const tenths = new Array(10).fill(0);
    for (const value of values) tenths[Math.floor(10 * value)]++;
    // Each tenth is binomial with a standard deviation of 42.
    for (const count of tenths) expect(Math.abs(count - COUNT / 10)).toBeLessThan(4 * 42.4);
    const product = values
      .slice(1)
      .reduce((sum, value, i) => sum + (value - 0.5) * ((values[i] as number) - 0.5), 0);
    expect(Math.abs(product / COUNT)).toBeLessThan(4 / 12 / Math.sqrt(COUNT));
  });

  test("that are normal have mean 0, variance 1 and two thirds within one standard deviation", () => {
    const random = seededRandom(2);
    const values = Array.from({ length: COUNT }, random.normal);
    const mean = values.reduce((sum, value) => sum + value, 0) / COUNT;
    const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / COUNT;
    expect(Math.abs(mean)).toBeLessThan(4 / Math.sqrt(COUNT));
    expect(Math.abs(variance - 1)).toBeLessThan(4 * Math.sqrt(2 / COUNT));
    expect(values.filter((value) => Math.abs(value) < 1).length / COUNT).toBeCloseTo(0.6827, 1);
  });
});
