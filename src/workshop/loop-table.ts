/**
 * The least cost of a loop problem at a given shared part, for every number of changes: a table over groups and changes,
 * and what a single selection costs. `loop-optimum.ts` searches over the shared part.
 */
import type { LoopProblem } from "./loop-problem.ts";

/** Crossings closer than this are one [mm]. */
export const SAME_PLACE = 1e-12;
/** Costs closer than this, over their size, are a tie. */
export const SAME_COST = 1e-12;

/** One option of every group. */
export interface Selection {
  readonly options: Int32Array;
  readonly c: number;
  readonly changes: number;
  readonly moves: number;
}

/** L_k and its slope at a place, for every k. */
export interface End {
  readonly value: Float64Array;
  readonly slope: Float64Array;
}

export interface Table {
  /** The problem with deviations counted from the reference. */
  readonly problem: LoopProblem;
  readonly most: number;
  /** Sum of weights. */
  readonly weight: number;
  /** Replace each option's excess by its tangent at c; exact at c, and wherever no path crosses between. */
  readonly tangentsAt: (c: number) => void;
  /** Least values at c under the present tangents, without W c². */
  readonly evaluate: (c: number) => End;
  /** The best options at c with at most k changes, ties broken. */
  readonly select: (c: number, k: number) => Selection;
  readonly count: () => number;
}

/** @param reference place that the deviations are counted from in the table's problem [mm] */
export function openTable(given: LoopProblem, reference: number): Table {
  const problem: LoopProblem = {
    ...given,
    deviation: given.deviation.map((value) => value - reference),
    sharedLow: given.sharedLow - reference,
    sharedHigh: given.sharedHigh - reference,
  };
  const { groupStart, changes, moves, fixed, pathStart, deviation, weight, tolerance, excessWeight } =
    problem;
  const groups = groupStart.length - 1;
  const options = changes.length;
  const squares = new Float64Array(options);
  const slopes = new Float64Array(options);
  for (let o = 0; o < options; o++) {
    squares[o] = fixed[o] as number;
    for (let i = pathStart[o]!; i < pathStart[o + 1]!; i++) {
      squares[o]! += weight[i]! * deviation[i]! * deviation[i]!;
      slopes[o]! -= 2 * weight[i]! * deviation[i]!;
    }
  }
  const constant = squares.slice();
  const slope = slopes.slice();
  let total = 0;
  let most = 0;
  let widest = 0;
  for (let g = 0; g < groups; g++) {
    const o = groupStart[g]!;
    for (let i = pathStart[o]!; i < pathStart[o + 1]!; i++) total += weight[i]!;
    let largest = 0;
    for (let p = o; p < groupStart[g + 1]!; p++) largest = Math.max(largest, changes[p]!);
    most += largest;
    widest = Math.max(widest, largest);
  }
  // Of one group, the best option for each number of changes.
  const groupValue = new Float64Array(widest + 1);
  const groupSlope = new Float64Array(widest + 1);
  let evaluations = 0;

  const tangentsAt = (c: number): void => {
    if (excessWeight === 0) return;
    for (let o = 0; o < options; o++) {
      let at = squares[o]!;
      let by = slopes[o]!;
      for (let i = pathStart[o]!; i < pathStart[o + 1]!; i++) {
        const d = deviation[i]!;
        if (d - c > tolerance) {
          at += excessWeight * (d - tolerance);
          by -= excessWeight;
        } else if (c - d > tolerance) {
          at -= excessWeight * (d + tolerance);
          by += excessWeight;
        }
      }
      constant[o] = at;
      slope[o] = by;
    }
  };

  const evaluate = (c: number): End => {
    evaluations++;
    const value = new Float64Array(most + 1);
    const inclination = new Float64Array(most + 1);
    let top = 0;
    for (let g = 0; g < groups; g++) {
      groupValue.fill(Number.POSITIVE_INFINITY);
      let largest = 0;
      for (let o = groupStart[g]!; o < groupStart[g + 1]!; o++) {
        const j = changes[o]!;
        const cost = constant[o]! + slope[o]! * c;
        if (j > largest) largest = j;
        if (cost < groupValue[j]!) {
          groupValue[j] = cost;
          groupSlope[j] = slope[o]!;
        }
      }
      // From the top down, so that what is still needed of the groups before isn't overwritten.
      const reach = top + largest;
      for (let k = reach; k >= 0; k--) {
        let least = Number.POSITIVE_INFINITY;
        let its = 0;
        for (let j = 0; j <= largest && j <= k; j++) {
          if (groupValue[j] === Number.POSITIVE_INFINITY) continue;
          const before = Math.min(k - j, top);
          const cost = value[before]! + groupValue[j]!;
          if (cost < least) {
            least = cost;
            its = inclination[before]! + groupSlope[j]!;
          }
        }
        value[k] = least;
        inclination[k] = its;
      }
      top = reach;
    }
    return { value, slope: inclination };
  };

  const select = (c: number, k: number): Selection => {
    tangentsAt(c);
    evaluations++;
    const size = k + 1;
    const chosen = new Int32Array(groups * size);
    let value = new Float64Array(size);
    let changed = new Int32Array(size);
    let moved = new Float64Array(size);
    for (let g = 0; g < groups; g++) {
      const start = groupStart[g]!;
      const nextValue = new Float64Array(size).fill(Number.POSITIVE_INFINITY);
      const nextChanged = new Int32Array(size);
      const nextMoved = new Float64Array(size);
      for (let o = start; o < groupStart[g + 1]!; o++) {
        const cost = constant[o]! + slope[o]! * c;
        const by = changes[o]!;
        for (let at = by; at < size; at++) {
          const sum = value[at - by]! + cost;
          const least = nextValue[at]!;
          const lines = changed[at - by]! + by;
          const way = moved[at - by]! + moves[o]!;
          const margin = 1e-9 + SAME_COST * Math.abs(sum);
          const better =
            sum < least - margin ||
            (sum <= least + margin &&
              (lines < nextChanged[at]! || (lines === nextChanged[at]! && way < nextMoved[at]! - 1e-9)));
          if (!better) continue;
          nextValue[at] = sum;
          nextChanged[at] = lines;
          nextMoved[at] = way;
          chosen[g * size + at] = o - start;
        }
      }
      value = nextValue;
      changed = nextChanged;
      moved = nextMoved;
    }
    const picked = new Int32Array(groups);
    let left = k;
    for (let g = groups - 1; g >= 0; g--) {
      picked[g] = chosen[g * size + left]!;
      left -= changes[groupStart[g]! + picked[g]!]!;
    }
    return { options: picked, c, changes: changed[k]!, moves: moved[k]! };
  };

  return { problem, most, weight: total, tangentsAt, evaluate, select, count: () => evaluations };
}

