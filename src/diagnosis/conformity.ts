/**
 * Whether a measured value keeps its limits, decided by a stated rule that takes its uncertainty into account: JCGM
 * 106:2012, and the guard bands of ISO 14253-1 and ILAC-G8. A decision is about a figure and a limit the user set; it
 * is no clearance to fly.
 */
import { normalQuantile } from "../readings/distributions.ts";
import { say } from "../words/index.ts";
import { conformanceProbability, type Limits } from "./conformance.ts";
import { plainMm, signedMm, trimmed } from "./wording.ts";

/** How to decide, as data: kept with a check and stated beside every decision. */
export type DecisionRule =
  /** The value itself against the limits, its uncertainty shown but not taken off. */
  | { readonly kind: "simple acceptance" }
  /** Limits moved by w = r·U, U = 2u: inwards to conform, outwards not to. */
  | { readonly kind: "guard band"; readonly r: number }
  /** Conforms where the probability of conformity is at least this, above 0.5 and below 1. */
  | { readonly kind: "minimum probability"; readonly probability: number };

/** The rules offered, and where each is from. */
export const DECISION_RULES = {
  /** ILAC-G8:09/2019 names it binary statement with simple acceptance: up to one in two accepted on the limit is outside. */
  simple: { kind: "simple acceptance" },
  /** w = U: a value accepted is outside with less than 2.5 % (ILAC-G8:09/2019). */
  full: { kind: "guard band", r: 1 },
  /** w = 0.83 U: less than 5 % (ISO 14253-1:2017, its default; from memory). */
  drawing: { kind: "guard band", r: 0.83 },
  /** Probability of conformity of at least 95 % (JCGM 106:2012, 8.3): one-sided this is w = 1.645 u. */
  probable: { kind: "minimum probability", probability: 0.95 },
} as const satisfies Record<string, DecisionRule>;

/** ISO 14253-1's default. */
export const DEFAULT_DECISION_RULE: DecisionRule = DECISION_RULES.drawing;

export type Outcome = "conforms" | "does not conform" | "undecided";

/** The case of a message that tells outcomes apart. */
export function outcomeCase(outcome: Outcome): "conforms" | "fails" | "undecided" {
  return outcome === "does not conform" ? "fails" : outcome;
}

export interface Decision {
  readonly outcome: Outcome;
  /** Probability that the quantity lies within the limits, given the value measured (JCGM 106). */
  readonly probability: number;
  /** Values from lower to upper conform by the rule [m]; undefined where the uncertainty is too large for any to. */
  readonly acceptance: Limits | undefined;
  /** Values below lower or above upper don't conform by the rule [m]. */
  readonly rejection: Limits;
  /** The decision, its figures and the rule in words. */
  readonly sentence: string;
}

/** A value on a limit is on it, whatever rounding its last digits went through [m]. */
const ROUNDING = 1e-9;

/**
 * Decides whether a measured value keeps its limits [m].
 *
 * @param valueM the value measured, with sign
 * @param standardUncertaintyM its standard uncertainty, 0 or more
 * @throws RangeError on a negative uncertainty, limits that leave nothing between them, none at all, or a rule out of
 *   its range
 */
export function decide(
  valueM: number,
  standardUncertaintyM: number,
  limits: Limits,
  rule: DecisionRule = DEFAULT_DECISION_RULE,
): Decision {
  if (!Number.isFinite(valueM) || !(standardUncertaintyM >= 0))
    throw new RangeError(
      `Got ${valueM} ± ${standardUncertaintyM} when a value and an uncertainty of 0 or more were expected.`,
    );
  if (limits.lower === undefined && limits.upper === undefined)
    throw new RangeError("Got no limit to hold the value against.");
  if ((limits.lower ?? Number.NEGATIVE_INFINITY) >= (limits.upper ?? Number.POSITIVE_INFINITY))
    throw new RangeError(`Got limits of ${limits.lower} and ${limits.upper}, with nothing between them.`);
  const { acceptance, rejection } = decisionLimits(standardUncertaintyM, limits, rule);
  const outcome = within(valueM, rejection)
    ? acceptance !== undefined && within(valueM, acceptance)
      ? "conforms"
      : "undecided"
    : "does not conform";
  const probability = conformanceProbability(snapped(valueM, limits), standardUncertaintyM, limits);
  const sentence = `${sayOutcome(outcome, valueM, standardUncertaintyM, limits, probability)} ${sayRule(rule, standardUncertaintyM, acceptance)}`;
  return { outcome, probability, acceptance, rejection, sentence };
}

function within(value: number, { lower, upper }: Limits): boolean {
  return (
    value >= (lower ?? Number.NEGATIVE_INFINITY) - ROUNDING &&
    value <= (upper ?? Number.POSITIVE_INFINITY) + ROUNDING
  );
}

/** A value that lies on a limit but for rounding, on it exactly: the probability without uncertainty hangs on that. */
function snapped(value: number, { lower, upper }: Limits): number {
  return [lower, upper].find((limit) => limit !== undefined && Math.abs(value - limit) <= ROUNDING) ?? value;
}

/**
 * Acceptance and rejection limits of a rule for a value with this standard uncertainty, in the limits' unit: from
 * acceptance.lower to acceptance.upper conforms, below rejection.lower or above rejection.upper doesn't, between them
 * is undecided. `acceptance` is undefined where nothing is left of it.
 */
