/**
 * Lines hung under given tabs by index arrays: the kernel that the fit calls hundreds of times.
 *
 * In equilibrium every strap and line that carries others points along the resultant of the pulls of what it carries. The
 * resultant's line of action hardly moves when the junction that it pulls at does, so each member aims at a point on it
 * close to the tabs, and a few passes of laying out and pulling settle it.
 */
import type { ReadonlyVector } from "./vector.ts";

/** Members from below upwards, each after the one that it hangs on. */
export interface LineTree {
  /** What each member hangs on, −1 at its root. */
  readonly below: Int32Array;
  readonly lengthM: Float64Array;
  /** 3 per member: the root of those that hang on none [m]. */
  readonly rootM: Float64Array;
  /** Whether a member carries others, and so has a junction at its upper end. */
  readonly carries: Uint8Array;
  /** Tabs that a member ends at: `ends[endStart[m]] … ends[endStart[m + 1] − 1]`. */
  readonly endStart: Int32Array;
  readonly ends: Int32Array;
  /** All tabs above a member, likewise. */
  readonly aboveStart: Int32Array;
  readonly above: Int32Array;
}

/** Room that a tree needs, made once. */
export interface Hanging {
  /** 3 per member: its upper end where it carries others [m]. */
  readonly upper: Float64Array;
  /** Load-weighted mean of the tabs above, and what the member aims at. */
  readonly mean: Float64Array;
  readonly aim: Float64Array;
  readonly pull: Float64Array;
}

export interface MemberDraft {
  readonly below: number;
  readonly lengthM: number;
  readonly root: ReadonlyVector;
  readonly tabs: readonly number[];
}

/** @throws RangeError where a member comes before the one that it hangs on */
export function lineTree(members: readonly MemberDraft[]): LineTree {
  const count = members.length;
  const above: number[][] = members.map((member) => [...member.tabs]);
  const carries = new Uint8Array(count);
  for (let m = count - 1; m >= 0; m--) {
    const below = (members[m] as MemberDraft).below;
    if (below >= m) throw new RangeError(`Member ${m} hangs on ${below} when expected an earlier one.`);
    if (below < 0) continue;
    carries[below] = 1;
    above[below]?.push(...(above[m] as number[]));
  }
  const starts = (lists: readonly (readonly number[])[]): Int32Array => {
    let sum = 0;
    return Int32Array.from([0, ...lists.map((list) => (sum += list.length))]);
  };
  const ends = members.map((member) => member.tabs);
  return {
    below: Int32Array.from(members, (member) => member.below),
    lengthM: Float64Array.from(members, (member) => member.lengthM),
    rootM: Float64Array.from(members.flatMap((member) => [...member.root])),
    carries,
    endStart: starts(ends),
    ends: Int32Array.from(ends.flat()),
    aboveStart: starts(above),
    above: Int32Array.from(above.flat()),
  };
}

export function roomFor(tree: LineTree): Hanging {
  const size = 3 * tree.below.length;
  return {
    upper: new Float64Array(size),
    mean: new Float64Array(size),
    aim: new Float64Array(size),
    pull: new Float64Array(size),
  };
}

/** Passes after which members point along their pulls to a few hundredths of a millimetre at the tabs. */
export const AIMING_PASSES = 3;

/**
 * Hang a tree under its tabs.
 *
 * @param tabs 3 per tab [m]
 * @param loads 3 per tab: the canopy's load along its normal, any common scale; a line pulls so hard that its part along
 *   the normal is the load, the rest the canopy takes along its surface
 * @param room changed in place: `upper` holds the junctions
 * @param misfitM changed in place, for the tree's tabs: distance still to go minus the last line's length [m]
 * @param passes of correction; 0 aims at the load-weighted mean of the tabs
 */
export function hangLines(
  tree: LineTree,
  tabs: Float64Array,
  loads: Float64Array,
  room: Hanging,
  misfitM: Float64Array,
  passes = AIMING_PASSES,
): void {
  aimAtMeans(tree, tabs, loads, room);
  layMembers(tree, room);
  for (let pass = 0; pass < passes; pass++) {
    aimAlongPulls(tree, tabs, loads, room);
    layMembers(tree, room);
  }
  const { below, lengthM, rootM, endStart, ends } = tree;
  for (let m = 0; m < below.length; m++) {
    const b = below[m]!;
    const from = b < 0 ? rootM : room.upper;
    const o = 3 * (b < 0 ? m : b);
    for (let k = endStart[m]!; k < endStart[m + 1]!; k++) {
      const t = 3 * ends[k]!;
      misfitM[ends[k]!] =
        Math.hypot(tabs[t]! - from[o]!, tabs[t + 1]! - from[o + 1]!, tabs[t + 2]! - from[o + 2]!) -
        lengthM[m]!;
    }
  }
}

