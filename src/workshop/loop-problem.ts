/**
 * The choice of loops as a problem of groups and options: lines that must go together form a group, each way in which a
 * group may end is an option, and an option moves the paths above. Which states a line may get is settled here, so that
 * the search knows neither wings nor loops.
 *
 * Lengths in here are in millimetres, costs in mm²: squares of metres and sums over many paths would lie ten powers apart.
 */
import { ROWS, type Side, type Wing } from "../plan/model.ts";
import type { Deviations } from "../readings/model.ts";
import type { LineLoops, LoopChoices, LoopState } from "./model.ts";

/** Excess that counts: of two plans, the one with this much less of it is always better under the aim "tolerance" [mm]. */
export const EXCESS_THAT_COUNTS_MM = 0.1;
/** Take-ups this close count as equal when a limit is asked [m]. */
const SAME_TAKE_UP_M = 1e-9;

/** Options of all groups, one after another; `o` an option, `g` a group, `i` a path under an option. */
export interface LoopProblem {
  /** Options of group g: from `groupStart[g]` to before `groupStart[g + 1]`; the first is that nothing changes. */
  readonly groupStart: Int32Array;
  /** Lines that option o changes. */
  readonly changes: Int32Array;
  /** Sum of the sizes of its changes of take-up [mm]. */
  readonly moves: Float64Array;
  /** What it costs besides what is left of the paths: unlike twins [mm²]. */
  readonly fixed: Float64Array;
  /** Paths of option o: from `pathStart[o]` to before `pathStart[o + 1]`; in one group each option has the same paths. */
  readonly pathStart: Int32Array;
  /** Deviation of the path under the option [mm]. */
  readonly deviation: Float64Array;
  readonly weight: Float64Array;
  /** [mm] */
  readonly tolerance: number;
  /** Cost of a millimetre beyond the tolerance [mm]. */
  readonly excessWeight: number;
  /** The shared part that is taken out may be anything between these, 0 among them [mm]. */
  readonly sharedLow: number;
  readonly sharedHigh: number;
}

/** What the options mean: per option of the problem, the state of each of the group's lines. */
export interface LoopGroup {
  /** Places in the list of loops. */
  readonly lines: readonly number[];
  readonly options: readonly (readonly number[])[];
}

export interface PosedLoops {
  readonly problem: LoopProblem;
  readonly groups: readonly LoopGroup[];
}

/**
 * Whether a line may end in a state, by the person's choices and the maker's limit. The present one always may.
 *
 * @param state index into `loops.states`
 */
export function mayEnd(loops: LineLoops, state: number, choices: LoopChoices): boolean {
  if (state === loops.present) return true;
  if (!choices.mayChange.has(loops.lineKey)) return false;
  const wanted = loops.states[state];
  return wanted !== undefined && refusal(wanted, choices) === undefined;
}

/** Why a state isn't among those that may be tied; undefined where it is. */
export function refusal(
  state: LoopState,
  choices: Pick<LoopChoices, "kinds" | "mostTakeUpM" | "reserveM">,
): "kind" | "limit" | "reserve" | undefined {
  if (choices.mostTakeUpM !== undefined && state.takeUpM > choices.mostTakeUpM + SAME_TAKE_UP_M)
    return "limit";
  if (!choices.kinds.has(state.kind.id)) return "kind";
  return state.takeUpM < choices.reserveM - SAME_TAKE_UP_M ? "reserve" : undefined;
}

/**
 * Pose the choice of loops.
 *
 * Symmetry "same": twins both stay, or both end in the same kind; a twin that may not change holds the other to its kind.
 * "prefer": a pair that ends in different kinds costs as much as one change. Rows together: all lines of a row that may
 * change move by the same number of states (each side for itself where the symmetry is free; otherwise twins that differ
 * now keep their difference).
 *
 * The order of groups and options, by which ties are broken, doesn't depend on the order of the lines, and mirrors with the
 * wing: the side that comes first is the one with the lesser figures.
 *
 * @param loops without lines on a pulley
 * @throws RangeError for a tab or a present state that isn't there
 */
export function poseLoops(
  wing: Wing,
  deviations: Deviations,
  loops: readonly LineLoops[],
  choices: LoopChoices,
): PosedLoops {
  for (const line of loops) {
    if (line.states[line.present] === undefined)
      throw new RangeError(`${line.lineKey} has no state ${line.present}; it has ${line.states.length}.`);
    const strange = line.tabs.find((tab) => deviations.paths[tab] === undefined);
    if (strange !== undefined)
      throw new RangeError(`${line.lineKey} has tab ${strange} above; there are ${deviations.paths.length}.`);
  }
  const order = canonicalOrder(wing, deviations, loops);
  const groups = groupsOf(loops, choices, order);
  return { problem: problemOf(wing, deviations, loops, choices, groups), groups };
}

