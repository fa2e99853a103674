/** Take-ups from the bench: from raw lengths, and several readings of one put together. */
import { trimmed, trimmedMm } from "../diagnosis/wording.ts";
import type { Parsed, Problem } from "../plan/model.ts";
import { combine, ofResolution, typeA, type UncertaintyComponent } from "../readings/gum.ts";
import { length, say } from "../words/index.ts";
import type { BenchTakeUp } from "./model.ts";
import type { TakeUp } from "./take-up.ts";

/**
 * A bench take-up counts for a bar and a line within a tenth of a millimetre of those it was measured with: that moves
 * a turn's take-up by 0.16 mm, well within what one tying differs from the next. Beyond that there is no
 * interpolation: a line of another diameter is often of another make, and two readings don't tell the one from the
 * other. Measure again on the bar and line in hand.
 */
export const SAME_DIAMETER_M = 0.0001;

/** Standard uncertainty of a take-up read once, where none is stated [m]: two lengths, and a tying. Assumption, no source. */
export const BENCH_UNCERTAINTY_M = 0.0005;

/** Standard uncertainty of one length on the bench, beside its resolution, where it was read once [m]. Assumption, no source. */
const LENGTH_UNCERTAINTY_M = 0.0003;

/** Tensions within this are the same [N]: a short lower line stretches by less than 0.1 mm for it. */
const SAME_TENSION_N = 2;

/** Slack for binary fractions of tenths of a millimetre. */
const ROUNDING_M = 1e-9;

/** Whether two diameters count as the same. */
export function sameDiameter(oneM: number, otherM: number): boolean {
  return Math.abs(oneM - otherM) <= SAME_DIAMETER_M + ROUNDING_M;
}

/**
 * What the bench says of a kind of loop on a bar and line: the mean of all readings that count for them; undefined where
 * there is none. Its uncertainty is the larger of two: what the readings' scatter tells of their mean (type A, JCGM 100
 * 4.2), and what the single readings' own uncertainties make of it (stated, or `BENCH_UNCERTAINTY_M`). So two equal
 * readings don't pass for certainty, nor do two that differ for their stated uncertainty.
 *
 * @param kindId id of the kind
 * @param barDiameterM diameter of the bar [m]
 * @param lineDiameterM diameter of the line [m]
 */
export function benchTakeUp(
  readings: readonly BenchTakeUp[],
  kindId: string,
  barDiameterM: number,
  lineDiameterM: number,
): TakeUp | undefined {
  const counting = readings.filter(
    (reading) =>
      reading.kindId === kindId &&
      sameDiameter(reading.barDiameterM, barDiameterM) &&
      sameDiameter(reading.lineDiameterM, lineDiameterM),
  );
  const [first] = counting;
  if (first === undefined) return undefined;
  const own = counting.map((reading) => reading.standardUncertaintyM ?? BENCH_UNCERTAINTY_M);
  const ofOwn = Math.hypot(...own) / counting.length;
  if (counting.length === 1) return { takeUpM: first.takeUpM, standardUncertaintyM: ofOwn };
  const scatter = typeA(counting.map((reading) => reading.takeUpM));
  return { takeUpM: scatter.mean, standardUncertaintyM: Math.max(scatter.standardUncertainty, ofOwn) };
}

/** Raw lengths from the bench, both from the same two points of the same line on the same bar. */
export interface BenchLengths {
  /** With a plain eye, repeats each tied anew [m]. */
  readonly plainM: readonly number[];
  /** With the loop, repeats each tied anew [m]. */
  readonly loopedM: readonly number[];
  /** Tension with the plain eye [N]. */
  readonly plainTensionN: number;
  /** Tension with the loop [N]. */
  readonly loopedTensionN: number;
  /** Smallest step that the rule shows [m]; 1 mm where left out. */
  readonly resolutionM?: number | undefined;
}

