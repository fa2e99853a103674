/**
 * How every rib's incidence answers to small changes of line length, at a given state.
 *
 * At equilibrium the gradient g(x, L0) of the potential vanishes, so K dx = −(∂g/∂L0) dL0 with K the exact tangent. A
 * member's unstretched length L0 enters by its tension T = EA (l − L0)/L0, with ∂T/∂L0 = −EA l/L0². A rib's incidence is
 * linear in its tabs' displacements up to the arctangent, so one adjoint solve K λ = ∂α/∂x a rib gives the whole row
 * dα/dL0 = λ·(−∂g/∂L0): as many solves as ribs, not as lines. Slack lines answer with 0.
 */
import { assembleTangent, memberLength } from "./energy.ts";
import type { AttachedRib, Equilibrium, WingModel } from "./model.ts";
import { profileChange } from "./profile.ts";
import { factorise, solveFactored } from "./sparse/ldl.ts";
import type { NetworkStructure } from "./structure.ts";

/** Added to the diagonal over the largest entry: holds nodes that nothing holds (a slack brake's) and is felt by no other. */
const HOLD = 1e-10;
const PIVOT_FLOOR = 1e-13;
/** Length over that of the distance that a slack line is given: any above 1 says that it carries nothing. */
const SLACK = 1.01;

/** d incidence / d line length, ribs × lines, row by row. */
export interface IncidenceResponse {
  /** The ribs, in the order of {@link profileChange}. */
  readonly ribs: readonly AttachedRib[];
  readonly lineKeys: readonly string[];
  /** ribs × lines: incidence, nose-up positive, per length at the reference tension [rad/m]. */
  readonly matrix: Float64Array;
  /**
   * False where the tangent at the state isn't positive definite and the compressed fabric's softening was left out: the
   * figures are coarser then.
   */
  readonly exact: boolean;
}

/**
 * @param state an equilibrium of the model, for any line lengths and condition
 * @param structure the model's analysed topology; its factor is overwritten
 * @throws RangeError where the state has not the model's size
 */
export function incidenceResponse(
  model: WingModel,
  state: Equilibrium,
  structure: NetworkStructure,
): IncidenceResponse {
  const { network } = model;
  const x = state.positions;
  if (x.length !== network.positions.length)
    throw new RangeError(`the state has ${x.length} coordinates, expected ${network.positions.length}`);
  const unstretched = unstretchedOf(model, state);
  const exact = factoriseTangent(model, state, structure, unstretched);
  const lineKeys = [...model.lineMember.keys()];
  const column = new Map(lineKeys.map((key, c) => [key, c]));
  const changes = profileChange(model, model.specified, state);
  const ribs = changes.map(
    (change) => model.ribs.find((rib) => rib.side === change.side && rib.rib === change.rib) as AttachedRib,
  );
  const matrix = new Float64Array(ribs.length * lineKeys.length);
  const adjoint = new Float64Array(x.length);
  ribs.forEach((rib, r) => {
    adjoint.fill(0);
    incidenceGradient(rib, changes[r]?.incidenceRad ?? 0, structure.place, adjoint);
    for (let node = 0; node < structure.nodeCount; node++)
      for (let axis = 0; axis < 3; axis++)
        if (network.fixed[3 * node + axis]) adjoint[3 * structure.place[node]! + axis] = 0;
    solveFactored(structure.factor, adjoint);
    for (let m = 0; m < unstretched.length; m++) {
      const c = column.get(model.memberLine[m] ?? "");
      if (c === undefined || (state.tensionsN[m] as number) <= 0) continue;
      const lower = network.ends[2 * m]!;
      const upper = network.ends[2 * m + 1]!;
      const a = 3 * structure.place[lower]!;
      const b = 3 * structure.place[upper]!;
      // l·n·(λ_b − λ_a), so that the force per length EA l n/L0² needs no division by l.
      let along = 0;
      for (let axis = 0; axis < 3; axis++) {
        const free = (node: number, at: number): number =>
          network.fixed[3 * node + axis] ? 0 : adjoint[at + axis]!;
        along += (x[3 * upper + axis]! - x[3 * lower + axis]!) * (free(upper, b) - free(lower, a));
      }
      const ea = network.stiffness[m]!;
      const perReference = 1 / (1 + model.referenceTensionN / ea);
      const at = r * lineKeys.length + c;
      matrix[at] = matrix[at]! + (ea / unstretched[m]! ** 2) * along * perReference;
    }
  });
  return { ribs, lineKeys, matrix, exact };
}

/** Unstretched lengths that the state's tensions belong to; a slack line is given one that keeps it slack [m]. */
function unstretchedOf(model: WingModel, state: Equilibrium): Float64Array {
  const { network } = model;
  return Float64Array.from(network.unstretched, (_, m) => {
    const length = memberLength(network.ends, m, state.positions);
    const tension = state.tensionsN[m] as number;
    if (tension === 0 && network.bars[m] === 0) return SLACK * length;
    return length / (1 + tension / (network.stiffness[m] as number));
  });
}

/** @returns whether the exact tangent could be taken */
function factoriseTangent(
  model: WingModel,
  state: Equilibrium,
  structure: NetworkStructure,
  unstretched: Float64Array,
): boolean {
  const { network } = model;
  const actions = { unstretched, loads: network.loads };
  const values = new Float64Array(9 * structure.factor.pattern.rows.length);
  for (const convex of [false, true]) {
    const stiffest = assembleTangent(network, structure, actions, state.positions, values, convex) || 1;
    const done = factorise(structure.factor, values, HOLD * stiffest, PIVOT_FLOOR * stiffest);
    if (done === state.positions.length) return !convex;
  }
  throw new Error("the tangent without the compressed bars' softening isn't positive definite");
}

/**
 * ∂ incidence/∂ positions of one rib, by place: incidence = −atan(slope/chord), with the least squares slope of the main
 * tabs' displacements along the rib's normal over the chord fraction.
 */
function incidenceGradient(
  rib: AttachedRib,
  incidenceRad: number,
  place: Int32Array,
  gradient: Float64Array,
): void {
  const tabs = rib.nodes.filter((node) => node.tabKey !== undefined && node.row !== "brake");
  const middle = tabs.reduce((sum, tab) => sum + tab.chordFraction, 0) / tabs.length;
  const spread = tabs.reduce((sum, tab) => sum + (tab.chordFraction - middle) ** 2, 0);
  const perSlope = -(Math.cos(incidenceRad) ** 2) / rib.chordM;
  for (const { node, chordFraction } of tabs) {
    const weight = (perSlope * (chordFraction - middle)) / spread;
    const at = 3 * (place[node] as number);
    rib.normal.forEach((component, axis) => {
      gradient[at + axis] = (gradient[at + axis] as number) + weight * component;
    });
  }
}
