/** The distributions that uncertainty is reckoned with, over a statistics library whose weak spots are fenced off here. */
import jStat from "jstat";

/**
 * From here on Student's t is taken as normal: its quantiles are then within 2e-6 of the normal ones, while the
 * library's inverse incomplete beta function goes astray (at 1e9 degrees of freedom by 0.003).
 */
const AS_GOOD_AS_NORMAL = 1e6;

/** Φ(z): probability that a standard normal variable stays below z. Absolute error below 1e-15. */
export function normalCdf(z: number): number {
  if (z === Number.POSITIVE_INFINITY) return 1;
  if (z === Number.NEGATIVE_INFINITY) return 0;
  return jStat.normal.cdf(z, 0, 1);
}

/** The z that a standard normal variable stays below with this probability, between 0 and 1. */
export function normalQuantile(probability: number): number {
  requireProbability(probability);
  return jStat.normal.inv(probability, 0, 1);
}

/** The t that Student's variable with so many degrees of freedom (Infinity allowed) stays below with this probability. */
export function studentQuantile(probability: number, degreesOfFreedom: number): number {
  requireProbability(probability);
  if (!(degreesOfFreedom > 0))
    throw new RangeError(`Got ${degreesOfFreedom} degrees of freedom when more than 0 were expected.`);
  return degreesOfFreedom >= AS_GOOD_AS_NORMAL
    ? normalQuantile(probability)
    : jStat.studentt.inv(probability, degreesOfFreedom);
}

/** The value that a chi-square variable with so many degrees of freedom stays below with this probability. */
export function chiSquareQuantile(probability: number, degreesOfFreedom: number): number {
  requireProbability(probability);
  return jStat.chisquare.inv(probability, degreesOfFreedom);
}

function requireProbability(probability: number): void {
  if (!(probability > 0 && probability < 1))
    throw new RangeError(`Got a probability of ${probability} when one between 0 and 1 was expected.`);
}
