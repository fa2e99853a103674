/** Forces that members are taken to have on the way to an equilibrium, beside those at the positions. */
import { type Actions, memberLength } from "./energy.ts";
import type { Network } from "./model.ts";

/**
 * What lines that are taken to be taut, though their ends are nearer than their length, push back in the linear step: to
 * be added to the right side of a tangent assembled with the same forces.
 *
 * @param right 3n, changed in place [N]
 */
export function engagedOffsets(
  network: Network,
  actions: Actions,
  x: Float64Array,
  forces: Float64Array,
  right: Float64Array,
): void {
  const { ends, stiffness, bars } = network;
  for (let m = 0; m < forces.length; m++) {
    if (bars[m] === 1 || forces[m]! <= 0) continue;
    const length = memberLength(ends, m, x);
    const rest = actions.unstretched[m]!;
    if (length >= rest || length === 0) continue;
    const q = (stiffness[m]! * (length - rest)) / (rest * length);
    const a = 3 * ends[2 * m]!;
    const b = 3 * ends[2 * m + 1]!;
    for (let axis = 0; axis < 3; axis++) {
      const pull = q * (x[b + axis]! - x[a + axis]!);
      right[a + axis] = right[a + axis]! + pull;
      right[b + axis] = right[b + axis]! - pull;
    }
  }
}

/**
 * The forces that a linear step is to give the members: EA/L0·(l − L0 + n·Δx). A line's is 0 where that's negative, and
 * where it's slack and had none.
 *
 * @param forces m, the forces before, overwritten [N]
 */
export function predictForces(
  network: Network,
  actions: Actions,
  x: Float64Array,
  step: Float64Array,
  forces: Float64Array,
): void {
  const { ends, stiffness, bars } = network;
  for (let m = 0; m < forces.length; m++) {
    const a = 3 * ends[2 * m]!;
    const b = 3 * ends[2 * m + 1]!;
    const dx = x[b]! - x[a]!;
    const dy = x[b + 1]! - x[a + 1]!;
    const dz = x[b + 2]! - x[a + 2]!;
    const length = Math.sqrt(dx * dx + dy * dy + dz * dz);
    const rest = actions.unstretched[m]!;
    if (bars[m] === 0 && length <= rest && forces[m]! <= 0) continue;
    const move =
      dx * (step[b]! - step[a]!) + dy * (step[b + 1]! - step[a + 1]!) + dz * (step[b + 2]! - step[a + 2]!);
    const force = (stiffness[m]! * (length - rest + (length > 0 ? move / length : 0))) / rest;
    forces[m] = force > 0 || bars[m] === 1 ? force : 0;
  }
}