/** Places of the lines, ordered by row and name, and of twins the side with the lesser figures first. */
function canonicalOrder(wing: Wing, deviations: Deviations, loops: readonly LineLoops[]): number[] {
  const idOf = new Map(wing.lines.map((line) => [line.key, line.id]));
  const id = (place: number): string => idOf.get((loops[place] as LineLoops).lineKey) ?? "";
  const figures = (side: Side): number[] =>
    loops
      .map((_, place) => place)
      .filter((place) => loops[place]?.side === side)
      .sort((a, b) => (id(a) < id(b) ? -1 : 1))
      .flatMap((place) => {
        const line = loops[place] as LineLoops;
        const tabs = [...line.tabs].sort((a, b) =>
          (wing.tabs[a]?.id ?? "") < (wing.tabs[b]?.id ?? "") ? -1 : 1,
        );
        return [...tabs.map((tab) => deviations.paths[tab]?.deviationM ?? 1), line.present];
      });
  const [left, right] = [figures("left"), figures("right")];
  const differs = left.findIndex((figure, i) => figure !== right[i]);
  const first: Side = differs >= 0 && (left[differs] as number) > (right[differs] ?? 0) ? "right" : "left";
  return loops
    .map((_, place) => place)
    .sort((a, b) => {
      const [one, other] = [loops[a] as LineLoops, loops[b] as LineLoops];
      if (one.row !== other.row) return ROWS.indexOf(one.row) - ROWS.indexOf(other.row);
      if (id(a) !== id(b)) return id(a) < id(b) ? -1 : 1;
      return (one.side === first ? 0 : 1) - (other.side === first ? 0 : 1);
    });
}

function groupsOf(loops: readonly LineLoops[], choices: LoopChoices, order: readonly number[]): LoopGroup[] {
  const placeOf = new Map(loops.map((line, place) => [line.lineKey, place]));
  const mayChange = (place: number): boolean => choices.mayChange.has((loops[place] as LineLoops).lineKey);
  const groups: LoopGroup[] = [];
  const done = new Set<number>();
  if (choices.rowsTogether) {
    const rows = new Map<string, number[]>();
    for (const place of order.filter(mayChange)) {
      const { row, side } = loops[place] as LineLoops;
      const name = choices.symmetry === "free" ? `${row} ${side}` : row;
      rows.set(name, [...(rows.get(name) ?? []), place]);
    }
    for (const lines of rows.values()) {
      groups.push({
        lines,
        options: rowOptions(
          lines.map((place) => loops[place] as LineLoops),
          choices,
        ),
      });
      for (const place of lines) done.add(place);
    }
  }
  for (const place of order) {
    if (done.has(place)) continue;
    const line = loops[place] as LineLoops;
    const twin = line.mirrorKey === undefined ? undefined : placeOf.get(line.mirrorKey);
    const together = twin !== undefined && !done.has(twin) && choices.symmetry !== "free";
    const lines = together ? [place, twin] : [place];
    for (const one of lines) done.add(one);
    const [one, other] = lines.map((at) => loops[at] as LineLoops);
    groups.push({
      lines,
      options: other ? pairOptions(one as LineLoops, other, choices) : singleOptions(line, choices),
    });
  }
  return groups;
}

function endsOf(line: LineLoops, choices: LoopChoices): number[] {
  return line.states.map((_, state) => state).filter((state) => mayEnd(line, state, choices));
}

function singleOptions(line: LineLoops, choices: LoopChoices): number[][] {
  return [
    [line.present],
    ...endsOf(line, choices).flatMap((state) => (state === line.present ? [] : [[state]])),
  ];
}

function pairOptions(one: LineLoops, other: LineLoops, choices: LoopChoices): number[][] {
  const stay = [one.present, other.present];
  const rest = endsOf(one, choices).flatMap((a) =>
    endsOf(other, choices).flatMap((b) => {
      if (a === one.present && b === other.present) return [];
      return choices.symmetry === "same" && !alike(one, a, other, b) ? [] : [[a, b]];
    }),
  );
  return [stay, ...rest];
}

function alike(one: LineLoops, a: number, other: LineLoops, b: number): boolean {
  return one.states[a]?.kind.id === other.states[b]?.kind.id;
}

function rowOptions(lines: readonly LineLoops[], choices: LoopChoices): number[][] {
  const most = Math.max(...lines.map((line) => line.states.length)) - 1;
  const options = [lines.map((line) => line.present)];
  for (let size = 1; size <= most; size++)
    for (const by of [-size, size])
      if (lines.every((line) => line.states[line.present + by] && mayEnd(line, line.present + by, choices)))
        options.push(lines.map((line) => line.present + by));
  return options;
}