/** A take-up from raw lengths, with its effective degrees of freedom. */
export interface MeasuredTakeUp extends TakeUp {
  readonly degreesOfFreedom: number;
}

/**
 * The take-up that raw lengths show: mean with a plain eye less mean with the loop. Uncertainty by JCGM 100: each mean's
 * scatter (type A) where it was read more than once, else an assumed reading's; and the rule's resolution, once for
 * each. No correction for tension is made, so both must be read under the same.
 *
 * Problems, and no value, where a length is missing or isn't one, tensions differ by more than 2 N, or the loop
 * comes out longer than the plain eye beyond twice its uncertainty. A take-up below that is given as 0.
 */
export function takeUpFromLengths(lengths: BenchLengths): Parsed<MeasuredTakeUp> {
  const { plainM, loopedM, plainTensionN, loopedTensionN, resolutionM = 0.001 } = lengths;
  const problems: Problem[] = [];
  const fault = (where: string, message: string, remedy: string): void => {
    problems.push({ severity: "error", where, subject: undefined, message, remedy });
  };
  for (const [which, values] of [
    ["plain", plainM],
    ["looped", loopedM],
  ] as const) {
    const where = say(which === "plain" ? "workshop.bench.plain" : "workshop.bench.looped");
    const bad = values.find((value) => !(value > 0 && Number.isFinite(value)));
    if (values.length === 0)
      fault(where, say("workshop.bench.none"), say("workshop.bench.none.fix", { which }));
    else if (bad !== undefined)
      fault(
        where,
        say("workshop.bench.length", { found: trimmedMm(bad, 3) }),
        say("workshop.bench.length.fix"),
      );
  }
  const tensions = { plain: trimmed(plainTensionN, 3), looped: trimmed(loopedTensionN, 3) };
  if (!(plainTensionN > 0 && loopedTensionN > 0))
    fault(
      say("workshop.bench.tension"),
      say("workshop.bench.tensions", tensions),
      say("workshop.bench.tensions.fix"),
    );
  else if (Math.abs(plainTensionN - loopedTensionN) > SAME_TENSION_N)
    fault(
      say("workshop.bench.tension"),
      say("workshop.bench.unequal", tensions),
      say("workshop.bench.unequal.fix"),
    );
  if (!(resolutionM >= 0))
    fault(
      say("workshop.bench.resolution"),
      say("workshop.bench.resolution.low", { found: trimmedMm(resolutionM, 3) }),
      say("workshop.bench.resolution.fix"),
    );
  if (problems.length > 0) return { ok: false, problems };

  const plain = ofLengths(plainM);
  const looped = ofLengths(loopedM);
  const { standardUncertainty, degreesOfFreedom } = combine([
    { sensitivity: 1, ...plain.component },
    { sensitivity: -1, ...looped.component },
    { sensitivity: 1, uncertainty: ofResolution(resolutionM) },
    { sensitivity: -1, uncertainty: ofResolution(resolutionM) },
  ]);
  const takeUpM = plain.meanM - looped.meanM;
  if (takeUpM < -2 * standardUncertainty) {
    fault(
      say("workshop.bench.take-up"),
      say("workshop.bench.longer", { by: length(-takeUpM, 1) }),
      say("workshop.bench.longer.fix"),
    );
    return { ok: false, problems };
  }
  return {
    ok: true,
    value: { takeUpM: Math.max(0, takeUpM), standardUncertaintyM: standardUncertainty, degreesOfFreedom },
    problems: [],
  };
}

function ofLengths(valuesM: readonly number[]): {
  readonly meanM: number;
  readonly component: Omit<UncertaintyComponent, "sensitivity">;
} {
  const [only] = valuesM;
  if (valuesM.length === 1)
    return { meanM: only as number, component: { uncertainty: LENGTH_UNCERTAINTY_M } };
  const { mean, standardUncertainty, degreesOfFreedom } = typeA(valuesM);
  return { meanM: mean, component: { uncertainty: standardUncertainty, degreesOfFreedom } };
}
