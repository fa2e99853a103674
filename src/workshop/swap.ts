/**
 * The swap sheet: which loop a new line gets so that its paths land with the lines beside it, or, where there is no loop,
 * to which length it should be made.
 *
 * A path that was measured with the old line (length o, loop p) moves by (n − o) + (t(p) − t) when the new line (length n)
 * hangs there with loop t: both lengths from eye to eye, under the same tension, without loops.
 */

import { DEFAULT_AGEING } from "../diagnosis/ageing-prior.ts";
import { attribute, attributeChanges } from "../diagnosis/attribution.ts";
import { cautionFull } from "../diagnosis/caution.ts";
import { plainMm, wayOf } from "../diagnosis/wording.ts";
import { type Line, linesByKey, type Wing } from "../plan/index.ts";
import { rectangular } from "../readings/index.ts";
import { say } from "../words/index.ts";
import type { LineLoops, LoopState } from "./model.ts";
import { type LandingBasis, landing, landings, suggest } from "./swap-landings.ts";
import type {
  Later,
  LengthAdvice,
  SwapInput,
  SwapLength,
  SwapSheet,
  SwapSide,
  SwapTarget,
} from "./swap-model.ts";
import { meanRead, neighboursOf, readingPart, tabIndices, targetOf } from "./swap-neighbours.ts";
import { swapSteps } from "./swap-steps.ts";
import { warningsOf } from "./swap-warnings.ts";
import { tierWord, traceLine, withTwins } from "./trace.ts";

export type * from "./swap-model.ts";

/** Standard uncertainty of a length on the bench, old and new with the same tape one after the other [m]. Assumption, no source. */
export const BENCH_LENGTH_UNCERTAINTY_M = 0.0005;

/** A new line comes within 2 mm of what was ordered, all alike (rectangular) [m]. Assumption, no source. */
export const MADE_LENGTH_UNCERTAINTY_M = rectangular(0.002);

/** "A few millimetres": from here on a new line without a loop is worth making to another length [m]. Common practice, no source. */
export const A_FEW_M = 0.003;

/** What the readings say of each line's own change [m]. */
type Changes = ReadonlyMap<string, { readonly changeM: number; readonly deviationM: number }>;

/**
 * A sheet for every damaged line, both of a pair on one.
 *
 * An old length that wasn't measured is the plan's with what the readings attribute to the line; a new one is the plan's.
 * Where the old length comes from the readings, its uncertainty and the readings' own are combined as independent, though
 * they share errors that partly cancel: on the large side.
 *
 * @throws RangeError for a key that the wing doesn't have, a length that isn't above 0, or a line on a maillon without loops
 */
export function swapSheets(input: SwapInput): readonly SwapSheet[] {
  const { wing, damagedKeys, loops } = input;
  const lines = linesByKey(wing);
  const replaced = new Set(input.replacedKeys ?? withTwins(wing, damagedKeys));
  for (const key of [...damagedKeys, ...replaced, ...(input.lengths?.keys() ?? [])])
    if (!lines.has(key)) throw new RangeError(`The wing "${wing.name}" has no line ${key}.`);
  for (const [key, { oldM, newM }] of input.lengths ?? [])
    for (const length of [oldM, newM])
      if (length !== undefined && !(length > 0))
        throw new RangeError(`Got a length of ${length} m for ${key}; above 0 was expected.`);
  const context: Context = {
    input,
    lines,
    replaced,
    damaged: new Set(damagedKeys),
    loopsOf: new Map(loops.map((one) => [one.lineKey, one])),
    tabsAbove: tabIndices(wing),
    changes: changesOf(input),
  };
  const done = new Set<string>();
  return withTwins(wing, [...damagedKeys, ...replaced]).flatMap((key) => {
    if (done.has(key)) return [];
    const line = lines.get(key) as Line;
    const pair = [key, ...(line.mirrorKey === undefined ? [] : [line.mirrorKey])].map(
      (one) => lines.get(one) as Line,
    );
    for (const one of pair) done.add(one.key);
    return [sheetOf(context, pair)];
  });
}

interface Context {
  readonly input: SwapInput;
  readonly lines: ReadonlyMap<string, Line>;
  readonly replaced: ReadonlySet<string>;
  readonly damaged: ReadonlySet<string>;
  readonly loopsOf: ReadonlyMap<string, LineLoops>;
  readonly tabsAbove: ReadonlyMap<string, readonly number[]>;
  readonly changes: Changes | undefined;
}

function changesOf({ wing, deviations, uncertainties, attribution }: SwapInput): Changes | undefined {
  if (deviations === undefined || deviations.paths.every(({ deviationM }) => deviationM === undefined))
    return undefined;
  const known =
    attribution ?? (uncertainties === undefined ? undefined : attribute(wing, deviations, uncertainties));
  if (known !== undefined)
    return new Map(known.lines.map(({ lineKey, changeM, deviationM }) => [lineKey, { changeM, deviationM }]));
  const spread = new Map(
    wing.lines.map(({ key, lengthM }) => [key, DEFAULT_AGEING.spread * Math.sqrt(lengthM)]),
  );
  return new Map(
    [...attributeChanges(wing, deviations)].map(([key, changeM]) => [
      key,
      { changeM, deviationM: spread.get(key) as number },
    ]),
  );
}

