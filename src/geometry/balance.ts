/** Loads and support reactions together: an independent look at any solved state. */

export interface Balance {
  /** Sum of loads and reactions [N]. */
  readonly force: readonly [number, number, number];
  /** Sum of their moments about the origin [N·m]. */
  readonly moment: readonly [number, number, number];
}

/**
 * Both sums vanish for a network whose inner forces act along its members, whatever the solver did. The canopy's bends
 * act along fixed directions, so a wing may keep a moment of some hundredths of a newton metre.
 *
 * @param loads 3n [N] @param reactions 3n, the forces of the supports on the nodes [N] @param positions 3n [m]
 */
export function outerBalance(loads: Float64Array, reactions: Float64Array, positions: Float64Array): Balance {
  const force: [number, number, number] = [0, 0, 0];
  const moment: [number, number, number] = [0, 0, 0];
  for (let i = 0; i < positions.length; i += 3) {
    const fx = loads[i]! + reactions[i]!;
    const fy = loads[i + 1]! + reactions[i + 1]!;
    const fz = loads[i + 2]! + reactions[i + 2]!;
    const x = positions[i]!;
    const y = positions[i + 1]!;
    const z = positions[i + 2]!;
    force[0] += fx;
    force[1] += fy;
    force[2] += fz;
    moment[0] += y * fz - z * fy;
    moment[1] += z * fx - x * fz;
    moment[2] += x * fy - y * fx;
  }
  return { force, moment };
}
