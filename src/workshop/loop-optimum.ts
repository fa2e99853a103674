/**
 * The exact optimum of a loop problem, for every number of changes at once.
 *
 * Cost of a selection s (one option a group) with shared part c:
 *   Σ_i w_i (d_i − c)² + λ Σ_i max(0, |d_i − c| − tolerance) + Σ fixed
 * where a group's options all have the same weights, so that W c² is common to all selections. What remains of an option is,
 * between two places where one of its paths crosses the tolerance, linear in c; so the least over all selections with at
 * most k changes, L_k(c), is there a minimum of linear functions: concave, and found with its lines by the method of Eisner
 * and Severance (Mathematical techniques for efficient record segmentation, J. ACM 23(4), 1976): where the lines at both
 * ends of an interval meet, either L_k lies on them or a new line shows. A concave function lies above its chord, so
 * W c² + chord bounds an interval from below; what can't beat the best is left out.
 *
 * Over an interval with crossings inside, each option's convex excess is replaced by its tangent in the middle, which lies
 * below it; the same bound holds for what that gives, and in the middle it is exact. Intervals are halved by crossings until
 * none is inside or the bound settles it.
 *
 * At given c the groups decouple but for the number of changes: a table over groups and changes gives all k at once.
 */
import { type LoopProblem, presentMean } from "./loop-problem.ts";
import {
  bestShared,
  type End,
  openTable,
  SAME_COST,
  SAME_PLACE,
  type Selection,
  selectionCost,
  type Table,
} from "./loop-table.ts";

export interface LoopOptimum {
  /** Most changes that are possible; arrays below have one more entry. */
  readonly mostChanges: number;
  /** Least cost with at most k changes [mm²]. */
  readonly cost: Float64Array;
  /** Shared part at which it is reached [mm]. */
  readonly shared: Float64Array;
  /** Option of group g in the plan of at most k changes: `choice[k * groups + g]`, counted within the group. */
  readonly choice: Int32Array;
  /** Tables filled on the way: what the search cost. */
  readonly evaluations: number;
}

const MOST_TIES = 8;

const tieMargin = (cost: number): number => 1e-9 + 10 * SAME_COST * Math.abs(cost);

/** Solves to the global optimum for every k. Ties: fewer changes, then smaller moves of take-up, then the shared part nearest to the present one. */
export function optimiseLoops(problem: LoopProblem): LoopOptimum {
  const groups = problem.groupStart.length - 1;
  const isFree = problem.sharedLow < problem.sharedHigh;
  const reference = isFree ? presentMean(problem) : 0;
  const table = openTable(problem, reference);
  const { most } = table;
  const best = new Float64Array(most + 1).fill(Number.POSITIVE_INFINITY);
  const places: number[][] = Array.from({ length: most + 1 }, () => []);
  const offer = (k: number, cost: number, c: number): void => {
    const least = best[k] as number;
    const margin = tieMargin(cost);
    const known = places[k] as number[];
    if (cost < least - margin) known.length = 0;
    else if (
      cost > least + margin ||
      known.length >= MOST_TIES ||
      known.some((at) => Math.abs(at - c) < 1e-7)
    )
      return;
    best[k] = Math.min(least, cost);
    known.push(c);
  };
  if (isFree) search(table, best, offer);
  else {
    table.tangentsAt(0);
    const end = table.evaluate(0);
    for (let k = 0; k <= most; k++) offer(k, end.value[k] as number, 0);
  }

  const cost = new Float64Array(most + 1);
  const shared = new Float64Array(most + 1);
  const choice = new Int32Array((most + 1) * groups);
  for (let k = 0; k <= most; k++) {
    const row = choice.subarray(k * groups, (k + 1) * groups);
    if (k > 0 && (best[k] as number) >= (cost[k - 1] as number) - tieMargin(best[k] as number)) {
      row.set(choice.subarray((k - 1) * groups, k * groups));
      cost[k] = cost[k - 1] as number;
      shared[k] = shared[k - 1] as number;
      continue;
    }
    let kept: Selection | undefined;
    for (const c of places[k] as number[]) {
      const selection = table.select(c, k);
      const from = k === 0 ? 0 : (shared[0] as number) - reference;
      if (kept === undefined || precedes(selection, kept, from)) kept = selection;
    }
    const { options, c } = kept as Selection;
    row.set(options);
    const refined = isFree ? bestShared(table.problem, options, c) : 0;
    shared[k] = refined + reference;
    cost[k] = selectionCost(table.problem, options, refined);
  }
  return { mostChanges: most, cost, shared, choice, evaluations: table.count() };
}

function precedes(one: Selection, other: Selection, from: number): boolean {
  if (one.changes !== other.changes) return one.changes < other.changes;
  if (Math.abs(one.moves - other.moves) > 1e-9) return one.moves < other.moves;
  const apart = Math.abs(one.c - from) - Math.abs(other.c - from);
  return Math.abs(apart) > 1e-9 ? apart < 0 : one.c < other.c;
}

type Offer = (k: number, cost: number, c: number) => void;

