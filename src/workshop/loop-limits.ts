/** Why a path stays beyond the tolerance after a loop plan, and which line that points at, in words. */

import type { Attribution } from "../diagnosis/attribution.ts";
import { median, SAME_LENGTH_M } from "../diagnosis/rows.ts";
import { plainMm, wayOf } from "../diagnosis/wording.ts";
import type { Side, Wing } from "../plan/model.ts";
import type { Deviations } from "../readings/model.ts";
import { type Key, listed, say } from "../words/index.ts";
import { kindName } from "./kinds.ts";
import { refusal } from "./loop-problem.ts";
import type { LineLoops, LoopChoices, LoopPlan, LoopState } from "./model.ts";
import { lineName } from "./wording.ts";

export type LimitReason =
  /** no loop's matter */
  | "brake"
  /** the path hangs on no line with a loop */
  | "no loop"
  /** the tabs of one lower line are farther apart than twice the tolerance */
  | "uppers disagree"
  /** no looser state is left that would reach */
  | "too short"
  /** no loop takes up enough */
  | "too long"
  /** the tolerance lies between two loops */
  | "between loops"
  /** the line may not change */
  | "locked"
  /** the loop that would reach is ruled out */
  | "ruled out"
  /** a loop would reach, but costs more than it brings */
  | "outweighed";

export interface Unreachable {
  readonly tabKey: string;
  /** `A3 left` */
  readonly name: string;
  readonly side: Side;
  readonly predictedM: number;
  readonly reason: LimitReason;
  /** Lines that the readings point at as out, where loops can't mend it: names such as `A1.2 left`. */
  readonly replaceNames: readonly string[];
  readonly sentence: string;
}

export interface LimitQuestion {
  readonly wing: Wing;
  /** As read. */
  readonly deviations: Deviations;
  /** After the plan, counted from the shared part. */
  readonly predicted: Deviations;
  readonly loops: readonly LineLoops[];
  readonly choices: LoopChoices;
  readonly plan: LoopPlan;
  readonly attribution?: Attribution | undefined;
}

/** Siblings whose distances from the middle differ by less can't be told apart [m]. */
const ALIKE_M = 0.001;

/** Every path beyond the tolerance after the plan, in the wing's order. */
export function unreachablePaths(question: LimitQuestion): Unreachable[] {
  const { wing, predicted } = question;
  return predicted.paths.flatMap(({ tabKey, deviationM }, tab) => {
    if (deviationM === undefined || within(deviationM, wing)) return [];
    const { id, side } = wing.tabs[tab] as Wing["tabs"][number];
    const why = reasonOf(question, tab, deviationM);
    const name = lineName({ id, side });
    return [
      {
        tabKey,
        name,
        side,
        predictedM: deviationM,
        ...why,
        sentence: say("workshop.limit.stays", {
          path: name,
          by: plainMm(deviationM),
          way: wayOf(deviationM),
          why: why.sentence,
        }),
      },
    ];
  });
}

const within = (valueM: number, wing: Wing): boolean =>
  Math.abs(valueM) <= wing.tolerances.pathM + SAME_LENGTH_M;

const REFUSED: Readonly<Record<NonNullable<ReturnType<typeof refusal>>, Key>> = {
  kind: "workshop.limit.because.kind",
  limit: "workshop.limit.because.limit",
  reserve: "workshop.limit.because.reserve",
};

type Why = Pick<Unreachable, "reason" | "replaceNames" | "sentence">;