function aimAtMeans(tree: LineTree, tabs: Float64Array, loads: Float64Array, room: Hanging): void {
  const { carries, aboveStart, above } = tree;
  for (let m = 0; m < carries.length; m++) {
    if (!carries[m]) continue;
    let sum = 0;
    let x = 0;
    let y = 0;
    let z = 0;
    for (let k = aboveStart[m]!; k < aboveStart[m + 1]!; k++) {
      const t = 3 * above[k]!;
      const weight = Math.hypot(loads[t]!, loads[t + 1]!, loads[t + 2]!) || 1e-12;
      sum += weight;
      x += weight * tabs[t]!;
      y += weight * tabs[t + 1]!;
      z += weight * tabs[t + 2]!;
    }
    room.mean[3 * m] = x / sum;
    room.mean[3 * m + 1] = y / sum;
    room.mean[3 * m + 2] = z / sum;
  }
  room.aim.set(room.mean);
}

function layMembers(tree: LineTree, room: Hanging): void {
  const { below, lengthM, rootM, carries } = tree;
  const { upper, aim } = room;
  for (let m = 0; m < below.length; m++) {
    if (!carries[m]) continue;
    const b = below[m]!;
    const from = b < 0 ? rootM : upper;
    const o = 3 * (b < 0 ? m : b);
    const i = 3 * m;
    const dx = aim[i]! - from[o]!;
    const dy = aim[i + 1]! - from[o + 1]!;
    const dz = aim[i + 2]! - from[o + 2]!;
    const factor = lengthM[m]! / (Math.hypot(dx, dy, dz) || 1);
    upper[i] = from[o]! + factor * dx;
    upper[i + 1] = from[o + 1]! + factor * dy;
    upper[i + 2] = from[o + 2]! + factor * dz;
  }
}

/** Sum the pulls from above and set each aim on the resultant's line of action, as far up as the tabs' mean. */
function aimAlongPulls(tree: LineTree, tabs: Float64Array, loads: Float64Array, room: Hanging): void {
  const { below, rootM, carries, endStart, ends } = tree;
  const { upper, mean, aim, pull } = room;
  pull.fill(0);
  for (let m = below.length - 1; m >= 0; m--) {
    const i = 3 * m;
    const b = below[m]!;
    if (carries[m]) {
      const size = Math.hypot(pull[i]!, pull[i + 1]!, pull[i + 2]!);
      if (size > 0) {
        const reach =
          Math.hypot(mean[i]! - upper[i]!, mean[i + 1]! - upper[i + 1]!, mean[i + 2]! - upper[i + 2]!) / size;
        for (let a = i; a < i + 3; a++) aim[a] = upper[a]! + reach * pull[a]!;
      }
    }
    const from = b < 0 ? rootM : upper;
    const o = 3 * (b < 0 ? m : b);
    for (let k = endStart[m]!; k < endStart[m + 1]!; k++) {
      const t = 3 * ends[k]!;
      const dx = tabs[t]! - from[o]!;
      const dy = tabs[t + 1]! - from[o + 1]!;
      const dz = tabs[t + 2]! - from[o + 2]!;
      const fx = loads[t]!;
      const fy = loads[t + 1]!;
      const fz = loads[t + 2]!;
      const along = dx * fx + dy * fy + dz * fz;
      const square = fx * fx + fy * fy + fz * fz;
      // A line nearly along the surface would have to pull without limit; no plan means that.
      const least = 0.2 * Math.sqrt(square) * Math.hypot(dx, dy, dz);
      const factor = square === 0 ? 0 : square / Math.max(along, least);
      pull[i] = pull[i]! + factor * dx;
      pull[i + 1] = pull[i + 1]! + factor * dy;
      pull[i + 2] = pull[i + 2]! + factor * dz;
    }
    if (b >= 0) for (let a = 0; a < 3; a++) pull[3 * b + a] = pull[3 * b + a]! + pull[i + a]!;
  }
}