export function decisionLimits(
  standardUncertainty: number,
  limits: Limits,
  rule: DecisionRule,
): Pick<Decision, "acceptance" | "rejection"> {
  switch (rule.kind) {
    case "simple acceptance":
      return { acceptance: limits, rejection: limits };
    case "guard band": {
      if (!(rule.r >= 0 && Number.isFinite(rule.r)))
        throw new RangeError(`Got a guard band of ${rule.r} U when 0 or more was expected.`);
      const width = guardBandWidth(rule.r, standardUncertainty);
      const acceptance = moved(limits, width);
      return { acceptance: isEmpty(acceptance) ? undefined : acceptance, rejection: moved(limits, -width) };
    }
    case "minimum probability":
      return probabilityLimits(standardUncertainty, limits, rule.probability);
  }
}

/** Guard band w = r·U with the expanded uncertainty U = 2u (JCGM 106, 8.3; the usual form of ILAC-G8 and ISO 14253-1). */
export function guardBandWidth(r: number, standardUncertainty: number): number {
  return r * 2 * standardUncertainty;
}

/** Limits moved inwards by a width; outwards where it is negative. */
function moved({ lower, upper }: Limits, width: number): Limits {
  return {
    ...(lower === undefined ? {} : { lower: lower + width }),
    ...(upper === undefined ? {} : { upper: upper - width }),
  };
}

function isEmpty({ lower, upper }: Limits): boolean {
  return lower !== undefined && upper !== undefined && lower > upper + ROUNDING;
}

/**
 * Values from where the probability of conformity is p or more, and beyond where it is 1 − p or less. With one limit
 * they lie z_p·u to either side of it. With two, the probability is highest in the middle and falls evenly to both
 * sides, so halving finds the place. A value within the limits is never said not to conform, be its uncertainty so
 * large that the probability is small everywhere.
 */
function probabilityLimits(
  standardUncertainty: number,
  limits: Limits,
  probability: number,
): Pick<Decision, "acceptance" | "rejection"> {
  if (!(probability > 0.5 && probability < 1))
    throw new RangeError(
      `Got a least probability of ${probability} when one above 0.5 and below 1 was expected.`,
    );
  const { lower, upper } = limits;
  const oneSided = normalQuantile(probability) * standardUncertainty;
  if (lower === undefined || upper === undefined || standardUncertainty === 0)
    return { acceptance: moved(limits, oneSided), rejection: moved(limits, -oneSided) };

  const half = (upper - lower) / 2;
  const outwards = (fromMiddle: number): number =>
    conformanceProbability(lower + half + fromMiddle, standardUncertainty, limits);
  const place = (target: number, from: number, to: number): number => {
    let near = from;
    let far = to;
    for (let pass = 0; pass < 100; pass++) {
      const tried = (near + far) / 2;
      if (outwards(tried) >= target) near = tried;
      else far = tried;
    }
    return near;
  };
  const acceptance =
    outwards(0) < probability ? undefined : moved(limits, half - place(probability, 0, half));
  const rejection = moved(limits, half - place(1 - probability, half, half + oneSided));
  return { acceptance, rejection };
}

function sayOutcome(
  outcome: Outcome,
  valueM: number,
  standardUncertaintyM: number,
  { lower, upper }: Limits,
  probability: number,
): string {
  return say("diagnosis.decision", {
    outcome: outcomeCase(outcome),
    value: signedMm(valueM, 1),
    uncertainty: plainMm(standardUncertaintyM, 1),
    limits: lower === undefined ? "most" : upper === undefined ? "least" : "both",
    lower: lower === undefined ? "" : signedMm(lower, 1),
    upper: upper === undefined ? "" : signedMm(upper, 1),
    probability: percent(probability, standardUncertaintyM > 0),
  });
}

function sayRule(rule: DecisionRule, standardUncertaintyM: number, acceptance: Limits | undefined): string {
  const none = acceptance === undefined ? ` ${say("diagnosis.decision.none")}` : "";
  switch (rule.kind) {
    case "simple acceptance":
      return say("diagnosis.decision.simple");
    case "guard band": {
      const width = plainMm(guardBandWidth(rule.r, standardUncertaintyM), 1);
      return `${say("diagnosis.decision.guard", { r: trimmed(rule.r, 3), width })}${none}`;
    }
    case "minimum probability":
      return `${say("diagnosis.decision.probable", { least: percent(rule.probability), most: percent(1 - rule.probability) })}${none}`;
  }
}

/** As a percentage; where there is uncertainty it is never rounded up to certainty, nor down to none. */
function percent(share: number, uncertain = false): string {
  const bound = uncertain && share > 0.999 ? "above" : uncertain && share < 0.001 ? "below" : "none";
  const shown = bound === "above" ? 99.9 : bound === "below" ? 0.1 : share * 100;
  return say("diagnosis.percent", { bound, percent: trimmed(shown, 1) });
}

/** Whether a deviation is small enough to be the reading's own uncertainty: |deviation| ≤ k·u, both in one unit. */
export function isWithinUncertainty(deviation: number, standardUncertainty: number, k = 2): boolean {
  return Math.abs(deviation) <= k * standardUncertainty;
}

/** The rule that decides, in one sentence. U is the expanded uncertainty, k = 2. */
export function ruleSentence(rule: DecisionRule): string {
  switch (rule.kind) {
    case "simple acceptance":
      return say("diagnosis.rule.simple");
    case "guard band": {
      const width = rule.r === 1 ? "U" : `${trimmed(rule.r, 2)} U`;
      return say("diagnosis.rule.guard", { width });
    }
    case "minimum probability":
      return say("diagnosis.rule.probable", {
        least: percent(rule.probability),
        most: percent(1 - rule.probability),
      });
  }
}