/** Cost of a selection with a shared part [mm²]. */
export function selectionCost(problem: LoopProblem, options: ArrayLike<number>, c: number): number {
  const { groupStart, fixed, pathStart, deviation, weight, tolerance, excessWeight } = problem;
  let squares = 0;
  let excess = 0;
  for (let g = 0; g + 1 < groupStart.length; g++) {
    const o = groupStart[g]! + options[g]!;
    squares += fixed[o]!;
    for (let i = pathStart[o]!; i < pathStart[o + 1]!; i++) {
      const left = deviation[i]! - c;
      squares += weight[i]! * left * left;
      // Where a path is held on the tolerance itself, the last digit isn't an excess.
      excess += Math.max(0, Math.abs(left) - tolerance - SAME_PLACE);
    }
  }
  return squares + excessWeight * excess;
}

/**
 * The best shared part of a selection that is allowed [mm]: where the slope of its convex cost changes sign, or the end next
 * to it; `otherwise` where nothing depends on it.
 */
export function bestShared(problem: LoopProblem, options: ArrayLike<number>, otherwise = 0): number {
  const { sharedLow, sharedHigh } = problem;
  return Math.min(Math.max(unboundedShared(problem, options, otherwise), sharedLow), sharedHigh);
}

function unboundedShared(problem: LoopProblem, options: ArrayLike<number>, otherwise: number): number {
  const { groupStart, pathStart, deviation, weight, tolerance, excessWeight } = problem;
  const kinks: number[] = [];
  let total = 0;
  let slope = 0;
  for (let g = 0; g + 1 < groupStart.length; g++) {
    const o = groupStart[g]! + options[g]!;
    for (let i = pathStart[o]!; i < pathStart[o + 1]!; i++) {
      total += weight[i]!;
      slope -= 2 * weight[i]! * deviation[i]!;
      if (excessWeight > 0) {
        slope -= excessWeight;
        kinks.push(deviation[i]! - tolerance, deviation[i]! + tolerance);
      }
    }
  }
  if (total === 0) return otherwise;
  // Far below all paths each lies above the tolerance; every kink passed adds the excess' weight to the slope.
  kinks.sort((a, b) => a - b);
  for (const kink of kinks) {
    if (slope + 2 * total * kink >= 0) return -slope / (2 * total);
    slope += excessWeight;
    if (slope + 2 * total * kink >= 0) return kink;
  }
  return -slope / (2 * total);
}
