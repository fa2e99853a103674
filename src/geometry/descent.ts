/**
 * The way down to an equilibrium: Newton's method with the exact tangent, where each member remembers the force that
 * the last step was to give it.
 *
 * A straight step across a line stretches it by the square of the step, so the force found at the new position is far
 * too large, and a tangent made with it far too stiff across the line: slack fans would be crept up to. With the
 * force that the linear step predicts instead, the tangent is that of the mixed problem in positions and forces, whose
 * Newton iterations take large steps; only the tangent differs, the balance asked for is the same. Lines that the step
 * was to leave taut stay engaged, though they may be a little slack in between.
 *
 * Such a step may raise the energy before the next one brings it down. So a few are let pass; if they don't pay, the
 * descent returns to the best state, shortens its reach and in the end searches along the line.
 *
 * Sources, cited from memory. The mixed step: D. Magisano, L. Leonetti, G. Garcea, "How to improve efficiency and
 * robustness of the Newton method in geometrically non-linear structural problem discretized via displacement-based
 * finite elements", Comput. Methods Appl. Mech. Engrg. 313 (2017) 986–1005. Steps that needn't descend, in the simplest
 * form: L. Grippo, F. Lampariello, S. Lucidi, "A nonmonotone line search technique for Newton's method", SIAM J. Numer.
 * Anal. 23 (1986) 707–716.
 */
import { type Actions, energyAndGradient, memberForces, memberForcesInto } from "./energy.ts";
import type { Network } from "./model.ts";
import { type Course, farthestMove, newtonStep, type State } from "./newton-step.ts";
import { predictForces } from "./step-forces.ts";
import type { NetworkStructure } from "./structure.ts";

/** Farthest that a node moves in one iteration, over the network's size. */
const STEP_OF_LINES = 0.5;
const STEP_WITH_BARS = 0.05;
/** Steps without gain that are let pass, one after the other. */
const LONGEST_EXCURSION = 4;
/** Such a step has to leave at most this part of what the one before lost. */
const EXCURSION_PAYS = 0.6;
/** After an excursion that didn't pay, nodes move at most this part as far. */
const SHORTENING = 0.4;
/** Excursions that don't pay before the descent searches along the line. */
const MOST_FAILURES = 2;
/** Over the network's size. */
const FIRM_STEP = 1e-4;

export interface Descent {
  readonly converged: boolean;
  readonly iterations: number;
  /** Largest out-of-balance force at a free node [N]. */
  readonly residual: number;
  readonly energy: number;
  /** 3n, ∂Π/∂x where it ended [N]. */
  readonly gradient: Float64Array;
  /** True where the last tangent showed that every node is held. */
  readonly firm: boolean;
}

/**
 * Minimise Π from x, which is changed in place.
 *
 * @param tolerance on the residual, over the largest load (without loads: over the largest member force)
 * @param startForces m member forces of the state that x comes from, if known [N]
 */
export function descend(
  network: Network,
  structure: NetworkStructure,
  actions: Actions,
  x: Float64Array,
  tolerance: number,
  maxIterations: number,
  startForces?: Float64Array,
): Descent {
  const count = x.length;
  const reach = Math.max(largest(actions.unstretched), extent(network.positions));
  const loadScale = largestLoad(actions.loads);
  const scaleAt = (at: Float64Array): number =>
    loadScale > 0 ? loadScale : largestSize(memberForces(network, actions.unstretched, at));
  const course: Course = {
    network,
    structure,
    actions,
    reach,
    longestStep: (network.bars.includes(1) ? STEP_WITH_BARS : STEP_OF_LINES) * reach,
    loadScale: scaleAt(x),
    step: new Float64Array(count),
    right: new Float64Array(count),
    solution: new Float64Array(count),
  };
  const at = stateAt(course, x);
  firstForces(course, at, startForces);
  const best = copyOf(at);
  const roundOff = roundOffForce(network, actions, x);
  const target = (): number => tolerance * scaleAt(best.x);

  let iterations = 0;
  let floorReached = false;
  let firm = false;
  let radius = course.longestStep;
  let excursion = 0;
  let excess = Infinity;
  let failures = 0;
  /** Iterations left in which the line is searched, and how many there'll be next time. */
  let searching = 0;
  let patience = 1;
  while (best.residual > 0 && best.residual > target() && iterations < maxIterations && !floorReached) {
    iterations++;
    if (searching > 0) {
      const step = newtonStep(course, at, undefined, course.longestStep);
      firm = false;
      floorReached = !searchLine(course, at, step.slope);
      copyState(at, best);
      if (--searching === 0) memberForcesInto(network, actions.unstretched, at.x, best.forces);
      at.forces.set(best.forces);
      continue;
    }
    const step = newtonStep(course, at, at.forces, radius);
    predictForces(network, actions, at.x, course.step, at.forces);
    for (let i = 0; i < count; i++) at.x[i] = at.x[i]! + course.step[i]!;
    evaluate(course, at);
    if (improves(best, at)) {
      firm = step.firm && step.farthest <= FIRM_STEP * reach;
      copyState(at, best);
      if (step.farthest > 0.5 * radius) radius = Math.min(course.longestStep, 2 * radius);
      excursion = 0;
      excess = Infinity;
      failures = 0;
      continue;
    }
    const lost = at.energy - best.energy;
    if (++excursion <= LONGEST_EXCURSION && lost <= EXCURSION_PAYS * excess) {
      excess = lost;
      continue;
    }
    const standing = step.farthest < 1e-9 * reach;
    copyState(best, at);
    radius *= SHORTENING;
    excursion = 0;
    excess = Infinity;
    if (++failures >= MOST_FAILURES || standing) {
      searching = patience;
      patience *= 2;
      failures = 0;
      radius = course.longestStep;
    }
  }

  // Where round-off stops the descent just above the target, a looser one still counts as balanced.
  const converged =
    best.residual <= target() ||
    (floorReached && best.residual <= Math.max(1e-6 * scaleAt(best.x), roundOff));
  x.set(best.x);
  const { residual, energy, gradient } = best;
  return { converged, iterations, residual, energy, gradient, firm: firm && noneLetGo(course, best) };
}