function problemOf(
  wing: Wing,
  deviations: Deviations,
  loops: readonly LineLoops[],
  choices: LoopChoices,
  groups: readonly LoopGroup[],
): LoopProblem {
  const readTabs = loops.map((line) =>
    line.tabs.filter((tab) => deviations.paths[tab]?.deviationM !== undefined),
  );
  const optionCount = groups.reduce((sum, { options }) => sum + options.length, 0);
  const pathCount = groups.reduce(
    (sum, { lines, options }) =>
      sum + options.length * lines.reduce((tabs, line) => tabs + (readTabs[line] as number[]).length, 0),
    0,
  );
  const groupStart = new Int32Array(groups.length + 1);
  const changes = new Int32Array(optionCount);
  const moves = new Float64Array(optionCount);
  const fixed = new Float64Array(optionCount);
  const pathStart = new Int32Array(optionCount + 1);
  const deviation = new Float64Array(pathCount);
  const weight = new Float64Array(pathCount);
  const unlikeCost = choices.symmetry === "prefer" ? (1000 * choices.worthM) ** 2 : 0;
  const placeOf = new Map(loops.map((line, place) => [line.lineKey, place]));
  let o = 0;
  let i = 0;
  groups.forEach(({ lines, options }, g) => {
    for (const states of options) {
      lines.forEach((place, n) => {
        const line = loops[place] as LineLoops;
        const state = states[n] as number;
        const changeMm =
          1000 *
          ((line.states[line.present] as LoopState).takeUpM - (line.states[state] as LoopState).takeUpM);
        if (state !== line.present) changes[o]!++;
        moves[o]! += Math.abs(changeMm);
        const twin = line.mirrorKey === undefined ? undefined : placeOf.get(line.mirrorKey);
        if (twin !== undefined && unlikeCost > 0) {
          const at = lines.indexOf(twin);
          const other = loops[twin] as LineLoops;
          const unlike = !alike(line, state, other, at >= 0 ? (states[at] as number) : other.present);
          // A pair in one group is met twice; of twins in two groups the one that stays leaves the cost to the other.
          const share = at >= 0 ? 0.5 : choices.mayChange.has(line.lineKey) ? 1 : 0;
          if (unlike) fixed[o]! += share * unlikeCost;
        }
        for (const tab of readTabs[place] as number[]) {
          deviation[i] = 1000 * (deviations.paths[tab]?.deviationM as number) + changeMm;
          weight[i] = choices.rowWeights[line.row] ?? 1;
          i++;
        }
      });
      pathStart[++o] = i;
    }
    groupStart[g + 1] = o;
  });
  const present = choices.uniformFree ? presentMean({ groupStart, pathStart, deviation, weight }) : 0;
  return {
    groupStart,
    changes,
    moves,
    fixed,
    pathStart,
    deviation,
    weight,
    tolerance: 1000 * wing.tolerances.pathM,
    excessWeight:
      choices.aim === "tolerance" ? excessWeightFor({ groupStart, pathStart, deviation, weight, fixed }) : 0,
    sharedLow: Math.min(0, present),
    sharedHigh: Math.max(0, present),
  };
}

/** Weighted mean of the deviations as they are now [mm]; 0 where nothing was read. */
export function presentMean({
  groupStart,
  pathStart,
  deviation,
  weight,
}: Pick<LoopProblem, "groupStart" | "pathStart" | "deviation" | "weight">): number {
  let sum = 0;
  let total = 0;
  for (let g = 0; g + 1 < groupStart.length; g++) {
    const o = groupStart[g] as number;
    for (let i = pathStart[o] as number; i < (pathStart[o + 1] as number); i++) {
      sum += (weight[i] as number) * (deviation[i] as number);
      total += weight[i] as number;
    }
  }
  return total > 0 ? sum / total : 0;
}

/**
 * A weight of excess under which less excess always wins.
 *
 * Let Q be squares and unlike twins, E the excess, in total. The shared part lies between 0 and a mean of the deviations; so
 * no path is left farther off than the range R of the deviations and 0, and 0 ≤ Q ≤ W R² + S with W the sum of
 * weights and S the most that unlike twins can cost. With λ = (W R² + S)/δ, a plan that has δ less excess than another
 * costs less, whatever their Q: λ E + Q ≤ λ (E′ − δ) + W R² + S = λ E′ ≤ λ E′ + Q′. δ is a tenth of a millimetre, below
 * what anybody can read; a still larger λ would only eat the digits of Q.
 */
export function excessWeightFor(
  problem: Pick<LoopProblem, "groupStart" | "pathStart" | "deviation" | "weight" | "fixed">,
): number {
  const { groupStart, pathStart, deviation, weight, fixed } = problem;
  let low = 0;
  let high = 0;
  for (const value of deviation) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  let most = 0;
  for (let g = 0; g + 1 < groupStart.length; g++) {
    const o = groupStart[g] as number;
    for (let i = pathStart[o] as number; i < (pathStart[o + 1] as number); i++)
      most += (weight[i] as number) * (high - low) ** 2;
    most += Math.max(0, ...fixed.subarray(o, groupStart[g + 1]));
  }
  // At least something, where every option leaves nothing.
  return Math.max(most, 1) / EXCESS_THAT_COUNTS_MM;
}
