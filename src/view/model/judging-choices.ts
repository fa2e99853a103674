/** By what a check is judged: the rule, the limits, what readings are uncertain by, and what becomes of the uniform part. */
import { DECISION_RULES, type DecisionRule } from "../../diagnosis/conformity.ts";
import type { UniformPart } from "../../diagnosis/uniform.ts";
import type { Tolerances, Wing } from "../../plan/model.ts";
import type { ReadingUncertainty } from "../../readings/reading-uncertainty.ts";
import { type Key, say } from "../../words/index.ts";
import { valueText } from "./judging-words.ts";

/** What all rows share may be the wing's own or the measuring point's; totals alone can't tell. */
export type UniformChoice = "keep" | "remove";

export interface JudgingChoices {
  readonly rule: DecisionRule;
  readonly tolerances: Tolerances;
  readonly uncertainty: ReadingUncertainty;
  readonly uniform: UniformChoice;
}

/** The limits' source as stated, with what to think of it; where the plan says nothing better, that it is common practice. */
export function toleranceNote({ source }: Pick<Tolerances, "source">): string {
  const stated = source.trim().replace(/\.$/, "");
  if (stated === "" || /^common practice\b/i.test(stated)) return say("judging.limits.common");
  // Stated in the language of whoever stated it.
  const byMaker = /manual|handbuch|manuel/i.test(stated);
  return say("judging.limits.stated", { source: stated, by: byMaker ? "maker" : "other" });
}

export interface RuleOption {
  readonly kind: DecisionRule["kind"];
  readonly label: Key;
  readonly meaning: Key;
  /** The rule to begin with when this kind is chosen. */
  readonly rule: DecisionRule;
}

export const RULE_OPTIONS: readonly RuleOption[] = [
  {
    kind: "simple acceptance",
    label: "judging.rule.simple",
    meaning: "judging.rule.simple.meaning",
    rule: DECISION_RULES.simple,
  },
  {
    kind: "guard band",
    label: "judging.rule.guard",
    meaning: "judging.rule.guard.meaning",
    rule: DECISION_RULES.drawing,
  },
  {
    kind: "minimum probability",
    label: "judging.rule.probable",
    meaning: "judging.rule.probable.meaning",
    rule: DECISION_RULES.probable,
  },
];

/** What the choice does, in one sentence. */
export function uniformConsequence(choice: UniformChoice, part: UniformPart | undefined): string {
  return say(choice === "keep" ? "judging.uniform.kept" : "judging.uniform.removed", {
    known: part === undefined ? "no" : "yes",
    value: part === undefined ? "" : valueText(part.valueM, part.standardUncertaintyM),
  });
}

/** The tolerances of a wing replaced by those chosen, for the core to judge by. */
export function withTolerances(wing: Wing, tolerances: Tolerances): Wing {
  return { ...wing, tolerances };
}
