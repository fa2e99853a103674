/**
 * How plausible a deviation is, with and without a mistake: the densities and rates that all suspicions are weighed with.
 *
 * The rates of mistakes and of real faults, and the widths of real faults, are assumed (common practice, no source), but
 * for how typing slips divide among kinds: single digits 60 to 95 %, neighbouring digits transposed 10 to 20 %, a digit
 * left out or added 10 to 20 %, misheard such as fifteen for fifty 0.5 to 1.5 %, transposed over one between 0.5 to 1.5 %
 * (J. Verhoeff, Error Detecting Decimal Codes, 1969, as given by N. R. Wagner, The Laws of Cryptography).
 * Lengths in m, densities per m, logarithms natural.
 */

/** Shares of readings, or of pairs of readings, that go wrong so. */
export const RATE = {
  /** a slip of a digit in one reading */
  typing: 0.006,
  neighboursSwapped: 0.0015,
  sidesSwapped: 0.001,
  tabsSwapped: 0.0002,
  /** to the tab before or after, each */
  wrongTabNext: 0.0015,
  wrongTabMirror: 0.0005,
  /** the same rib in another row, each */
  wrongTabRow: 0.0002,
  /** any other tab of its row and side, each */
  wrongTabElse: 0.00003,
  /** in one sequence of calls */
  shifted: 0.03,
  /** of one check */
  sidesSwappedWhole: 0.005,
  rowFromElsewhere: 0.06,
  rowBothFromElsewhere: 0.02,
  sideFromElsewhere: 0.01,
  checkFromElsewhere: 0.02,
} as const;

/** Tales far below even odds aren't built, not even as alternatives. */
export const LEAST_LOG_ODDS = Math.log(0.01);

/** How slips of typing divide among kinds. */
export const SLIP_SHARE = {
  digit: 0.66,
  transposed: 0.14,
  jump: 0.01,
  missing: 0.08,
  extra: 0.1,
  misheard: 0.07,
} as const;

/** Share of single paths that really are off by more than scatter: knotted, damaged, wrongly joined, the wrong line. */
const REAL_FAULT = 0.0015;
/** Most of them by a centimetre, a few by a lot [m]. */
const FAULT_SCALE = 0.01;
const LARGE_FAULT_SCALE = 0.08;
const LARGE_FAULT_SHARE = 0.03;
/** A blunder of no known kind, anywhere over a metre or two. */
const BLUNDER = 0.0003;
const BLUNDER_DENSITY = 0.5;
/** So rare that it never happens; above 0 only to keep logarithms finite. */
export const NO_BLUNDER = 1e-40;
/** Standard deviation between repeats of one path [m]. */
const REPEAT_SIGMA = 0.0015;

const ROOT_TWO_PI = Math.sqrt(2 * Math.PI);
const LOG_ROOT_TWO_PI = Math.log(ROOT_TWO_PI);

export function logNormal(x: number, sigma: number): number {
  return -0.5 * (x / sigma) ** 2 - Math.log(sigma) - LOG_ROOT_TWO_PI;
}

export function laplace(x: number, scale: number): number {
  return Math.exp(-Math.abs(x) / scale) / (2 * scale);
}

/** Normal with a share of wide exponential tails: how far rows, sides and trends really are apart. */
export function logTailed(x: number, { sigma, share, scale }: Spread): number {
  return Math.log((1 - share) * Math.exp(logNormal(x, sigma)) + share * laplace(x, scale));
}

export interface Spread {
  readonly sigma: number;
  readonly share: number;
  readonly scale: number;
}

/** Density of a single line's real fault. */
function faultDensity(x: number): number {
  return (
    (1 - LARGE_FAULT_SHARE) * laplace(x, FAULT_SCALE) + LARGE_FAULT_SHARE * laplace(x, LARGE_FAULT_SCALE)
  );
}

function readingDensity(x: number, sigma: number, blunder: number): number {
  return (
    ((1 - blunder) * Math.exp(-0.5 * (x / sigma) ** 2)) / (sigma * ROOT_TWO_PI) + blunder * BLUNDER_DENSITY
  );
}

/** {@link logHonest} of a single value. */
export function logHonestOne(residual: number, sigma: number, blunder = BLUNDER): number {
  const usual = (1 - REAL_FAULT) * readingDensity(residual, sigma, blunder);
  return Math.log(usual + REAL_FAULT * faultDensity(residual) + Number.MIN_VALUE);
}

/**
 * Log-density of all values read at one tab, told without any of the mistakes we know: the line is as its fellows suggest,
 * or really off (then all its repeats are off together), and every value may be a plain blunder.
 *
 * @param residuals value less what is expected there, per repeat [m]; none gives 0
 * @param sigma standard deviation of scatter and expectation [m]
 * @param blunder share of plain blunders; {@link NO_BLUNDER} for what is left without them
 */
export function logHonest(residuals: readonly number[], sigma: number, blunder = BLUNDER): number {
  const [only] = residuals;
  if (only === undefined) return 0;
  if (residuals.length === 1) return logHonestOne(only, sigma, blunder);
  let usual = Math.log(1 - REAL_FAULT);
  for (const residual of residuals) usual += Math.log(readingDensity(residual, sigma, blunder));
  // The line's real length is near one of the values: integrated over, the width of the repeats' mean about it.
  const width = Math.log(REPEAT_SIGMA) + LOG_ROOT_TWO_PI - 0.5 * Math.log(residuals.length);
  let fault = Number.NEGATIVE_INFINITY;
  for (const real of residuals) {
    let log = Math.log(REAL_FAULT * faultDensity(real) + Number.MIN_VALUE) + width;
    for (const residual of residuals) log += Math.log(readingDensity(residual - real, REPEAT_SIGMA, blunder));
    fault = Math.max(fault, log);
  }
  const top = Math.max(usual, fault);
  return top + Math.log(Math.exp(usual - top) + Math.exp(fault - top));
}
