/**
 * A whole check held against the wing's tolerances: each path, the rows against each other, left against right, and
 * what is left of the brakes' free travel. The tolerances are the user's, with their source in the user's words.
 */
import { ROWS, type Row, SIDES, type Side, type Wing } from "../plan/model.ts";
import type { Deviations } from "../readings/model.ts";
import {
  combinedUncertainty,
  differenceWeights,
  meanWeights,
  type PathUncertainties,
  type TabWeights,
} from "../readings/uncertainty.ts";
import { say } from "../words/index.ts";
import { cautionShort } from "./caution.ts";
import type { Limits } from "./conformance.ts";
import {
  DEFAULT_DECISION_RULE,
  type Decision,
  type DecisionRule,
  decide,
  type Outcome,
} from "./conformity.ts";
import { plainMm, sidedName, sourceOf } from "./wording.ts";

/** One quantity with its decision. */
export interface Assessed {
  readonly kind: /** a path against the plan */
    | "path"
    /** the mean of one row less that of another behind it, both sides together */
    | "rows"
    /** a tab on the left less the same on the right */
    | "pair"
    /** a row's mean on the left less that on the right */
    | "sides"
    /** what is left of the free travel at a side's shortest brake path */
    | "brake travel";
  /** What it is about, in words: `A1 left`, `Row A against row C`. */
  readonly subject: string;
  /** Rows concerned, the one counted with plus first. */
  readonly rows: readonly Row[];
  readonly side: Side | undefined;
  readonly tabKeys: readonly string[];
  readonly valueM: number;
  readonly standardUncertaintyM: number;
  readonly degreesOfFreedom: number;
  readonly limits: Limits;
  readonly decision: Decision;
}

export interface Assessment {
  readonly rule: DecisionRule;
  /** Where the limits come from: to be shown with the decisions. */
  readonly toleranceNote: string;
  /** That none of this is a clearance to fly: to be shown with the decisions. */
  readonly caution: string;
  /** By kind in the order of {@link Assessed}'s kinds, then in the wing's order. */
  readonly assessed: readonly Assessed[];
  readonly count: Readonly<Record<Outcome, number>>;
  /** Paths that weren't read, about which nothing is said. */
  readonly notRead: number;
}

/**
 * Holds a check's deviations, with their uncertainties, against the wing's tolerances.
 *
 * Rows are compared by their means over the paths read; row against row for A to D only (the tip lines and the brakes
 * tip no profile). The free travel left is the plan's free travel, taken as exact, plus the deviation of the brake path
 * that has lost most on each side, against the least free travel.
 *
 * @param uncertainties of the same check: see `readingUncertainty`
 * @throws Error where uncertainties and deviations don't belong together
 */
export function assess(
  wing: Wing,
  deviations: Deviations,
  uncertainties: PathUncertainties,
  rule: DecisionRule = DEFAULT_DECISION_RULE,
): Assessment {
  if (
    deviations.paths.length !== uncertainties.tabKeys.length ||
    deviations.paths.some(
      (path, tab) =>
        path.tabKey !== uncertainties.tabKeys[tab] ||
        (path.deviationM !== undefined) !== (uncertainties.read[tab] === 1),
    )
  )
    throw new Error(`The uncertainties are not those of these deviations of "${wing.name}".`);

  const judge = (
    about: Pick<Assessed, "kind" | "subject" | "rows" | "side">,
    weights: TabWeights,
    limits: Limits,
    offsetM = 0,
  ): Assessed => {
    let valueM = offsetM;
    for (const [tab, weight] of weights) valueM += weight * (deviations.paths[tab]?.deviationM as number);
    const { standardUncertaintyM, degreesOfFreedom } = combinedUncertainty(uncertainties, weights);
    return {
      ...about,
      tabKeys: [...weights.keys()].map((tab) => uncertainties.tabKeys[tab] as string),
      valueM,
      standardUncertaintyM,
      degreesOfFreedom,
      limits,
      decision: decide(valueM, standardUncertaintyM, limits, rule),
    };
  };
  const readTabs = (row: Row, side?: Side): readonly number[] =>
    deviations.paths.flatMap((path, tab) =>
      path.row === row && path.deviationM !== undefined && (side === undefined || path.side === side)
        ? [tab]
        : [],
    );

  const assessed = [
    ...pathsOf(wing, deviations, judge),
    ...rowPairs(wing, readTabs, judge),
    ...mirrorPairs(wing, deviations, judge),
    ...rowSides(wing, readTabs, judge),
    ...brakeTravel(wing, deviations, readTabs, judge),
  ];
  const count: Record<Outcome, number> = { conforms: 0, "does not conform": 0, undecided: 0 };
  for (const { decision } of assessed) count[decision.outcome]++;
  return {
    rule,
    toleranceNote: say("diagnosis.limits.note", { source: sourceOf(wing.tolerances) }),
    caution: cautionShort(),
    assessed,
    count,
    notRead: deviations.paths.filter((path) => path.deviationM === undefined).length,
  };
}

