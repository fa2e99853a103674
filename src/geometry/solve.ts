/** The wing's shape for any set of line lengths: the same network, other lengths. */
import { AT_TRIM, type Condition, underCondition } from "./condition.ts";
import { solveEquilibrium } from "./equilibrium.ts";
import type { Equilibrium, WingModel } from "./model.ts";
import { analyseNetwork, type NetworkStructure } from "./structure.ts";

/** A wing is balanced when no node is off by more than this times the largest load: far below a thousandth of a millimetre. */
const WING_TOLERANCE = 1e-8;

/** Unstretched lengths of all members when lines are longer (+) or shorter (−) by the given amounts at the reference tension [m]. */
export function changedLengths(model: WingModel, changesM: ReadonlyMap<string, number>): Float64Array {
  const unstretched = Float64Array.from(model.network.unstretched);
  for (let m = 0; m < unstretched.length; m++) {
    const key = model.memberLine[m];
    const change = key === undefined ? undefined : changesM.get(key);
    if (change === undefined) continue;
    // L0 = L_ref/(1 + T_ref/EA) holds for the change as well.
    const ea = model.network.stiffness[m] as number;
    const length = (unstretched[m] as number) + change / (1 + model.referenceTensionN / ea);
    if (!(length > 0)) throw new RangeError(`a change of ${change} m leaves line ${key} with no length`);
    unstretched[m] = length;
  }
  return unstretched;
}

/** The analysed topology of a model, to be made once and passed to every solve. */
export function wingStructure(model: WingModel): NetworkStructure {
  return analyseNetwork(model.network);
}

/**
 * Solve the wing with changed line lengths.
 *
 * @param changesM line key → change of its length at the reference tension, negative is shorter [m]
 * @param warm a state to start from; the specified one if left out
 * @param condition how the wing is rigged and loaded; as specified if left out
 * @throws RangeError for a line key the model doesn't have, or a change that leaves a line no length
 */
export function solveWing(
  model: WingModel,
  changesM: ReadonlyMap<string, number>,
  warm: Equilibrium = model.specified,
  structure: NetworkStructure = wingStructure(model),
  condition: Condition = AT_TRIM,
): Equilibrium {
  for (const key of changesM.keys())
    if (!model.lineMember.has(key)) throw new RangeError(`there is no line ${key} in this wing`);
  return solveEquilibrium(model.network, {
    structure,
    ...underCondition(model, changedLengths(model, changesM), condition),
    start: warm.positions,
    startForces: warm.tensionsN,
    tolerance: WING_TOLERANCE,
  });
}
