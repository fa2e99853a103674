/** What a fit tells of its quantities: value, where it comes from, and how well it is known. */
import type { Quantity } from "./fit-quantities.ts";
import { outlineOf, type Values } from "./fit-values.ts";
import type { LeastSquares } from "./levenberg.ts";
import type { FittedParameter, ParameterName, ParameterUnit } from "./model.ts";
import { type OutlineParameters, outlineFigures } from "./outline.ts";

/** Spans and chords are stated to the centimetre: what is reckoned from them is good to this share at best. */
const FIGURES_ROUNDED = 0.0003;
/** The data have spoken where they have at least halved the prior's spread. */
const DETERMINED = 0.5;

/** A fit as it was solved. */
export interface Solved {
  readonly quantities: readonly Quantity[];
  readonly free: readonly Quantity[];
  readonly values: Values;
  readonly solution: LeastSquares;
  /** How far the paths stand from the outline, estimated [m]. */
  readonly spread: number;
  /** −2 times the log of the posterior's height, up to a constant. */
  readonly badness: number;
  /** Per tab: its share of its rib's load. */
  readonly shares: Float64Array;
}

/** What follows from the quantities and is worth knowing with its deviation. */
const DERIVED: readonly {
  readonly name: ParameterName;
  readonly unit: ParameterUnit;
  readonly of: (outline: OutlineParameters) => number;
}[] = [
  { name: "root chord", unit: "m", of: (outline) => outline.rootChordM },
  { name: "tip chord", unit: "m", of: (outline) => outline.tipChordM },
  { name: "flat area", unit: "m²", of: (outline) => outlineFigures(outline).flatAreaM2 },
  { name: "projected span", unit: "m", of: (outline) => outlineFigures(outline).projectedSpanM },
  { name: "projected area", unit: "m²", of: (outline) => outlineFigures(outline).projectedAreaM2 },
  { name: "arch height", unit: "m", of: (outline) => outlineFigures(outline).archHeightM },
];

/** Every quantity of a solved fit, and what follows from them, with their deviations. */
export function parametersOf({ quantities, free, values, solution }: Solved): FittedParameter[] {
  const { covariance } = solution;
  const deviation = (slopes: readonly number[]): number => {
    let variance = 0;
    slopes.forEach((a, i) => {
      slopes.forEach((b, j) => {
        variance += a * b * (covariance?.get(i, j) ?? (i === j ? (free[i] as Quantity).deviation ** 2 : 0));
      });
    });
    return Math.sqrt(Math.max(0, variance));
  };
  const judged = (
    name: ParameterName,
    unit: ParameterUnit,
    value: number,
    after: number,
    before: number,
    atBound: boolean,
  ): FittedParameter => ({
    name,
    value,
    unit,
    // A bound isn't a finding of the data's.
    origin: before === 0 ? "plan" : after < DETERMINED * before && !atBound ? "fitted" : "assumed",
    deviation: after,
    priorDeviation: before,
  });
  const own = quantities.map((q) => {
    const value = values.get(q.name) as number;
    const index = free.indexOf(q);
    if (index < 0) return judged(q.name, q.unit, value, 0, 0, false);
    const after = deviation(free.map((_, i) => (i === index ? 1 : 0)));
    return judged(q.name, q.unit, value, after, q.deviation, value === q.lower || value === q.upper);
  });

  const outline = outlineOf(values);
  const stepped = free.map((q) => {
    const step = 1e-4 * q.deviation;
    const moved = new Map(values).set(q.name, (values.get(q.name) as number) + step);
    return { step, outline: outlineOf(moved) };
  });
  const known = new Set<string>(quantities.map((q) => q.name));
  const derived = DERIVED.filter(({ name }) => !known.has(name)).map(({ name, unit, of }) => {
    const value = of(outline);
    const slopes = stepped.map((each) => (of(each.outline) - value) / each.step);
    const before = Math.hypot(...slopes.map((slope, i) => slope * (free[i] as Quantity).deviation));
    // Below rounding a slope is none: the figure follows from what the plan gives.
    if (before < 1e-6 * Math.abs(value)) return judged(name, unit, value, 0, 0, false);
    return judged(name, unit, value, Math.hypot(deviation(slopes), FIGURES_ROUNDED * value), before, false);
  });
  return [...own, ...derived];
}

/** One of several fits of the same wing that can't all be true. */
export interface Hypothesis {
  readonly parameters: readonly FittedParameter[];
  /** −2 times the log of how probable it is, up to a constant. */
  readonly badness: number;
  /** Where the outermost rib stands on the flat half-span. */
  readonly outermost: number;
}

/**
 * The parameters of the most probable of several fits. Deviations are those of the mixture about its values: each fit's own,
 * and how far it lies from the best one, weighted by its probability.
 *
 * @param usual where the outermost rib usually stands
 */
export function mixedParameters(
  hypotheses: readonly Hypothesis[],
  best: Hypothesis,
  usual: { readonly deviation: number },
): FittedParameter[] {
  const chances = hypotheses.map(({ badness }) => Math.exp(-(badness - best.badness) / 2));
  const sum = chances.reduce((total, chance) => total + chance, 0);
  const mixed = (
    parameter: FittedParameter,
    of: (hypothesis: Hypothesis) => Pick<FittedParameter, "value" | "deviation">,
  ): FittedParameter => {
    const variance = hypotheses.reduce((total, hypothesis, i) => {
      const { value, deviation } = of(hypothesis);
      return total + ((chances[i] as number) / sum) * (deviation ** 2 + (value - parameter.value) ** 2);
    }, 0);
    const deviation = Math.sqrt(variance);
    const determined = deviation < DETERMINED * parameter.priorDeviation;
    return { ...parameter, deviation, origin: determined ? parameter.origin : "assumed" };
  };
  const parameters = best.parameters.map((parameter, p) =>
    parameter.origin === "plan" || hypotheses.length === 1
      ? parameter
      : mixed(parameter, (hypothesis) => hypothesis.parameters[p] as FittedParameter),
  );
  const rib: FittedParameter = {
    name: "outermost rib",
    value: best.outermost,
    unit: "flat half-spans",
    origin: "fitted",
    deviation: 0,
    priorDeviation: usual.deviation,
  };
  return [...parameters, mixed(rib, ({ outermost }) => ({ value: outermost, deviation: 0 }))];
}
