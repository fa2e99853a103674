/** All that is known of a check, judged as the options say: what `linewright diagnose` prints. */

import { analyse } from "../diagnosis/analyse.ts";
import type { Assessment } from "../diagnosis/assess.ts";
import { DECISION_RULES } from "../diagnosis/conformity.ts";
import { type Judgement, judge } from "../diagnosis/judge.ts";
import type { Analysis } from "../diagnosis/model.ts";
import type { Wing } from "../plan/index.ts";
import type { Check } from "../readings/index.ts";
import type { ReadingUncertainty } from "../readings/reading-uncertainty.ts";
import type { PathUncertainties } from "../readings/uncertainty.ts";
import { say } from "../words/index.ts";
import { oneOf } from "./globals.ts";
import { UsageError } from "./io.ts";
import type { Arguments, OptionSpecs } from "./options.ts";

export type RuleName = keyof typeof DECISION_RULES;

/** ISO 14253-1's, as everywhere where nothing else is said. */
const DEFAULT_RULE: RuleName = "drawing";
const LEAST_DRAWS = 100;
/** Bounds are steady long before; more only costs memory, some 8 bytes for each draw and rib. */
const MOST_DRAWS = 200_000;

export const JUDGING_OPTIONS: OptionSpecs = {
  rule: { type: "string" },
  "remove-uniform": { type: "boolean" },
  draws: { type: "string" },
  "reading-uncertainty": { type: "string" },
  "tension-uncertainty": { type: "string" },
  "zero-uncertainty": { type: "string" },
};

/** The part of a help text on how readings are judged. */
export function judgingHelp(): string {
  return say("cli.help.judging", { least: String(LEAST_DRAWS), most: String(MOST_DRAWS) });
}

export interface JudgingChoices {
  readonly rule: RuleName;
  readonly removeUniform: boolean;
  readonly draws: number | undefined;
  readonly reading: Partial<ReadingUncertainty>;
}

/** @throws UsageError for an unknown rule or a figure out of its range. */
export function readChoices(given: Arguments): JudgingChoices {
  const rules = Object.keys(DECISION_RULES) as RuleName[];
  const rule = oneOf(given.text("rule") ?? DEFAULT_RULE, rules, "--rule");
  const draws = given.number("draws", "draws");
  if (draws !== undefined && !(Number.isInteger(draws) && draws >= LEAST_DRAWS && draws <= MOST_DRAWS))
    throw new UsageError(
      say("cli.option.whole", { option: "--draws", least: String(LEAST_DRAWS), most: String(MOST_DRAWS) }),
    );
  const readingMm = given.number("reading-uncertainty", "mm");
  if (readingMm !== undefined && !(readingMm > 0))
    throw new UsageError(say("cli.option.above", { option: "--reading-uncertainty", unit: "mm" }));
  const tensionEachN = notNegative(given, "tension-uncertainty", "N");
  const zeroMm = notNegative(given, "zero-uncertainty", "mm");
  return {
    rule,
    removeUniform: given.flag("remove-uniform"),
    draws,
    reading: {
      ...(readingMm === undefined ? {} : { readingM: readingMm / 1000 }),
      ...(tensionEachN === undefined ? {} : { tensionEachN }),
      ...(zeroMm === undefined ? {} : { zeroM: zeroMm / 1000 }),
    },
  };
}

function notNegative(given: Arguments, name: string, unit: string): number | undefined {
  const value = given.number(name, unit);
  if (value !== undefined && value < 0)
    throw new UsageError(say("cli.option.least", { option: `--${name}`, unit }));
  return value;
}

export interface Diagnosis {
  readonly check: Check;
  readonly rule: RuleName;
  readonly analysis: Analysis;
  readonly uncertainties: PathUncertainties;
  readonly assessment: Assessment;
  readonly judgement: Judgement;
}

/** @returns undefined where the check has no reading that can be held against the plan */
export function diagnosisOf(wing: Wing, check: Check, choices: JudgingChoices): Diagnosis | undefined {
  const { rule, removeUniform, draws, reading } = choices;
  const analysis = analyse(wing, check, { rule: DECISION_RULES[rule], removeUniform, reading });
  const judgement = judge(analysis, draws === undefined ? {} : { draws });
  const { uncertainties, assessment } = analysis;
  if (judgement === undefined || uncertainties === undefined || assessment === undefined) return undefined;
  return { check, rule, analysis, uncertainties, assessment, judgement };
}