type Judge = (
  about: Pick<Assessed, "kind" | "subject" | "rows" | "side">,
  weights: TabWeights,
  limits: Limits,
  offsetM?: number,
) => Assessed;
type ReadTabs = (row: Row, side?: Side) => readonly number[];

const eitherWay = (limitM: number): Limits => ({ lower: -limitM, upper: limitM });

function pathsOf(wing: Wing, deviations: Deviations, judge: Judge): Assessed[] {
  return wing.tabs.flatMap(({ id, row, side }, tab) =>
    deviations.paths[tab]?.deviationM === undefined
      ? []
      : [
          judge(
            { kind: "path", subject: sidedName(id, side), rows: [row], side },
            new Map([[tab, 1]]),
            eitherWay(wing.tolerances.pathM),
          ),
        ],
  );
}

function rowPairs(wing: Wing, readTabs: ReadTabs, judge: Judge): Assessed[] {
  const rows = (["A", "B", "C", "D"] as const).filter((row) => readTabs(row).length > 0);
  return rows.flatMap((front, place) =>
    rows.slice(place + 1).map((rear) =>
      judge(
        {
          kind: "rows",
          subject: say("diagnosis.subject.rows", { front, rear }),
          rows: [front, rear],
          side: undefined,
        },
        differenceWeights(meanWeights(readTabs(front)), meanWeights(readTabs(rear))),
        eitherWay(wing.tolerances.rowToRowM),
      ),
    ),
  );
}

function mirrorPairs(wing: Wing, deviations: Deviations, judge: Judge): Assessed[] {
  const places = new Map(wing.tabs.map((tab, place) => [tab.key, place]));
  return wing.tabs.flatMap(({ id, row, side, mirrorKey }, left) => {
    const right = mirrorKey === undefined ? undefined : places.get(mirrorKey);
    if (side !== "left" || right === undefined) return [];
    if (deviations.paths[left]?.deviationM === undefined || deviations.paths[right]?.deviationM === undefined)
      return [];
    return [
      judge(
        { kind: "pair", subject: say("diagnosis.subject.pair", { id }), rows: [row], side: undefined },
        new Map([
          [left, 1],
          [right, -1],
        ]),
        eitherWay(wing.tolerances.leftRightM),
      ),
    ];
  });
}

function rowSides(wing: Wing, readTabs: ReadTabs, judge: Judge): Assessed[] {
  return ROWS.flatMap((row) => {
    const [left = [], right = []] = SIDES.map((side) => readTabs(row, side));
    if (left.length === 0 || right.length === 0) return [];
    return [
      judge(
        { kind: "sides", subject: say("diagnosis.subject.sides", { row }), rows: [row], side: undefined },
        differenceWeights(meanWeights(left), meanWeights(right)),
        eitherWay(wing.tolerances.leftRightM),
      ),
    ];
  });
}

function brakeTravel(wing: Wing, deviations: Deviations, readTabs: ReadTabs, judge: Judge): Assessed[] {
  const { brakes, tolerances } = wing;
  if (brakes === undefined) return [];
  return SIDES.flatMap((side) => {
    const tabs = readTabs("brake", side);
    const deviationM = (tab: number): number => deviations.paths[tab]?.deviationM as number;
    const shortest = tabs.reduce<number | undefined>(
      (least, tab) => (least === undefined || deviationM(tab) < deviationM(least) ? tab : least),
      undefined,
    );
    if (shortest === undefined) return [];
    const subject = say("diagnosis.subject.travel", { side, free: plainMm(brakes.freeTravelM) });
    return [
      judge(
        { kind: "brake travel", subject, rows: ["brake"], side },
        new Map([[shortest, 1]]),
        { lower: tolerances.minBrakeFreeTravelM },
        brakes.freeTravelM,
      ),
    ];
  });
}