function sheetOf(context: Context, pair: readonly Line[]): SwapSheet {
  const { input, replaced } = context;
  const sides = [...pair]
    .sort((a, b) => (a.side === b.side ? 0 : a.side === "left" ? -1 : 1))
    .map((line) => sideOf(context, line));
  const line = pair[0] as Line;
  const landed = (side: "left" | "right"): number | undefined => {
    const one = sides.find((each) => each.side === side);
    if (one === undefined || !one.replaced) return one?.nowM;
    return one.suggested === undefined ? undefined : one.landings[one.suggested]?.meanM;
  };
  const [left, right] = [landed("left"), landed("right")];
  const leftRightM = left === undefined || right === undefined ? undefined : left - right;
  const traces = sides.filter((side) => side.replaced).map(({ lineKey }) => traceLine(input.wing, lineKey));
  return {
    name: line.id,
    row: line.row,
    tier: tierWord(line),
    onMaillon: pair.some((one) => one.hangsOn.kind === "maillon"),
    sides,
    leftRightM,
    warnings: warningsOf(context, pair, sides, leftRightM),
    steps: swapSteps(
      traces.length > 0
        ? traces
        : pair.filter(({ key }) => context.damaged.has(key)).map(({ key }) => traceLine(input.wing, key)),
    ),
    cautions: [...cautionFull(), ...(replaced.size > 0 ? [say("workshop.swap.reckoned")] : [])],
  };
}

function sideOf(context: Context, line: Line): SwapSide {
  const { input, replaced, damaged, tabsAbove, changes } = context;
  const { wing, deviations, uncertainties } = input;
  const tabs = tabsAbove.get(line.key) ?? [];
  const nowM = meanRead(deviations, tabs);
  const neighbours = neighboursOf(wing, line, tabsAbove, deviations, replaced);
  const target = targetOf(line, neighbours, nowM);
  const loops = line.hangsOn.kind === "maillon" ? context.loopsOf.get(line.key) : undefined;
  if (line.hangsOn.kind === "maillon" && loops === undefined)
    throw new RangeError(`Got no loops for ${line.key}, which hangs on a maillon.`);
  const own = changes?.get(line.key);
  const bench = input.lengths?.get(line.key);
  const old = oldLength(line, bench, own, loops);
  const fresh: SwapLength =
    bench?.newM === undefined
      ? { lengthM: line.lengthM, standardUncertaintyM: MADE_LENGTH_UNCERTAINTY_M, basis: "specified" }
      : {
          lengthM: bench.newM,
          standardUncertaintyM: bench.standardUncertaintyM ?? BENCH_LENGTH_UNCERTAINTY_M,
          basis: "measured",
        };
  const basis: LandingBasis = {
    longerM: old === undefined ? undefined : fresh.lengthM - old.lengthM,
    lengthsUncertaintyM:
      old === undefined ? 0 : Math.hypot(old.standardUncertaintyM, fresh.standardUncertaintyM),
    readingsUncertaintyM: readingPart(
      uncertainties,
      deviations,
      tabs,
      target,
      target.lineKeys.map((key) => tabsAbove.get(key) ?? []),
    ),
    from: loops?.states[loops.present],
    nowM,
    targetM: target.meanM,
    paths: tabs.map((tab) => ({
      tabKey: wing.tabs[tab]?.key as string,
      deviationM: deviations?.paths[tab]?.deviationM,
    })),
  };
  const all = !replaced.has(line.key)
    ? []
    : loops === undefined
      ? [landing(basis, undefined, true)]
      : landings(basis, loops, input.kinds, input.mostTakeUpM);
  const { at, why } = !replaced.has(line.key)
    ? { at: undefined, why: say("workshop.swap.stays") }
    : loops === undefined
      ? asItComes(all[0]?.differenceM, target.basis)
      : suggest(
          all,
          Math.hypot(basis.lengthsUncertaintyM, basis.readingsUncertaintyM),
          A_FEW_M,
          target.basis,
        );
  const chosen = at === undefined ? undefined : all[at];
  return {
    lineKey: line.key,
    side: line.side,
    damaged: damaged.has(line.key),
    replaced: replaced.has(line.key),
    nowM,
    old,
    fresh,
    neighbours,
    target,
    landings: all,
    suggested: at,
    why,
    later:
      chosen?.differenceM === undefined
        ? undefined
        : laterOf(context, target, fresh, old, chosen.differenceM, chosen.state, loops),
    advice:
      loops === undefined && replaced.has(line.key) && line.hangsOn.kind === "line"
        ? adviceFor(wing, line, old, nowM, target)
        : undefined,
  };
}

