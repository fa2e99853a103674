/**
 * Bounded nonlinear least squares by Levenberg–Marquardt with a forward-difference Jacobian.
 *
 * Source: J. J. Moré, "The Levenberg–Marquardt algorithm: implementation and theory", in Numerical Analysis, LNM 630
 * (1978) 105–116. Bounds by projection, with values that rest on a bound and would be pushed past it held there
 * (the active set of a projected Newton step: D. P. Bertsekas, SIAM J. Control Optim. 20 (1982) 221–246).
 */
import { CholeskyDecomposition, Matrix } from "ml-matrix";

export interface Parameter {
  readonly start: number;
  readonly lower: number;
  readonly upper: number;
  /** A step that matters, for differences and scaling. */
  readonly scale: number;
}

export interface LeastSquares {
  readonly values: readonly number[];
  /** Sum of squares of the residuals. */
  readonly cost: number;
  readonly iterations: number;
  /** Residuals at the values. */
  readonly residuals: Float64Array;
  /**
   * Covariance of the values, (JᵀJ)⁻¹ at the values, for residuals of unit variance; undefined where JᵀJ is singular.
   * Bounds don't enter: for a value at its bound, and through it for the others, the deviation is on the large side.
   */
  readonly covariance: Matrix | undefined;
}

export interface LeastSquaresOptions {
  readonly maxIterations?: number;
  /** Done when a step lowers the cost by less than this share of it. */
  readonly tolerance?: number;
}

/**
 * Minimise Σ r(p)² within bounds.
 *
 * @param residuals of fixed length, scaled to unit variance; a prior enters as further residuals. The array may be used
 *   again by the next call: it is copied
 */
export function leastSquares(
  parameters: readonly Parameter[],
  residuals: (values: readonly number[]) => Float64Array,
  { maxIterations = 60, tolerance = 1e-9 }: LeastSquaresOptions = {},
): LeastSquares {
  const count = parameters.length;
  let values = parameters.map((p) => Math.min(p.upper, Math.max(p.lower, p.start)));
  let current = Float64Array.from(residuals(values));
  let cost = sumOfSquares(current);
  let damping = 1e-3;
  let iterations = 0;
  let settled = count === 0;
  /** JᵀJ at the values, where it was taken there. */
  let there: Matrix | undefined;
  for (; iterations < maxIterations && !settled; iterations++) {
    const { normal, gradient } = normalEquations(parameters, residuals, values, current);
    there = normal;
    const held = parameters.map(({ lower, upper }, i) => {
      const slope = gradient[i] as number;
      return (values[i] === lower && slope > 0) || (values[i] === upper && slope < 0);
    });
    let improved = false;
    for (let attempt = 0; attempt < 12 && !improved; attempt++) {
      const step = dampedStep(normal, gradient, held, damping);
      const next = values.map((value, i) => {
        const { lower, upper } = parameters[i] as Parameter;
        return Math.min(upper, Math.max(lower, value - (step[i] as number)));
      });
      const nextResiduals = residuals(next);
      const nextCost = sumOfSquares(nextResiduals);
      if (nextCost < cost) {
        settled = cost - nextCost < tolerance * cost;
        values = next;
        current = Float64Array.from(nextResiduals);
        cost = nextCost;
        damping = Math.max(1e-9, damping / 5);
        improved = true;
        there = undefined;
      } else damping *= 4;
    }
    if (!improved) break;
  }
  const normal = there ?? normalEquations(parameters, residuals, values, current).normal;
  return { values, cost, iterations, residuals: current, covariance: inverse(normal) };
}

function dampedStep(
  normal: Matrix,
  gradient: Float64Array,
  held: readonly boolean[],
  damping: number,
): readonly number[] {
  const count = held.length;
  const damped = normal.clone();
  const right = Matrix.columnVector(Array.from(gradient));
  for (let i = 0; i < count; i++) {
    damped.set(i, i, normal.get(i, i) * (1 + damping) + 1e-12);
    if (!held[i]) continue;
    for (let j = 0; j < count; j++) {
      damped.set(i, j, i === j ? 1 : 0);
      damped.set(j, i, i === j ? 1 : 0);
    }
    right.set(i, 0, 0);
  }
  return new CholeskyDecomposition(damped).solve(right).getColumn(0);
}

function inverse(normal: Matrix): Matrix | undefined {
  if (normal.rows === 0) return undefined;
  const decomposition = new CholeskyDecomposition(normal);
  return decomposition.isPositiveDefinite()
    ? decomposition.solve(Matrix.eye(normal.rows, normal.rows))
    : undefined;
}

/** JᵀJ and Jᵀr, by forward differences. */
function normalEquations(
  parameters: readonly Parameter[],
  residuals: (values: readonly number[]) => Float64Array,
  values: readonly number[],
  current: Float64Array,
): { normal: Matrix; gradient: Float64Array } {
  const count = parameters.length;
  const columns = parameters.map(({ scale, upper }, j) => {
    const value = values[j] as number;
    const step = (value + 1e-5 * scale > upper ? -1e-5 : 1e-5) * scale;
    const moved = residuals(values.map((v, i) => (i === j ? v + step : v)));
    return Float64Array.from(current, (was, i) => ((moved[i] as number) - was) / step);
  });
  const normal = Matrix.zeros(count, count);
  const gradient = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const column = columns[i] as Float64Array;
    gradient[i] = product(column, current);
    for (let j = 0; j <= i; j++) {
      const value = product(column, columns[j] as Float64Array);
      normal.set(i, j, value);
      normal.set(j, i, value);
    }
  }
  return { normal, gradient };
}

function product(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] as number) * (b[i] as number);
  return sum;
}

function sumOfSquares(values: Float64Array): number {
  return product(values, values);
}
