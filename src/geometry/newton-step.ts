/**
 * One Newton step of the descent: the tangent with the forces that the members are taken to have, factorised, damped
 * where it isn't positive definite or the step would be too long, and bounded node by node.
 */
import { type Actions, assembleTangent } from "./energy.ts";
import type { Network } from "./model.ts";
import { factorise, solveFactored } from "./sparse/ldl.ts";
import { engagedOffsets } from "./step-forces.ts";
import type { NetworkStructure } from "./structure.ts";

/** Times that a step is damped further because it's longer than allowed. */
const MOST_DAMPINGS = 2;
/** Damping where the tangent isn't positive definite, over the load that would move a free node by the longest step. */
const DAMPING = 0.03;
/** Smallest damping over the largest diagonal entry. */
const LEAST_DAMPING = 1e-10;
/** Smallest pivot over the largest diagonal entry at which no node can be loose, nor become so in a step of FIRM_STEP. */
const FIRM_PIVOT = 1e-8;

/** A state on the way: positions, what they cost, and the forces that the members are taken to have. */
export interface State {
  readonly x: Float64Array;
  readonly gradient: Float64Array;
  readonly forces: Float64Array;
  energy: number;
  magnitude: number;
  residual: number;
}

/** What the steps share. */
export interface Course {
  readonly network: Network;
  readonly structure: NetworkStructure;
  readonly actions: Actions;
  readonly reach: number;
  readonly longestStep: number;
  readonly loadScale: number;
  /** 3n each: the step, and scratch. */
  readonly step: Float64Array;
  readonly right: Float64Array;
  readonly solution: Float64Array;
}

export interface Step {
  /** Slope of Π along the step [J]. */
  readonly slope: number;
  /** Farthest move of a node [m]. */
  readonly farthest: number;
  /** True where the tangent was undamped and every pivot far from zero. */
  readonly firm: boolean;
}

/**
 * The Newton step at a state into `course.step`.
 *
 * @param forces the members' forces to be taken, or those at the positions
 * @param longest farthest that a node may move [m]
 */
export function newtonStep(
  course: Course,
  at: State,
  forces: Float64Array | undefined,
  longest: number,
): Step {
  const { network, structure, actions, right, solution } = course;
  const { factor, place, tangent } = structure;
  const count = right.length;
  let convex = false;
  let stiffest = assembleTangent(network, structure, actions, at.x, tangent, convex, forces) || 1;
  let damping = 0;
  const enough = (DAMPING * Math.min(at.residual, course.loadScale)) / course.longestStep;
  while (factorise(factor, tangent, damping, 1e-13 * stiffest) < count) {
    if (!convex) {
      convex = true;
      stiffest = assembleTangent(network, structure, actions, at.x, tangent, convex, forces) || 1;
      damping = Math.max(LEAST_DAMPING * stiffest, enough);
    } else damping *= 10;
  }
  const firm = damping === 0 && factor.smallestPivot[0]! > FIRM_PIVOT * stiffest;
  for (let i = 0; i < count; i++) right[i] = -at.gradient[i]!;
  if (forces) engagedOffsets(network, actions, at.x, forces, right);
  layOut(network, place, right, solution);
  solveFactored(factor, solution);
  // A step that's too long everywhere is better damped than cut.
  for (let again = 0; forces && again < MOST_DAMPINGS && farthestMove(solution) > 1.5 * longest; again++) {
    damping = Math.max(4 * damping, Math.min(at.residual, course.loadScale) / longest);
    while (factorise(factor, tangent, damping, 1e-13 * stiffest) < count) damping *= 10;
    layOut(network, place, right, solution);
    solveFactored(factor, solution);
  }
  const slope = boundedStep(network, place, solution, at.gradient, longest, course.step);
  return { slope, farthest: farthestMove(course.step), firm };
}

/** Lay the free part of a right side out by place. */
function layOut(network: Network, place: Int32Array, right: Float64Array, out: Float64Array): void {
  for (let node = 0; node < place.length; node++) {
    const p = 3 * place[node]!;
    const i = 3 * node;
    out[p] = network.fixed[i] ? 0 : right[i]!;
    out[p + 1] = network.fixed[i + 1] ? 0 : right[i + 1]!;
    out[p + 2] = network.fixed[i + 2] ? 0 : right[i + 2]!;
  }
}

/**
 * Bound each node's move, so that a loosely held node can't fly off while the others wait; where the bounded step is no
 * descent any more, the whole step is shortened instead.
 *
 * @param solution the Newton step by place
 * @param step 3n, overwritten with the step by node [m]
 * @returns the slope of Π along the step [J]
 */
function boundedStep(
  network: Network,
  place: Int32Array,
  solution: Float64Array,
  gradient: Float64Array,
  longest: number,
  step: Float64Array,
): number {
  const farthest = farthestMove(solution);
  let fullSlope = 0;
  let slope = 0;
  for (let node = 0; node < place.length; node++) {
    const p = 3 * place[node]!;
    const move = Math.sqrt(solution[p]! ** 2 + solution[p + 1]! ** 2 + solution[p + 2]! ** 2);
    const limit = move > longest ? longest / move : 1;
    for (let axis = 0; axis < 3; axis++) {
      const i = 3 * node + axis;
      const full = network.fixed[i] ? 0 : solution[p + axis]!;
      step[i] = limit * full;
      fullSlope += full * gradient[i]!;
      slope += step[i]! * gradient[i]!;
    }
  }
  if (farthest <= longest) return slope;
  const shortening = longest / farthest;
  if (slope <= shortening * fullSlope) return slope;
  for (let node = 0; node < place.length; node++) {
    const p = 3 * place[node]!;
    for (let axis = 0; axis < 3; axis++) {
      const i = 3 * node + axis;
      step[i] = network.fixed[i] ? 0 : shortening * solution[p + axis]!;
    }
  }
  return shortening * fullSlope;
}

/** Length of the longest of the vectors of three. */
export function farthestMove(moves: Float64Array): number {
  let square = 0;
  for (let i = 0; i < moves.length; i += 3)
    square = Math.max(square, moves[i]! ** 2 + moves[i + 1]! ** 2 + moves[i + 2]! ** 2);
  return Math.sqrt(square);
}