function reasonOf(question: LimitQuestion, tab: number, leftM: number): Why {
  const { wing, deviations, predicted, loops, choices, plan } = question;
  if (predicted.paths[tab]?.row === "brake")
    return {
      reason: "brake",
      replaceNames: [],
      sentence: say("workshop.limit.brake"),
    };
  const line = loops.find((one) => one.tabs.includes(tab));
  if (line === undefined)
    return {
      reason: "no loop",
      replaceNames: [],
      sentence: say("workshop.limit.none"),
    };
  const lower = nameOf(wing, line.lineKey);
  const siblings = line.tabs.filter((one) => predicted.paths[one]?.deviationM !== undefined);
  const valueM = (one: number): number => predicted.paths[one]?.deviationM as number;
  const values = siblings.map(valueM);
  const apartM = Math.max(...values) - Math.min(...values);
  if (apartM > 2 * wing.tolerances.pathM + SAME_LENGTH_M) {
    const out = upperLinesOut(question, siblings, valueM);
    return {
      reason: "uppers disagree",
      replaceNames: out,
      sentence: say("workshop.limit.uppers", {
        line: lower,
        apart: plainMm(apartM),
        count: out.length,
        lines: out.join(", "),
      }),
    };
  }

  const sharedM = choices.uniformFree ? plan.sharedM : 0;
  const present = line.states[line.present] as LoopState;
  const withState = (state: LoopState): number =>
    (deviations.paths[tab]?.deviationM as number) + present.takeUpM - state.takeUpM - sharedM;
  const reaching = line.states.filter((state) => within(withState(state), wing));
  if (reaching.length === 0) {
    const short = line.states.every((state) => withState(state) < 0);
    const long = line.states.every((state) => withState(state) > 0);
    if (!short && !long)
      return {
        reason: "between loops",
        replaceNames: [],
        sentence: say("workshop.limit.between", { line: lower }),
      };
    const out = lineOut(question, tab, leftM, siblings, valueM);
    return {
      reason: short ? "too short" : "too long",
      replaceNames: [out],
      sentence: short
        ? say("workshop.limit.short", { line: lower, out })
        : say("workshop.limit.long", { out }),
    };
  }
  const kinds = listed(
    reaching.map((state) => kindName(state.kind)),
    "or",
  );
  if (!choices.mayChange.has(line.lineKey))
    return {
      reason: "locked",
      replaceNames: [],
      sentence: say("workshop.limit.locked", { line: lower, kinds }),
    };
  const refused = reaching.map((state) => (state === present ? undefined : refusal(state, choices)));
  if (refused.every((why) => why !== undefined)) {
    const because = [...new Set(refused)].map((why) => say(REFUSED[why]));
    return {
      reason: "ruled out",
      replaceNames: [],
      sentence: say("workshop.limit.ruled", { line: lower, kinds, because: listed(because, "or") }),
    };
  }
  return {
    reason: "outweighed",
    replaceNames: [],
    sentence: say("workshop.limit.outweighed", { line: lower, kinds }),
  };
}

function nameOf(wing: Wing, lineKey: string): string {
  const line = wing.lines.find((one) => one.key === lineKey);
  return line === undefined ? lineKey : lineName(line);
}

/** Of the lines of a path, the one that the attribution says has changed most in a direction; undefined without one. */
function mostChanged(
  { attribution }: LimitQuestion,
  lineKeys: readonly string[],
  direction: number,
): string | undefined {
  if (attribution === undefined) return undefined;
  const changeOf = new Map(attribution.lines.map((line) => [line.lineKey, line.changeM]));
  const change = (key: string): number => Math.sign(direction) * (changeOf.get(key) ?? 0);
  const most = lineKeys.reduce<string | undefined>(
    (best, key) => (change(key) > (best === undefined ? 0 : change(best)) ? key : best),
    undefined,
  );
  return most;
}

/** The upper line that sets a tab apart from its siblings: the lowest one whose tabs are all off the same way. */
function upperLine(question: LimitQuestion, tab: number, offM: ReadonlyMap<number, number>): string {
  const { wing } = question;
  const uppers = wing.paths[tab]?.lineKeys.slice(1) ?? [];
  const own = offM.get(tab) as number;
  const told = mostChanged(question, uppers, own);
  const alike = uppers.find((key) =>
    [...offM].every(
      ([other, off]) =>
        !wing.paths[other]?.lineKeys.includes(key) || Math.sign(own) * off >= Math.abs(own) / 2,
    ),
  );
  return nameOf(wing, told ?? alike ?? uppers.at(-1) ?? (wing.paths[tab]?.lineKeys[0] as string));
}

/** Lines by which the tabs of one lower line disagree: those of the tabs farthest from the middle one. */
function upperLinesOut(
  question: LimitQuestion,
  siblings: readonly number[],
  valueM: (tab: number) => number,
): string[] {
  const middleM = median(siblings.map(valueM)) as number;
  const offM = new Map(siblings.map((tab) => [tab, valueM(tab) - middleM]));
  const most = Math.max(...[...offM.values()].map(Math.abs));
  const farthest = siblings.filter((tab) => Math.abs(offM.get(tab) as number) > most - ALIKE_M);
  return [...new Set(farthest.map((tab) => upperLine(question, tab, offM)))];
}

/** The line that makes a path too short or too long: as attributed, else the lower one where its tabs are off together. */
function lineOut(
  question: LimitQuestion,
  tab: number,
  leftM: number,
  siblings: readonly number[],
  valueM: (tab: number) => number,
): string {
  const { wing } = question;
  const lineKeys = wing.paths[tab]?.lineKeys ?? [];
  const told = mostChanged(question, lineKeys, leftM);
  if (told !== undefined) return nameOf(wing, told);
  if (siblings.every((one) => Math.sign(leftM) * valueM(one) > wing.tolerances.pathM / 2))
    return nameOf(wing, lineKeys[0] as string);
  const middleM = median(siblings.map(valueM)) as number;
  return upperLine(question, tab, new Map(siblings.map((one) => [one, valueM(one) - middleM])));
}
