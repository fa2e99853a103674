/** All suspicions about a check, the most plausible first, one offer for a reading; the check itself is left as it is. */
import type { Wing } from "../../plan/model.ts";
import type { Check } from "../../readings/model.ts";
import { applyCorrection } from "./apply.ts";
import { exchangedCandidates } from "./exchanged.ts";
import { type Expectation, expect } from "./expectation.ts";
import { layOut } from "./layout.ts";
import type { Candidate, Concern, MistakeOptions, Suspicion } from "./model.ts";
import { shiftedCandidates } from "./shifted.ts";
import { sidesCandidates } from "./sides.ts";
import { slipCandidates } from "./slips.ts";
import { stepCandidates } from "./steps.ts";
import { unexplainedCandidates } from "./unexplained.ts";

/** Three to one: below that a real deviation is too likely for an offer. */
const LEAST_LOG10_ODDS = Math.log10(3);
/** A correction may be offered for use from this probability on, among all tales: a real fault must not be mended away. */
const SURE = 0.98;
const MOST_ALTERNATIVES = 3;
const MOST_ROUNDS = 6;

/**
 * Suspicions that readings of a check were mistaken, best first, with their alternatives.
 *
 * Each is weighed as odds: how often such a mistake is made, times how plausible the readings are once it is undone, over how
 * plausible they are as they stand; in which a line may really be off, a lower line may be off with all its tabs, a row may have
 * shrunk more towards the tip, one side may be worse, and a reading may be a plain blunder. What no mistake explains better than
 * that isn't told here: see `findOutliers`.
 *
 * In principle undetectable, and so never told: two tabs swapped whose specified lengths differ by less than about four
 * standard deviations of the scatter; left and right swapped on a symmetric plan where the two sides are alike; slips of the
 * last digit.
 *
 * Readings of tabs the wing doesn't have are left out. Nothing is changed: see `applyCorrection`, then call this again.
 */
export function findMistakes(wing: Wing, check: Check, options: MistakeOptions = {}): readonly Suspicion[] {
  const least = (options.leastLog10Odds ?? LEAST_LOG10_ODDS) * Math.LN10;
  const told: { best: Candidate; others: Candidate[] }[] = [];
  const settled = new Set<string>();
  let current = check;
  for (let round = 0; ; round++) {
    const expectation = expect(layOut(wing, current, options));
    const found = candidates(expectation).filter((one) => !touches(one, settled));
    const choice = chosen(found, least);
    const structural = round < MOST_ROUNDS ? choice.find(({ best }) => best.structural) : undefined;
    if (!structural) {
      told.push(...choice);
      break;
    }
    // Where entries have slipped, their rows say nothing about the rest until that is put right.
    told.push(structural);
    current = applyCorrection(current, { id: "", correction: structural.best.correction });
    for (const concern of structural.best.concerns) {
      settled.add(nameOf(concern.target, concern.readM));
      settled.add(nameOf(concern.belongsTo, concern.readM));
    }
  }
  return told
    .sort((a, b) => b.best.logOdds - a.best.logOdds)
    .map(({ best, others }) => suspicion(best, others));
}

function candidates(expectation: Expectation): Candidate[] {
  return [
    ...slipCandidates(expectation),
    ...exchangedCandidates(expectation),
    ...shiftedCandidates(expectation),
    ...stepCandidates(expectation),
    ...sidesCandidates(expectation),
    ...unexplainedCandidates(expectation),
  ];
}

/**
 * The best tale about each reading; tales that contradict a better one stand with it. Told is what, with all its alternatives,
 * is likely enough to be a mistake: it may be clear that a reading is wrong, but not how.
 */
function chosen(found: readonly Candidate[], least: number): { best: Candidate; others: Candidate[] }[] {
  const choice: { best: Candidate; others: Candidate[] }[] = [];
  for (const candidate of [...found].sort((a, b) => rank(b) - rank(a))) {
    const against = choice.find(({ best }) => contradict(best, candidate));
    if (against) against.others.push(candidate);
    else choice.push({ best: candidate, others: [] });
  }
  return choice.filter(({ best, others }) => {
    const odds = [best, ...others].reduce((sum, one) => sum + Math.exp(Math.min(one.logOdds, 100)), 0);
    return Math.log(odds) >= least;
  });
}

/** That a reading is wrong in no known way is the last thing to say: odds of other tales already count it in. */
function rank(candidate: Candidate): number {
  return candidate.kind === "unexplained" ? Math.min(candidate.logOdds, 0) : candidate.logOdds;
}

/** A slip within a row that was read from another point is no contradiction: both may be true. */
function contradict(one: Candidate, other: Candidate): boolean {
  if ((one.kind === "another point") !== (other.kind === "another point")) return false;
  if (one.rivals !== undefined && one.rivals === other.rivals) return true;
  const tabs = new Set(one.concerns.flatMap(namesOf));
  return other.concerns.some((concern) => namesOf(concern).some((name) => tabs.has(name)));
}

function namesOf({ target }: Concern): string[] {
  return [`${target.kind} ${target.side} ${target.id}`];
}

function touches(candidate: Candidate, settled: ReadonlySet<string>): boolean {
  return candidate.concerns.some(({ target, readM }) => settled.has(nameOf(target, readM)));
}

function nameOf(target: Concern["target"], readM: number): string {
  return `${target.kind} ${target.side} ${target.id} ${readM}`;
}

function suspicion(best: Candidate, others: readonly Candidate[]): Suspicion {
  // Relative to the best; a plain blunder is part of what the others are held against.
  const weight = (one: Candidate): number =>
    Math.exp(
      (one.kind === "unexplained" ? one.logOdds - Math.log1p(Math.exp(one.logOdds)) : one.logOdds) -
        best.logOdds,
    );
  const known = [best, ...others].filter((one) => one.kind !== "unexplained");
  const total = Math.exp(-best.logOdds) + known.reduce((sum, one) => sum + weight(one), 0);
  const told = (candidate: Candidate, alternatives: readonly Suspicion[]): Suspicion => {
    const probability = weight(candidate) / total;
    const { kind, concerns, stepM, sentence, correction } = candidate;
    return {
      id: `${kind}: ${concerns.map(({ target, readM }) => nameOf(target, readM)).join(", ")}${candidate.stepM === undefined ? "" : ` by ${candidate.stepM}`} ${concerns.length === 1 ? describe(concerns[0] as Concern) : ""}`.trim(),
      kind,
      concerns,
      log10Odds: candidate.logOdds / Math.LN10,
      probability,
      offer: correction !== undefined && !candidate.unsure && probability >= SURE ? "correct" : "read again",
      stepM,
      sentence,
      correction,
      alternatives,
    };
  };
  const alternatives = others
    .slice(0, MOST_ALTERNATIVES)
    .filter((one) => one.logOdds > best.logOdds - Math.log(1000))
    .map((one) => told(one, []));
  return told(best, alternatives);
}

/** What a single reading would be put to, so that two offers for it have two ids. */
function describe({ insteadM, belongsTo }: Concern): string {
  return `→ ${insteadM ?? `${belongsTo.side} ${belongsTo.id}`}`;
}
