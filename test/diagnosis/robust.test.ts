import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/demo/random.ts";
import {
  robustEfficiency,
  robustLine,
  robustMean,
  robustSigma,
  robustUncertainty,
} from "../../src/diagnosis/robust.ts";
import { mean, median } from "../../src/diagnosis/rows.ts";
import { meanWeights, type PathUncertainties } from "../../src/readings/uncertainty.ts";

const random = seededRandom(28);
const normals = (count: number): number[] => Array.from({ length: count }, () => random.normal());
const varianceOf = (
  estimate: (values: readonly number[]) => number | undefined,
  count: number,
  times: number,
): number => {
  let squares = 0;
  for (let i = 0; i < times; i++) squares += (estimate(normals(count)) as number) ** 2;
  return squares / times;
};

describe("the robust mean of a row", () => {
  it("is that of the worked example of the pairs' means: 1, 2, 4 and 10 mm give 3.5 mm by hand", () => {
    // Means of pairs: 1 1.5 2 2.5 3 4 5.5 5.5→(1+10)/2, 6→(2+10)/2, 7, 10; the ten sorted: 1 1.5 2 2.5 3 4 5.5 6 7 10.
    expect(robustMean([1, 2, 4, 10])).toBe(3.5);
  });

  it("is the mean of two, the median of three and the value of one, and there is none of nothing", () => {
    expect(robustMean([])).toBeUndefined();
    expect(robustMean([4])).toBe(4);
    expect(robustMean([4, 7])).toBe(5.5);
    expect(robustMean([4, 5, 700])).toBe(5);
  });

  it("hardly moves for one blunder, whatever its size, where the plain mean goes with it", () => {
    for (const count of [4, 5, 8, 13, 26]) {
      const values = normals(count);
      const blundered = [...values.slice(1), 1000];
      expect(Math.abs((robustMean(blundered) as number) - (robustMean(values) as number))).toBeLessThan(1.5);
      expect(robustMean([...values.slice(1), 1e9])).toBe(robustMean([...values.slice(1), 1e6]));
      expect(mean(blundered) as number).toBeGreaterThan(30);
    }
  });

  it("withstands three blunders among thirteen readings, as stated, and not four more", () => {
    const values = normals(13);
    expect(Math.abs(robustMean([...values.slice(3), 900, 950, 990]) as number)).toBeLessThan(2);
    expect(
      Math.abs(robustMean([...values.slice(7), 900, 950, 990, 901, 951, 991, 992]) as number),
    ).toBeGreaterThan(100);
  });

  it("needs one reading in twenty more than the plain mean: 3/π of its efficiency; the median needs half as many again", () => {
    // 4000 rows of 26: the ratio of variances is known to about 0.02.
    const [plain, robust, middle] = [
      varianceOf(mean, 26, 4000),
      varianceOf(robustMean, 26, 4000),
      varianceOf(median, 26, 4000),
    ];
    expect(plain / robust).toBeGreaterThan(0.9);
    expect(plain / robust).toBeLessThan(1.01);
    expect(plain / middle).toBeLessThan(0.75);
  });

  it("shifts and scales with its values, and takes no notice of their order", () => {
    const values = normals(11);
    const at = robustMean(values) as number;
    expect(robustMean(values.map((value) => 3 - 2 * value))).toBeCloseTo(3 - 2 * at, 10);
    expect(robustMean([...values].reverse())).toBeCloseTo(at, 12);
  });
});

describe("the uncertainty of robust means", () => {
  const own = (values: readonly number[], effects: PathUncertainties["effects"] = []): PathUncertainties => ({
    tabKeys: values.map((_, i) => `left:A${i}`),
    read: Uint8Array.from(values, () => 1),
    ownM: Float64Array.from(values),
    scatterM: Float64Array.from(values),
    resolutionM: 0,
    effects,
    totalM: Float64Array.from(values),
    scatter: { varianceFactor: 1, degreesOfFreedom: Number.POSITIVE_INFINITY },
    doubtfulTabKeys: [],
    settings: {} as PathUncertainties["settings"],
  });
  const tabs = (from: number, count: number) => Array.from({ length: count }, (_, i) => from + i);

  it("is that of the plain mean over the square root of the efficiency, for what is each path's own", () => {
    const ten = own(Array(10).fill(0.002));
    expect(robustUncertainty(ten, [meanWeights(tabs(0, 10))])).toBeCloseTo(
      0.002 / Math.sqrt(10) / Math.sqrt(3 / Math.PI),
      12,
    );
    expect(robustUncertainty(own([0.002, 0.002]), [meanWeights([0, 1])])).toBeCloseTo(0.002 / Math.SQRT2, 12);
  });

  it("has what all paths share in it once, and not at all in the difference of two means", () => {
    const zero = { name: "zero", loadingsM: Float64Array.from(Array(12).fill(0.001)) };
    const shared = own(Array(12).fill(0.002), [zero]);
    const alone = own(Array(12).fill(0.002));
    const left = meanWeights(tabs(0, 6));
    const right = new Map([...meanWeights(tabs(6, 6))].map(([tab, weight]) => [tab, -weight]));
    expect(robustUncertainty(shared, [left]) ** 2).toBeCloseTo(
      robustUncertainty(alone, [left]) ** 2 + 0.001 ** 2,
      12,
    );
    expect(robustUncertainty(shared, [left, right])).toBeCloseTo(robustUncertainty(alone, [left, right]), 12);
  });

  it.each([3, 4, 6, 10])(
    "is within a few per cent of the scatter that robust means of %i values show",
    (count) => {
      const spread = Math.sqrt(varianceOf(robustMean, count, 4000));
      const stated = 1 / Math.sqrt(count * robustEfficiency(count));
      expect(Math.abs(stated / spread - 1)).toBeLessThan(0.05);
    },
  );
});

describe("the robust standard deviation", () => {
  it("is about that of normal scatter, with and without a third of blunders", () => {
    expect(Math.abs((robustSigma(normals(4000)) as number) - 1)).toBeLessThan(0.06);
    const third = robustSigma([...normals(2000), ...Array.from({ length: 1000 }, () => 500)]) as number;
    // Plainly, it would be 236.
    expect(third).toBeLessThan(3);
  });

  it("is about the centre given, and none of nothing", () => {
    expect(robustSigma([1, 1, 1], 0)).toBeCloseTo(1.4826, 10);
    expect(robustSigma([1, 1, 1])).toBe(0);
    expect(robustSigma([])).toBeUndefined();
  });
});

describe("a straight line through values with outliers", () => {
  it("is the line itself where all lie on it, and hardly moves with one of five far off", () => {
    const on = [0, 1, 2, 3, 4, 5].map((x) => ({ x, y: 2 - 0.5 * x }));
    expect(robustLine(on)).toEqual({ level: 2, slope: -0.5 });
    const off = on.map((point, i) => (i === 4 ? { ...point, y: 100 } : point));
    expect(robustLine(off).slope).toBeCloseTo(-0.5, 9);
    expect(robustLine(off).level).toBeCloseTo(2, 9);
  });

  it("is level where there is nothing to lean on", () => {
    expect(robustLine([])).toEqual({ level: 0, slope: 0 });
    expect(
      robustLine([
        { x: 1, y: 3 },
        { x: 1, y: 5 },
      ]),
    ).toEqual({ level: 4, slope: 0 });
  });
});