function stateAt(course: Course, x: Float64Array): State {
  const state: State = {
    x: Float64Array.from(x),
    gradient: new Float64Array(x.length),
    forces: new Float64Array(course.actions.unstretched.length),
    energy: 0,
    magnitude: 0,
    residual: 0,
  };
  evaluate(course, state);
  return state;
}

function copyOf(state: State): State {
  return {
    ...state,
    x: Float64Array.from(state.x),
    gradient: Float64Array.from(state.gradient),
    forces: Float64Array.from(state.forces),
  };
}

function copyState(from: State, to: State): void {
  to.x.set(from.x);
  to.gradient.set(from.gradient);
  to.forces.set(from.forces);
  to.energy = from.energy;
  to.magnitude = from.magnitude;
  to.residual = from.residual;
}

function evaluate(course: Course, state: State): void {
  const { energy, magnitude } = energyAndGradient(course.network, course.actions, state.x, state.gradient);
  state.energy = energy;
  state.magnitude = magnitude;
  state.residual = freeResidual(course.network, state.gradient);
}

/**
 * The forces to begin with: those of the state that the start comes from, where they're known, so that a line which a
 * change leaves slack for the moment is still engaged. Else those that the network's own lengths give at the start.
 */
function firstForces(course: Course, state: State, known: Float64Array | undefined): void {
  const { network, actions } = course;
  memberForcesInto(network, actions.unstretched, state.x, state.forces);
  const before =
    known ??
    (actions.unstretched === network.unstretched
      ? undefined
      : memberForces(network, network.unstretched, state.x));
  if (!before) return;
  for (let m = 0; m < before.length; m++) if (before[m] !== 0) state.forces[m] = before[m]!;
}

/** True where a state is lower; where the gain drowns in round-off the residual tells. */
function improves(from: State, to: State): boolean {
  const noise = 1e-14 * (from.magnitude + to.magnitude);
  const gain = from.energy - to.energy;
  return gain > noise || (gain > -100 * noise && to.residual < 0.7 * from.residual);
}

/**
 * Backtrack along `course.step` until Π descends enough, and go there; round-off in Π is allowed for, so that the last
 * steps aren't refused.
 *
 * @returns false where nothing along the step is better
 */
function searchLine(course: Course, at: State, slope: number): boolean {
  const trial = copyOf(at);
  for (let length = 1; length > 1e-10; length *= 0.5) {
    for (let i = 0; i < trial.x.length; i++) trial.x[i] = at.x[i]! + length * course.step[i]!;
    evaluate(course, trial);
    const descends = at.energy - trial.energy >= -1e-4 * length * slope;
    const byResidual = trial.residual < 0.7 * at.residual;
    if (improves(at, trial) && (descends || byResidual)) {
      copyState(trial, at);
      return true;
    }
  }
  return false;
}

/** True where no line that the last tangent counted as taut is slack now. */
function noneLetGo(course: Course, state: State): boolean {
  const { network, actions } = course;
  const now = memberForces(network, actions.unstretched, state.x);
  for (let m = 0; m < now.length; m++)
    if (network.bars[m] === 0 && now[m] === 0 && state.forces[m]! > 0) return false;
  return true;
}

function freeResidual(network: Network, gradient: Float64Array): number {
  const { fixed } = network;
  let square = 0;
  for (let i = 0; i < gradient.length; i += 3) {
    const gx = fixed[i] ? 0 : gradient[i]!;
    const gy = fixed[i + 1] ? 0 : gradient[i + 1]!;
    const gz = fixed[i + 2] ? 0 : gradient[i + 2]!;
    square = Math.max(square, gx * gx + gy * gy + gz * gz);
  }
  return Math.sqrt(square);
}

/** The out-of-balance force that rounding of the positions alone can make [N]. */
function roundOffForce(network: Network, actions: Actions, x: Float64Array): number {
  const reach = largestSize(x);
  let stiffest = 0;
  for (let m = 0; m < actions.unstretched.length; m++)
    stiffest = Math.max(stiffest, network.stiffness[m]! / actions.unstretched[m]!);
  return 8 * Number.EPSILON * stiffest * reach;
}

/** Largest load on a node [N]. */
function largestLoad(loads: Float64Array): number {
  return farthestMove(loads);
}

/** Diagonal of the box round all nodes [m]. */
function extent(positions: Float64Array): number {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < positions.length; i++) {
    low[i % 3] = Math.min(low[i % 3]!, positions[i]!);
    high[i % 3] = Math.max(high[i % 3]!, positions[i]!);
  }
  return Math.hypot(...high.map((top, axis) => top - low[axis]!));
}

function largest(values: Float64Array): number {
  let result = 0;
  for (let i = 0; i < values.length; i++) result = Math.max(result, values[i]!);
  return result;
}

function largestSize(values: Float64Array): number {
  let result = 0;
  for (let i = 0; i < values.length; i++) result = Math.max(result, Math.abs(values[i]!));
  return result;
}
