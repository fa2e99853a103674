/** A straight line through points of known uncertainty, in stretches that share the slope and have a level each. */
import { chiSquareQuantile } from "../readings/index.ts";

export interface LinePoint {
  readonly x: number;
  readonly y: number;
  /** Standard uncertainty of y. */
  readonly uncertainty: number;
  /** Points of one number share their level. */
  readonly stretch: number;
}

/** One stretch's level: the weighted mean of its points. Independent of the slope in the fit. */
export interface Level {
  readonly stretch: number;
  readonly points: number;
  /** Weighted mean of x, where the level is best known, and the level there. */
  readonly x: number;
  readonly y: number;
  /** By the points' own uncertainties. */
  readonly uncertainty: number;
}

export interface LineFit {
  readonly slope: number;
  /** By the points' own uncertainties. */
  readonly slopeUncertainty: number;
  readonly levels: readonly Level[];
  /** Sum of squares of the residuals, each over its uncertainty. */
  readonly chiSquare: number;
  /** Points less levels less one. */
  readonly degreesOfFreedom: number;
  /** √(χ²/degrees of freedom), the Birge ratio; undefined without degrees of freedom. */
  readonly birgeRatio: number | undefined;
  /** Whether χ² stays below its 95 % quantile: the points' uncertainties explain how they scatter about the line. */
  readonly explained: boolean;
}

const SHARE = 0.95;

/**
 * Weighted least squares with weights 1/u²: y = level of the stretch + slope · (x − the stretch's weighted mean).
 *
 * With one stretch this is the usual regression (P. R. Bevington and D. K. Robinson, Data Reduction and Error Analysis, 3rd
 * ed., 6.3, from memory); with several, the analysis of covariance with one slope: Σ over stretches of Sxy over Sxx. Taking
 * deviations from each stretch's own mean first loses no digits where x is large and spread little.
 *
 * @returns undefined where no stretch has points at two different places
 * @throws RangeError for an uncertainty that isn't positive
 */
export function fitLine(points: readonly LinePoint[]): LineFit | undefined {
  for (const { uncertainty } of points)
    if (!(uncertainty > 0))
      throw new RangeError(`Got an uncertainty of ${uncertainty} when more than 0 was expected.`);
  const weightOf = ({ uncertainty }: LinePoint): number => 1 / uncertainty ** 2;
  const levels = [...new Set(points.map(({ stretch }) => stretch))]
    .sort((a, b) => a - b)
    .map((stretch): Level => {
      const own = points.filter((point) => point.stretch === stretch);
      const weight = own.reduce((sum, point) => sum + weightOf(point), 0);
      return {
        stretch,
        points: own.length,
        x: own.reduce((sum, point) => sum + weightOf(point) * point.x, 0) / weight,
        y: own.reduce((sum, point) => sum + weightOf(point) * point.y, 0) / weight,
        uncertainty: 1 / Math.sqrt(weight),
      };
    });
  const levelOf = new Map(levels.map((level) => [level.stretch, level]));
  let sxx = 0;
  let sxy = 0;
  let extent = 0;
  for (const point of points) {
    const level = levelOf.get(point.stretch) as Level;
    const dx = point.x - level.x;
    sxx += weightOf(point) * dx * dx;
    sxy += weightOf(point) * dx * (point.y - level.y);
    extent = Math.max(extent, Math.abs(dx));
  }
  if (!(extent > 0)) return undefined;
  const slope = sxy / sxx;
  let chiSquare = 0;
  for (const point of points) {
    const level = levelOf.get(point.stretch) as Level;
    chiSquare += weightOf(point) * (point.y - level.y - slope * (point.x - level.x)) ** 2;
  }
  const degreesOfFreedom = points.length - levels.length - 1;
  return {
    slope,
    slopeUncertainty: 1 / Math.sqrt(sxx),
    levels,
    chiSquare,
    degreesOfFreedom,
    birgeRatio: degreesOfFreedom > 0 ? Math.sqrt(chiSquare / degreesOfFreedom) : undefined,
    explained: degreesOfFreedom <= 0 || chiSquare <= chiSquareQuantile(SHARE, degreesOfFreedom),
  };
}

/** The line and its standard uncertainty at x, by the points' own uncertainties; in the last stretch unless another is named. */
export function lineAt(
  fit: LineFit,
  x: number,
  stretch?: number,
): { readonly y: number; readonly uncertainty: number } {
  const level = stretch === undefined ? fit.levels.at(-1) : fit.levels.find((one) => one.stretch === stretch);
  if (level === undefined) throw new RangeError(`The line has no stretch ${stretch}.`);
  return {
    y: level.y + fit.slope * (x - level.x),
    uncertainty: Math.hypot(level.uncertainty, (x - level.x) * fit.slopeUncertainty),
  };
}