/** Old length: as measured; or the plan's with what the readings give to the line, its loop as the plan has it. */
function oldLength(
  line: Line,
  bench:
    | { readonly oldM?: number | undefined; readonly standardUncertaintyM?: number | undefined }
    | undefined,
  own: { readonly changeM: number; readonly deviationM: number } | undefined,
  loops: LineLoops | undefined,
): SwapLength | undefined {
  if (bench?.oldM !== undefined)
    return {
      lengthM: bench.oldM,
      standardUncertaintyM: bench.standardUncertaintyM ?? BENCH_LENGTH_UNCERTAINTY_M,
      basis: "measured",
    };
  if (own === undefined) return undefined;
  // The change that readings give to a line on a maillon is its loop's too: a loop other than specified is no shrinkage.
  const [present, specified] = [loops?.states[loops.present], loops?.states[loops.specified]];
  const loopM = (present?.takeUpM ?? 0) - (specified?.takeUpM ?? 0);
  return {
    lengthM: line.lengthM + own.changeM + loopM,
    standardUncertaintyM: own.deviationM,
    basis: "attributed",
  };
}

function asItComes(
  differenceM: number | undefined,
  target: SwapTarget["basis"],
): { at: number | undefined; why: string } {
  if (differenceM === undefined)
    return {
      at: undefined,
      why: say("workshop.swap.old-unknown"),
    };
  return {
    at: 0,
    why: say("workshop.swap.no-loop", {
      by: plainMm(differenceM, 1),
      way: wayOf(differenceM),
      target,
    }),
  };
}

function laterOf(
  { lines, changes }: Context,
  target: SwapTarget,
  fresh: SwapLength,
  old: SwapLength | undefined,
  differenceM: number,
  state: LoopState | undefined,
  loops: LineLoops | undefined,
): Later | undefined {
  const rates = target.lineKeys.flatMap((key) => {
    const change = changes?.get(key)?.changeM;
    return change === undefined ? [] : [change / (lines.get(key) as Line).lengthM];
  });
  const changeM =
    rates.length > 0
      ? (fresh.lengthM * rates.reduce((sum, rate) => sum + rate, 0)) / rates.length
      : old === undefined
        ? undefined
        : old.lengthM - fresh.lengthM;
  if (changeM === undefined) return undefined;
  const laterM = differenceM + changeM;
  const withState = (other: LoopState): { state: LoopState; differenceM: number } => ({
    state: other,
    differenceM: laterM + (state?.takeUpM ?? 0) - other.takeUpM,
  });
  const smaller =
    loops === undefined || state === undefined
      ? []
      : loops.states.filter(({ takeUpM }) => takeUpM < state.takeUpM).map(withState);
  return {
    changeM,
    basis: rates.length > 0 ? "neighbours" : "old line",
    differenceM: laterM,
    oneOut: smaller.at(-1),
    bestOut: smaller
      .toSorted((a, b) => Math.abs(a.differenceM) - Math.abs(b.differenceM))
      .find((one) => Math.abs(one.differenceM) < Math.abs(laterM)),
  };
}

/**
 * The plan's length where it lands within a few millimetres of the lines beside it; else the old line's (common practice,
 * no source), as long as that was itself no further out than a few millimetres; else the one that meets them.
 */
function adviceFor(
  wing: Wing,
  line: Line,
  old: SwapLength | undefined,
  nowM: number | undefined,
  target: SwapTarget,
): LengthAdvice | undefined {
  if (old === undefined) return undefined;
  const few = Math.min(A_FEW_M, wing.tolerances.leftRightM);
  const oldIsOutM = nowM === undefined || target.meanM === undefined ? 0 : nowM - target.meanM;
  const asSpecifiedM = oldIsOutM + line.lengthM - old.lengthM;
  if (Math.abs(asSpecifiedM) <= few)
    return { basis: "specified", lengthM: line.lengthM, differenceM: asSpecifiedM };
  if (Math.abs(oldIsOutM) <= few) return { basis: "old line", lengthM: old.lengthM, differenceM: oldIsOutM };
  return { basis: "neighbours", lengthM: old.lengthM - oldIsOutM, differenceM: 0 };
}

/**
 * Line key → by how much each replaced line's paths move, longer is positive [m]: what a solve takes as its trial on top of
 * the measured state. Lines whose landing isn't known are left out.
 *
 * @param chosen line key → index among its landings, where it isn't the suggested one
 * @throws RangeError for an index that there isn't
 */
export function swapChanges(
  sheets: readonly SwapSheet[],
  chosen: ReadonlyMap<string, number> = new Map(),
): Map<string, number> {
  const changes = new Map<string, number>();
  for (const { sides } of sheets)
    for (const side of sides) {
      const at = chosen.get(side.lineKey) ?? side.suggested;
      if (at === undefined) continue;
      const landed = side.landings[at];
      if (landed === undefined)
        throw new RangeError(`Got landing ${at} of ${side.lineKey}; it has ${side.landings.length}.`);
      if (landed.changeM !== undefined) changes.set(side.lineKey, landed.changeM);
    }
  return changes;
}
