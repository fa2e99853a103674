/**
 * The slower half of the answer: which line has changed, what to read next, mistakes of measuring, and how well the
 * incidence is known. The worker sends it after the analysis; the command line prints both.
 */
import { GRAVITY } from "../geometry/flight-loads.ts";
import { wingStructure } from "../geometry/solve.ts";
import { incidenceResponse } from "../geometry/tangent-response.ts";
import { type IncidenceBand, incidenceBand } from "../geometry/variants.ts";
import { say } from "../words/index.ts";
import { type Attribution, attribute } from "./attribution.ts";
import { type IncidenceBands, incidenceBands } from "./bands.ts";
import { findMistakes, type Suspicion } from "./mistakes/index.ts";
import type { Analysis } from "./model.ts";
import { type NextReadings, nextReadings, sayNextReading } from "./next-reading.ts";

/** Plain data: may cross a worker's boundary. */
export interface Judgement {
  readonly attribution: Attribution;
  readonly next: NextReadings;
  /** What to read next, in words. */
  readonly nextSentence: string;
  readonly mistakes: readonly Suspicion[];
  /** What the model's assumptions leave, part by part. */
  readonly assumptions: IncidenceBand;
  /** Readings and assumptions together; undefined where `shouldStop` ended the draws. */
  readonly bands: IncidenceBands | undefined;
}

export interface JudgeOptions {
  readonly draws?: number;
  readonly onProgress?: (step: string, fraction: number) => void;
  /** Asked now and then; true ends the work early. */
  readonly shouldStop?: () => boolean;
}

/** @returns undefined for an analysis without readings */
export function judge(analysis: Analysis, options: JudgeOptions = {}): Judgement | undefined {
  const { wing, check, deviations, uncertainties, measured, model, ribs } = analysis;
  if (!check || !measured || !uncertainties) return undefined;
  const report = options.onProgress ?? (() => {});
  report(say("diagnosis.progress.lines"), 0);
  const attribution = attribute(wing, deviations, uncertainties);
  const next = nextReadings(wing, attribution, uncertainties);
  report(say("diagnosis.progress.mistakes"), 0.2);
  const mistakes = findMistakes(wing, check);
  report(say("diagnosis.progress.assumptions"), 0.4);
  const structure = wingStructure(model);
  const changes = new Map(analysis.lines.map((line) => [line.lineKey, line.attributedM]));
  const weights = { min: wing.allUpWeightKg.min * GRAVITY, max: wing.allUpWeightKg.max * GRAVITY };
  const assumptions = incidenceBand(model, changes, ribs, measured, weights, structure);
  report(say("diagnosis.progress.bands"), 0.6);
  const response = incidenceResponse(model, measured, structure);
  const bands = incidenceBands(ribs, response, attribution, changes, {
    assumptions,
    ...(options.draws === undefined ? {} : { draws: options.draws }),
    onProgress: (fraction) => report(say("diagnosis.progress.bands"), 0.6 + 0.4 * fraction),
    ...(options.shouldStop === undefined ? {} : { shouldStop: options.shouldStop }),
  });
  return { attribution, next, nextSentence: sayNextReading(wing, next), mistakes, assumptions, bands };
}
