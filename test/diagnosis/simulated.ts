/** Invented wings whose lines' true changes are known: drawn from the prior, then read with errors. */
import { type AgeingPrior, ageingPrior } from "../../src/diagnosis/ageing-prior.ts";
import type { ReadingSpread } from "../../src/diagnosis/attribution.ts";
import { fillNormal, seededUniform } from "../../src/diagnosis/normal-draws.ts";
import type { Wing } from "../../src/plan/model.ts";
import type { Deviations } from "../../src/readings/model.ts";
import { madeDeviations, pathsOfChanges } from "./made.ts";

/** Scatter of a loop's take-up about the specified, as the attribution takes it [m]. */
const LOOP_TAKE_UP = 0.004;

/** Standard normal numbers, the same in every run. */
export function normalsOf(seed: number): () => number {
  const uniform = seededUniform(seed);
  const one = new Float64Array(1);
  return () => {
    fillNormal(one, uniform);
    return one[0] as number;
  };
}

/** All paths read with their own error and what they share. */
export function spreadOf(
  wing: Wing,
  ownM: number,
  common: Readonly<Record<string, number>> = {},
): ReadingSpread {
  return {
    ownM: new Float64Array(wing.paths.length).fill(ownM),
    effects: Object.entries(common).map(([name, loading]) => ({
      name,
      loadingsM: new Float64Array(wing.paths.length).fill(loading),
    })),
    settings: { readingM: 0.001, resolutionM: 0, zeroM: common.zero ?? 0, scale: 0 },
  };
}

export interface Simulated {
  /** Line key → true change [m]. */
  readonly truth: ReadonlyMap<string, number>;
  readonly deviations: Deviations;
}

/**
 * @param alone lines read alone as well, besides the paths
 * @param unread tabs whose path isn't read
 */
export function simulate(
  wing: Wing,
  prior: AgeingPrior,
  spread: ReadingSpread,
  seed: number,
  {
    alone = [],
    unread = [],
  }: { readonly alone?: readonly string[]; readonly unread?: readonly string[] } = {},
): Simulated {
  const normal = normalsOf(seed);
  const { spreadM, lineEffects, effects } = ageingPrior(wing, prior);
  const rates = effects.map(() => normal());
  const truth = new Map(
    wing.lines.map((line, m) => [
      line.key,
      (spreadM[m] as number) * normal() +
        (lineEffects[m] ?? []).reduce(
          (sum, { index, coefficient }) => sum + coefficient * (rates[index] as number),
          0,
        ),
    ]),
  );
  const common = spread.effects.map(() => normal());
  const total = pathsOfChanges(truth);
  const { readingM = 0.001, zeroM = 0 } = spread.settings ?? {};
  const zero = zeroM * (common[spread.effects.findIndex((effect) => effect.name === "zero")] ?? 0);
  const onMaillon = new Set(
    wing.lines.filter((line) => line.hangsOn.kind === "maillon").map((line) => line.key),
  );
  // Read alone, a line on a maillon is without its loop, which takes up a little more or less than specified.
  const own = new Map(
    alone.map((key) => [
      key,
      (truth.get(key) as number) +
        zero +
        readingM * normal() +
        (onMaillon.has(key) ? LOOP_TAKE_UP * normal() : 0),
    ]),
  );
  return {
    truth,
    deviations: madeDeviations(
      wing,
      (path, tab) => {
        const error = spread.effects.reduce(
          (sum, { loadingsM }, c) => sum + (loadingsM[tab] as number) * (common[c] as number),
          (spread.ownM[tab] as number) * normal(),
        );
        return unread.includes(path.tabKey) ? undefined : total(path) + error;
      },
      own,
    ),
  };
}