/** An interval of the shared part, with the crossings inside it: from `first` to before `end` in the list. */
interface Interval {
  readonly from: number;
  readonly to: number;
  readonly first: number;
  readonly end: number;
}

function search(table: Table, best: Float64Array, offer: Offer): void {
  const { problem, weight, most } = table;
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const value of problem.deviation) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  // Outside the deviations' range every path gets worse; so of what is allowed outside it only the nearest counts.
  const allowed = (c: number): number => Math.min(Math.max(c, problem.sharedLow), problem.sharedHigh);
  const empty = low > high;
  low = allowed(empty ? 0 : low);
  high = allowed(empty ? 0 : high);
  if (!(high > low)) {
    const c = low;
    table.tangentsAt(c);
    const end = table.evaluate(c);
    for (let k = 0; k <= most; k++) offer(k, (end.value[k] as number) + weight * c * c, c);
    return;
  }
  const crossings = crossingsOf(problem, low, high);
  // First in, first out: all intervals of a length before the shorter ones, so that good plans are known early everywhere.
  const queue: Interval[] = [{ from: low, to: high, first: 0, end: crossings.length }];
  for (let head = 0; head < queue.length; head++) {
    const { from, to, first, end } = queue[head] as Interval;
    const middle = (from + to) / 2;
    table.tangentsAt(middle);
    if (first === end) {
      smooth(table, from, to, best, offer);
      continue;
    }
    const [one, other, between] = [table.evaluate(from), table.evaluate(to), table.evaluate(middle)];
    for (let k = 0; k <= most; k++) offer(k, (between.value[k] as number) + weight * middle * middle, middle);
    if (!isOpen(one, other, from, to, weight, best)) continue;
    const half = (first + end) >> 1;
    const at = crossings[half] as number;
    queue.push({ from, to: at, first, end: half }, { from: at, to, first: half + 1, end });
  }
}

/** Where a path under an option crosses the tolerance, rising, strictly between low and high. */
function crossingsOf(
  { deviation, tolerance, excessWeight }: LoopProblem,
  low: number,
  high: number,
): number[] {
  if (excessWeight === 0) return [];
  const all = new Float64Array(2 * deviation.length);
  deviation.forEach((value, i) => {
    all[2 * i] = value - tolerance;
    all[2 * i + 1] = value + tolerance;
  });
  all.sort();
  const crossings: number[] = [];
  let last = low;
  for (const value of all)
    if (value > last + SAME_PLACE && value < high - SAME_PLACE) {
      crossings.push(value);
      last = value;
    }
  return crossings;
}

/** Least of W c² plus the chord over an interval. */
function chordBound(weight: number, from: number, to: number, atFrom: number, atTo: number): number {
  const slope = (atTo - atFrom) / (to - from);
  let c = weight > 0 ? -slope / (2 * weight) : slope < 0 ? to : from;
  c = Math.min(Math.max(c, from), to);
  return weight * c * c + atFrom + slope * (c - from);
}

function isOpen(one: End, other: End, from: number, to: number, weight: number, best: Float64Array): boolean {
  for (let k = 0; k < best.length; k++) {
    const bound = chordBound(weight, from, to, one.value[k]!, other.value[k]!);
    if (bound <= best[k]! + tieMargin(best[k]!)) return true;
  }
  return false;
}

/** An interval without crossings: all lines of L_k that matter, exactly. */
function smooth(table: Table, low: number, high: number, best: Float64Array, offer: Offer): void {
  const { weight, most } = table;
  const take = (at: number, end: End): void => {
    for (let k = 0; k <= most; k++) {
      const slope = end.slope[k]!;
      let c = weight > 0 ? -slope / (2 * weight) : slope < 0 ? high : low;
      c = Math.min(Math.max(c, low), high);
      offer(k, weight * c * c + end.value[k]! + slope * (c - at), c);
    }
  };
  const stack = [{ from: low, to: high, one: table.evaluate(low), other: table.evaluate(high) }];
  for (const { from, to, one, other } of stack.slice()) {
    take(from, one);
    take(to, other);
  }
  for (let interval = stack.pop(); interval !== undefined; interval = stack.pop()) {
    const { from, to, one, other } = interval;
    const width = to - from;
    // The number of changes with most to gain says where to look.
    let widest = Number.NEGATIVE_INFINITY;
    let at = Number.NaN;
    for (let k = 0; k <= most; k++) {
      const [v, w, s, t] = [one.value[k]!, other.value[k]!, one.slope[k]!, other.slope[k]!];
      const gain = best[k]! - chordBound(weight, from, to, v, w);
      if (gain < -tieMargin(best[k]!) || gain <= widest) continue;
      // A line of one end that meets L_k at the other end is L_k between: it is concave.
      const margin = 1e-9 + 10 * SAME_COST * (Math.abs(v) + Math.abs(w));
      if (v + s * width - w <= margin || w - t * width - v <= margin) continue;
      widest = gain;
      at = from + (w - t * width - v) / (s - t);
    }
    if (!(at > from && at < to)) continue;
    const between = table.evaluate(at);
    take(at, between);
    stack.push({ from, to: at, one, other: between }, { from: at, to, one: between, other });
  }
}
