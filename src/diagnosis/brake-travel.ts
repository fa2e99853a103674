/** How much of the brakes' free travel is left in a state. */
import type { AttachedRib, Equilibrium, WingModel } from "../geometry/model.ts";
import { add, at, distance, dot, type Vector } from "../geometry/vector.ts";
import type { Side } from "../plan/model.ts";
import type { Assessment } from "./assess.ts";

/** What is left of each brake's free travel at the tab that is pulled first; negative: pulled already, by that much [m]. */
export type BrakeTravel = Readonly<Partial<Record<Side, number>>>;

/**
 * What is left of the plan's free travel on either side: plan's travel + change of a brake path's length − change of the
 * distance from the pulley to where that tab's trailing edge stands unbraked, the least over the side's brake tabs [m].
 *
 * Unbraked, the trailing edge goes with the rib's main tabs: their mean displacement and the straight line through their
 * displacements along the normal. Rear rows that are short lower it and give travel back; opened trimmers take some.
 *
 * @param unstretched m unstretched lengths that the state was solved with [m]
 * @param freeTravelM the plan's free travel, at the specified state with hands up [m]
 */
export function brakeTravel(
  model: WingModel,
  unstretched: Float64Array,
  state: Equilibrium,
  freeTravelM: number,
): BrakeTravel {
  const { ends } = model.network;
  const below = new Map<number, number>();
  for (let m = 0; m < ends.length / 2; m++)
    if (model.memberKind[m] === "line") below.set(ends[2 * m + 1] as number, m);
  const found: Partial<Record<Side, number>> = {};
  for (const rib of model.ribs) {
    for (const tab of rib.nodes) {
      if (tab.row !== "brake" || tab.tabKey === undefined) continue;
      let longer = 0;
      let foot = tab.node;
      for (let m = below.get(foot); m !== undefined; m = below.get(foot)) {
        longer += (unstretched[m] as number) - (model.network.unstretched[m] as number);
        foot = ends[2 * m] as number;
      }
      if (model.nodeKind[foot] !== "pulley") continue;
      const shift = unbrakedShift(model, rib, tab.chordFraction, state);
      const from = at(model.specified.positions, foot);
      const edge = at(model.specified.positions, tab.node);
      const before = distance(edge, from);
      const now = distance(add(edge, shift), at(state.positions, foot));
      const leftM = freeTravelM + longer - (now - before);
      found[rib.side] = Math.min(found[rib.side] ?? Number.POSITIVE_INFINITY, leftM);
    }
  }
  return found;
}

/** The same counted on the brake lines alone, as it is held against its limit; undefined where no brake path was read [m]. */
export function travelOnLines({ assessed }: Pick<Assessment, "assessed">): BrakeTravel | undefined {
  const found: Partial<Record<Side, number>> = {};
  for (const { kind, side, valueM } of assessed)
    if (kind === "brake travel" && side !== undefined) found[side] = valueM;
  return Object.keys(found).length === 0 ? undefined : found;
}

/** How far the trailing edge of a rib goes with its main tabs; a rib without two of them goes with its nearest neighbour's. */
function unbrakedShift(model: WingModel, rib: AttachedRib, fraction: number, state: Equilibrium): Vector {
  const main = (each: AttachedRib): AttachedRib["nodes"] =>
    each.nodes.filter((node) => node.tabKey !== undefined && node.row !== "brake");
  const able = model.ribs.filter((each) => each.side === rib.side && main(each).length > 1);
  const held = able.reduce(
    (best, each) => (Math.abs(each.sigma - rib.sigma) < Math.abs(best.sigma - rib.sigma) ? each : best),
    able[0] ?? rib,
  );
  const tabs = main(held);
  const shifts = tabs.map(({ node }) => {
    const [a, b] = [at(model.specified.positions, node), at(state.positions, node)];
    return [b[0] - a[0], b[1] - a[1], b[2] - a[2]] as Vector;
  });
  const count = Math.max(1, tabs.length);
  const middle = tabs.reduce((sum, tab) => sum + tab.chordFraction, 0) / count;
  const spread = tabs.reduce((sum, tab) => sum + (tab.chordFraction - middle) ** 2, 0);
  const slope =
    spread === 0
      ? 0
      : tabs.reduce(
          (sum, tab, i) => sum + (tab.chordFraction - middle) * dot(shifts[i] as Vector, held.normal),
          0,
        ) / spread;
  const lever = slope * (fraction - middle);
  return [0, 1, 2].map(
    (axis) =>
      shifts.reduce((sum, shift) => sum + (shift[axis] as number), 0) / count +
      lever * (held.normal[axis] as number),
  ) as unknown as Vector;
}
