/**
 * A straight line through an instrument's errors at known lengths: its correction, anywhere, with uncertainty.
 * After JCGM 100:2008, H.3 (there a thermometer).
 */

/** y ≈ intercept + slope·(x − origin), by ordinary least squares. */
export interface StraightLine {
  readonly origin: number;
  readonly intercept: number;
  readonly slope: number;
  readonly interceptUncertainty: number;
  readonly slopeUncertainty: number;
  /** Correlation of intercept and slope. */
  readonly correlation: number;
  /** Standard deviation of an observation about the line. */
  readonly residualDeviation: number;
  /** n − 2. */
  readonly degreesOfFreedom: number;
}

/**
 * Fits a straight line to observations of equal uncertainty (JCGM 100, equations H.13).
 *
 * @param x where it was observed: known lengths [m], taken as exact
 * @param y what was observed there: correction to what the instrument shows [m]
 * @param origin the x that the intercept belongs to; in the middle of the x, intercept and slope are uncorrelated
 * @throws RangeError with fewer than three observations, lists of unlike length, or all x the same
 */
export function fitStraightLine(x: readonly number[], y: readonly number[], origin = 0): StraightLine {
  const n = x.length;
  if (n < 3 || y.length !== n)
    throw new RangeError(
      `Got ${n} places and ${y.length} observations when 3 or more of each were expected.`,
    );
  const meanX = x.reduce((sum, value) => sum + value, 0) / n;
  const meanY = y.reduce((sum, value) => sum + value, 0) / n;
  // About the mean: the sums of the printed formulas lose digits where x varies little.
  const spreadX = x.reduce((sum, value) => sum + (value - meanX) ** 2, 0);
  if (spreadX === 0)
    throw new RangeError(`Got every observation at ${meanX}: no line follows from one place.`);
  const slope = x.reduce((sum, value, k) => sum + (value - meanX) * ((y[k] as number) - meanY), 0) / spreadX;
  const intercept = meanY + slope * (origin - meanX);
  const squares = x.reduce(
    (sum, value, k) => sum + ((y[k] as number) - meanY - slope * (value - meanX)) ** 2,
    0,
  );
  const residualDeviation = Math.sqrt(squares / (n - 2));
  const lever = origin - meanX;
  const share = Math.sqrt(1 / n + lever ** 2 / spreadX);
  return {
    origin,
    intercept,
    slope,
    interceptUncertainty: residualDeviation * share,
    slopeUncertainty: residualDeviation / Math.sqrt(spreadX),
    correlation: lever / (Math.sqrt(spreadX) * share),
    residualDeviation,
    degreesOfFreedom: n - 2,
  };
}

/** The line's value at a place, and its uncertainty with the correlation of intercept and slope (JCGM 100, H.15). */
export function onStraightLine(
  line: StraightLine,
  x: number,
): { readonly value: number; readonly standardUncertainty: number; readonly degreesOfFreedom: number } {
  const reach = x - line.origin;
  const variance =
    line.interceptUncertainty ** 2 +
    (reach * line.slopeUncertainty) ** 2 +
    2 * reach * line.correlation * line.interceptUncertainty * line.slopeUncertainty;
  return {
    value: line.intercept + line.slope * reach,
    standardUncertainty: Math.sqrt(Math.max(0, variance)),
    degreesOfFreedom: line.degreesOfFreedom,
  };
}
