/** What the user says of the readings: how they are judged, which are doubted, and which were put right. */
import type { AnalyseOptions } from "../../diagnosis/analyse.ts";
import { DEFAULT_DECISION_RULE, type DecisionRule } from "../../diagnosis/conformity.ts";
import { applyCorrection, type Suspicion } from "../../diagnosis/mistakes/index.ts";
import type { Tolerances, Wing } from "../../plan/model.ts";
import { type Check, type ReadingUncertainty, readingUncertaintyOf } from "../../readings/index.ts";
import { say } from "../../words/index.ts";
import type { JudgingChoices, UniformChoice } from "../model/judging-choices.ts";
import type { Shelf } from "./keep.ts";

/** Only what differs from the plan, the check and the usual is in it, so that those can still change. */
export interface Judging {
  readonly rule: DecisionRule;
  readonly tolerances: Partial<Tolerances>;
  readonly uncertainty: Partial<ReadingUncertainty>;
  readonly uniform: UniformChoice;
  /** Ids of suspicions whose readings are to be read again. */
  readonly again: readonly string[];
  /** Ids of suspicions set aside: right as read. */
  readonly dismissed: readonly string[];
  /** Corrections made on the user's word, in the order in which they were made. */
  readonly applied: readonly Suspicion[];
}

export const AS_USUAL: Judging = {
  rule: DEFAULT_DECISION_RULE,
  tolerances: {},
  uncertainty: {},
  uniform: "keep",
  again: [],
  dismissed: [],
  applied: [],
};

/** Kept as the source of limits that were changed here, and put into words where they are judged by. */
const SET_HERE = "here";

/** The plan's limits with those changed here, their source in words. */
export function limitsOf(plan: Pick<Wing, "tolerances">, judging: Pick<Judging, "tolerances">): Tolerances {
  const limits = { ...plan.tolerances, ...judging.tolerances };
  return limits.source === SET_HERE ? { ...limits, source: say("frame.set-here") } : limits;
}

/** The settings in full. */
export function judgingChoices(
  plan: Pick<Wing, "tolerances">,
  check: Pick<Check, "resolutionM" | "uncertainty">,
  judging: Judging,
): JudgingChoices {
  return {
    rule: judging.rule,
    tolerances: limitsOf(plan, judging),
    uncertainty: readingUncertaintyOf(check, judging.uncertainty),
    uniform: judging.uniform,
  };
}

/** The settings as chosen in full, reduced to what differs. */
export function judgingOf(
  plan: Pick<Wing, "tolerances">,
  check: Pick<Check, "resolutionM" | "uncertainty">,
  choices: JudgingChoices,
): Pick<Judging, "rule" | "tolerances" | "uncertainty" | "uniform"> {
  const { source: _, ...limits } = differing(plan.tolerances, choices.tolerances);
  return {
    rule: choices.rule,
    tolerances: Object.keys(limits).length === 0 ? {} : { ...limits, source: SET_HERE },
    uncertainty: differing(readingUncertaintyOf(check), choices.uncertainty),
    uniform: choices.uniform,
  };
}

function differing<T extends object>(usual: T, chosen: T): Partial<T> {
  return Object.fromEntries(
    Object.entries(chosen).filter(([key, value]) => value !== usual[key as keyof T]),
  ) as Partial<T>;
}

/** Whether anything is judged otherwise than by the plan, the check and the usual rule. */
export function isAsUsual({ rule, tolerances, uncertainty, uniform }: Judging): boolean {
  return (
    JSON.stringify(rule) === JSON.stringify(AS_USUAL.rule) &&
    Object.keys(tolerances).length === 0 &&
    Object.keys(uncertainty).length === 0 &&
    uniform === "keep"
  );
}

/** What the analysis is told. */
export function judgingOptions(judging: Judging): Pick<AnalyseOptions, "reading" | "rule" | "removeUniform"> {
  return {
    rule: judging.rule,
    reading: judging.uncertainty,
    removeUniform: judging.uniform === "remove",
  };
}

/**
 * A check with corrections made one after the other. One that no longer fits the readings, as one before it was undone, is
 * left out.
 */
export function corrected(
  check: Check,
  applied: readonly Suspicion[],
): { readonly check: Check; readonly applied: readonly Suspicion[] } {
  const made: Suspicion[] = [];
  let now = check;
  for (const suspicion of applied) {
    try {
      now = applyCorrection(now, suspicion);
      made.push(suspicion);
    } catch (fault) {
      if (!(fault instanceof RangeError)) throw fault;
    }
  }
  return { check: now, applied: made };
}

const PLACE = "linewright.own.judging";

/** Keeps it beside the own wing. @returns false where the browser refused */
export function keepJudging(shelf: Shelf | undefined, judging: Judging): boolean {
  try {
    if (shelf === undefined) return false;
    shelf.setItem(PLACE, JSON.stringify(judging));
    return true;
  } catch {
    return false;
  }
}

/** What was kept; as usual where nothing was, or nothing that can be read. */
export function keptJudging(shelf: Shelf | undefined): Judging {
  try {
    const text = shelf?.getItem(PLACE);
    const kept =
      text === null || text === undefined ? undefined : (JSON.parse(text) as Partial<Judging> | null);
    if (typeof kept !== "object" || kept === null) return AS_USUAL;
    const sound =
      typeof kept.rule?.kind === "string" &&
      [kept.again, kept.dismissed, kept.applied].every(Array.isArray) &&
      [kept.tolerances, kept.uncertainty].every((each) => typeof each === "object" && each !== null);
    return sound ? ({ ...AS_USUAL, ...kept } as Judging) : AS_USUAL;
  } catch {
    return AS_USUAL;
  }
}
