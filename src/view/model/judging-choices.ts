/** By what a check is judged: the rule, the limits, what readings are uncertain by, and what becomes of the uniform part. */
import { DECISION_RULES, type DecisionRule } from "../../diagnosis/conformity.ts";
import type { UniformPart } from "../../diagnosis/uniform.ts";
import type { Tolerances, Wing } from "../../plan/model.ts";
import type { ReadingUncertainty } from "../../readings/reading-uncertainty.ts";
import { valueText } from "./judging-words.ts";

/** What all rows share may be the wing's own or the measuring point's; totals alone can't tell. */
export type UniformChoice = "keep" | "remove";

export interface JudgingChoices {
  readonly rule: DecisionRule;
  readonly tolerances: Tolerances;
  readonly uncertainty: ReadingUncertainty;
  readonly uniform: UniformChoice;
}

/** Said where the plan says nothing better of its limits' source. */
export const TOLERANCE_NOTE = "Common practice, no neutral source; the maker’s manual decides.";

/** The limits' source as stated, with what to think of it. */
export function toleranceNote({ source }: Pick<Tolerances, "source">): string {
  const stated = source.trim().replace(/\.$/, "");
  if (stated === "" || /^common practice\b/i.test(stated)) return TOLERANCE_NOTE;
  return `As stated: ${stated}. ${/manual/i.test(stated) ? "" : "The maker’s manual decides."}`.trim();
}

export interface RuleOption {
  readonly kind: DecisionRule["kind"];
  readonly label: string;
  readonly meaning: string;
  /** The rule to begin with when this kind is chosen. */
  readonly rule: DecisionRule;
}

export const RULE_OPTIONS: readonly RuleOption[] = [
  {
    kind: "simple acceptance",
    label: "The value alone",
    meaning: "Simple acceptance: the uncertainty is shown, not counted. Nothing is ever undecided.",
    rule: DECISION_RULES.simple,
  },
  {
    kind: "guard band",
    label: "Guard band",
    meaning: "A margin of a share of the uncertainty U on either side of each limit; within it, undecided.",
    rule: DECISION_RULES.drawing,
  },
  {
    kind: "minimum probability",
    label: "Least probability",
    meaning: "Conforms only where it is at least so probable that the limit is kept.",
    rule: DECISION_RULES.probable,
  },
];

/** What the choice does, in one sentence. */
export function uniformConsequence(choice: UniformChoice, part: UniformPart | undefined): string {
  const shared =
    part === undefined
      ? "what all rows share"
      : `the ${valueText(part.valueM, part.standardUncertaintyM)} that all rows share`;
  return choice === "keep"
    ? `Kept: ${shared} counts as the wing’s own, and every path is judged as it was read; if it is the measuring point’s, all paths are judged wrongly by as much.`
    : `Removed: ${shared} counts as the measuring point’s and is taken off every path but the brakes; if it is the wing’s own after all, all paths are judged wrongly by as much. Rows against each other and left against right stay the same.`;
}

/** The tolerances of a wing replaced by those chosen, for the core to judge by. */
export function withTolerances(wing: Wing, tolerances: Tolerances): Wing {
  return { ...wing, tolerances };
}
