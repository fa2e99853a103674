/** Straight lines held against certified figures and against a dense solution by a general library. */
import { inverse, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/demo/random.ts";
import { fitLine, type LinePoint, lineAt } from "../../src/record/index.ts";

/**
 * Norris, calibration of ozone monitors: NIST Statistical Reference Datasets, linear regression, lower level of difficulty,
 * https://www.itl.nist.gov/div898/strd/lls/data/Norris.shtml. Data [x, y] and certified values as quoted in several public
 * programs that test themselves against it (the page itself wasn't at hand).
 */
const NORRIS: readonly (readonly [x: number, y: number])[] = [
  [0.2, 0.1],
  [337.4, 338.8],
  [118.2, 118.1],
  [884.6, 888.0],
  [10.1, 9.2],
  [226.5, 228.1],
  [666.3, 668.5],
  [996.3, 998.5],
  [448.6, 449.1],
  [777.0, 778.9],
  [558.2, 559.2],
  [0.4, 0.3],
  [0.6, 0.1],
  [775.5, 778.1],
  [666.9, 668.8],
  [338.0, 339.3],
  [447.5, 448.9],
  [11.6, 10.8],
  [556.0, 557.7],
  [228.1, 228.3],
  [995.8, 998.0],
  [887.6, 888.8],
  [120.2, 119.6],
  [0.3, 0.3],
  [0.3, 0.6],
  [556.8, 557.6],
  [339.1, 339.3],
  [887.2, 888.0],
  [999.0, 998.5],
  [779.0, 778.9],
  [11.1, 10.2],
  [118.3, 117.6],
  [229.2, 228.9],
  [669.1, 668.4],
  [448.9, 449.2],
  [0.5, 0.2],
];

describe("NIST StRD Norris, 36 points of equal weight", () => {
  const fit = fitLine(NORRIS.map(([x, y]) => ({ x, y, uncertainty: 1, stretch: 0 })));
  if (fit === undefined) throw new Error("no line");
  const scatter = fit.birgeRatio as number;

  it("slope 1.00211681802045, with a standard deviation of 0.000429796848199937", () => {
    expect(fit.slope).toBeCloseTo(1.00211681802045, 13);
    expect(fit.slopeUncertainty * scatter).toBeCloseTo(0.000429796848199937, 15);
  });

  it("intercept −0.262323073774029, with a standard deviation of 0.232818234301152", () => {
    const { y, uncertainty } = lineAt(fit, 0);
    expect(y).toBeCloseTo(-0.262323073774029, 11);
    expect(uncertainty * scatter).toBeCloseTo(0.232818234301152, 12);
  });

  it("residual standard deviation 0.884796396144373, with 34 degrees of freedom", () => {
    expect(scatter).toBeCloseTo(0.884796396144373, 12);
    expect(fit.degreesOfFreedom).toBe(34);
    expect(fit.chiSquare).toBeCloseTo(26.6173985294224, 10);
  });
});

describe("weighted lines in stretches against (XᵀWX)⁻¹XᵀWy by ml-matrix", () => {
  it.each([1, 2, 3, 4, 5, 6])("slope, levels and their covariance agree (%i)", (seed) => {
    const random = seededRandom(seed);
    const stretches = 1 + (seed % 3);
    const points = Array.from({ length: 12 }, (_, at): LinePoint => {
      const stretch = at % stretches;
      const x = 300 * random.even();
      return { x, y: 5 * stretch - 0.02 * x + random.normal(), uncertainty: 0.3 + random.even(), stretch };
    });
    const fit = fitLine(points);
    if (fit === undefined) throw new Error("no line");

    const design = new Matrix(
      points.map(({ x, stretch }) => [
        ...Array.from({ length: stretches }, (_, each) => (each === stretch ? 1 : 0)),
        x,
      ]),
    );
    const weights = Matrix.diag(points.map(({ uncertainty }) => 1 / uncertainty ** 2));
    const normal = design.transpose().mmul(weights);
    const covariance = inverse(normal.mmul(design));
    const solution = covariance.mmul(normal).mmul(Matrix.columnVector(points.map(({ y }) => y)));

    expect(fit.slope).toBeCloseTo(solution.get(stretches, 0), 10);
    expect(fit.slopeUncertainty).toBeCloseTo(Math.sqrt(covariance.get(stretches, stretches)), 10);
    for (let stretch = 0; stretch < stretches; stretch++) {
      for (const x of [0, 150, 400]) {
        const at = new Matrix([
          [...Array.from({ length: stretches }, (_, each) => (each === stretch ? 1 : 0)), x],
        ]);
        const line = lineAt(fit, x, stretch);
        expect(line.y).toBeCloseTo(at.mmul(solution).get(0, 0), 9);
        expect(line.uncertainty).toBeCloseTo(
          Math.sqrt(at.mmul(covariance).mmul(at.transpose()).get(0, 0)),
          9,
        );
      }
    }
  });
});
