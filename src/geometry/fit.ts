/**
 * Fit the canopy's outline and its place over the carabiners so that the model's path lengths come out as the plan's,
 * with weak priors for what the plan doesn't say.
 *
 * The outline is a mirror image of itself, so both sides of a plan have a say in one half. How far the paths may stand
 * from a smooth outline is estimated along with it: a plan that no such canopy fits leaves the typical values in charge
 * and says so in the deviations, instead of bending the outline to it.
 */
import type { Wing } from "../plan/model.ts";
import { withSplit } from "./assumed-split.ts";
import { fitProblem } from "./fit-problem.ts";
import { assumedRows, fitFigures, fitQuantities, type Quantity } from "./fit-quantities.ts";
import { mixedParameters, parametersOf, type Solved } from "./fit-report.ts";
import { figureOf, fractionOf, offsetOf, outlineOf, splitOf, type Values, valuesOf } from "./fit-values.ts";
import { type Cascade, cascadeOf, type LaidOut, layOut } from "./lay-out.ts";
import { type LeastSquares, leastSquares } from "./levenberg.ts";
import type { FitReport, FittedParameter } from "./model.ts";
import { type OutlineParameters, pointOnRib, type RibFrame, ribFrame } from "./outline.ts";
import { sectionHeight } from "./section.ts";
import {
  attachedStations,
  cellsKnown,
  outermostSigma,
  possibleCells,
  type Station,
  tributaryWidth,
  usualOutermost,
} from "./stations.ts";
import type { ReadonlyVector, Vector } from "./vector.ts";

export { isMirrored } from "./fit-problem.ts";

/**
 * Spreads of the paths about the outline that the fit starts with, one after the other [m]: at first the typical values
 * rule and only size and height follow the paths, so that a far-off shape that fits by chance isn't walked into.
 */
const STARTING_SPREADS = [0.1, 0.02];
/** Rounds of estimating the spread. */
const SPREAD_ROUNDS = 3;
/** What the spread usually is, and how many paths that knowledge is worth; a sheet's millimetres alone make the least [m]. */
const USUAL_SPREAD = 0.003;
const USUAL_SPREAD_WORTH = 4;
const LEAST_SPREAD = 0.0005;

export interface FittedCanopy {
  readonly outline: OutlineParameters;
  /** Added to every outline point so that the middle of the carabiners is the origin [m]. */
  readonly offset: ReadonlyVector;
  readonly frames: readonly RibFrame[];
  /** Chord fraction per tab, in the wing's order. */
  readonly fractions: Float64Array;
  /** Tab positions before the resultant is turned upright, in the wing's tab order [m]. */
  readonly tabs: readonly Vector[];
  /** Relative load per tab; 0 at the brakes. */
  readonly weights: Float64Array;
  readonly laidOut: LaidOut;
  readonly report: Omit<FitReport, "largestRemainderM">;
}

/**
 * The canopy that fits a wing's paths and figures best: maximum a posteriori, deviations from the curvature there.
 *
 * @param stations of the wing, see `attachedStations`: the ribs stand where these have them
 */
export function fitCanopy(wing: Wing, cascade: Cascade, stations: readonly Station[]): FittedCanopy {
  const solved = solveFit(wing, cascade, stations);
  return finishFit(wing, cascade, stations, solved, parametersOf(solved));
}

export interface FittedWing {
  /** The wing as given, but for lengths that the plan leaves to the totals: these are divided as the paths suggest. */
  readonly wing: Wing;
  readonly cells: number;
  readonly stations: readonly Station[];
  readonly fitted: FittedCanopy;
}

/**
 * As `fitCanopy`, with the number of cells, and so the ribs' places, found too where the plan doesn't tell it: each that
 * may be is fitted, the most probable taken, and the deviations count in how far the others' values are from it.
 */
export function fitWing(wing: Wing, cascade: Cascade): FittedWing {
  const usual = usualOutermost(wing);
  let first: Solved | undefined;
  const tried = possibleCells(wing).map((cells) => {
    const stations = attachedStations(wing, cells);
    const solved = solveFit(wing, cascade, stations, first);
    first ??= solved;
    const outermost = outermostSigma(wing, cells);
    const badness = solved.badness + ((outermost - usual.mean) / usual.deviation) ** 2;
    return { cells, stations, solved, outermost, badness, parameters: parametersOf(solved) };
  });
  const best = tried.reduce((a, b) => (b.badness < a.badness ? b : a));
  const parameters = cellsKnown(wing) ? best.parameters : mixedParameters(tried, best, usual);
  const fitted = finishFit(wing, cascade, best.stations, best.solved, parameters);
  return {
    wing: withSplit(wing, splitOf(best.solved.values)),
    cells: best.cells,
    stations: best.stations,
    fitted,
  };
}

function finishFit(
  wing: Wing,
  cascade: Cascade,
  stations: readonly Station[],
  solved: Solved,
  parameters: readonly FittedParameter[],
): FittedCanopy {
  const divided = withSplit(wing, splitOf(solved.values));
  const hung = divided === wing ? cascade : cascadeOf(divided);
  const placed = placeCanopy(wing, hung, stations, solved.values, solved.shares);
  const fitted = wing.tabs.map((tab) => tab.row !== "brake");
  const misfitM = placed.laidOut.misfitM.map((misfit, i) => (fitted[i] ? misfit : 0));
  const count = fitted.filter(Boolean).length;
  const rmsMisfitM = Math.sqrt(misfitM.reduce((sum, m) => sum + m * m, 0) / Math.max(1, count));
  return { ...placed, report: { parameters, misfitM, rmsMisfitM } };
}

/** @param near a fit of the same wing with its ribs a little elsewhere, to start from */
function solveFit(wing: Wing, cascade: Cascade, stations: readonly Station[], near?: Solved): Solved {
  const quantities = fitQuantities(wing, stations);
  const figures = fitFigures(wing, quantities);
  const free = quantities.filter((q) => q.given === undefined);
  const problem = fitProblem(wing, cascade, stations, assumedRows(stations));
  const paths = problem.counted.length;
  const residuals = new Float64Array(paths + figures.length + free.length);
  const residualsAt =
    (spread: number) =>
    (freeValues: readonly number[]): Float64Array => {
      const values = valuesOf(quantities, freeValues);
      const outline = problem.misfits(values);
      problem.counted.forEach((tab, i) => {
        residuals[i] = (problem.misfitM[tab] as number) / spread;
      });
      figures.forEach((figure, i) => {
        residuals[paths + i] = (figureOf(values, outline, figure) - figure.value) / figure.deviation;
      });
      free.forEach((q, i) => {
        residuals[paths + figures.length + i] = ((freeValues[i] as number) - q.mean) / q.deviation;
      });
      return residuals;
    };

  let start: readonly number[] = free.map((q) => near?.values.get(q.name) ?? q.mean);
  const solve = (spread: number, tolerance: number): LeastSquares => {
    problem.shareLoads(valuesOf(quantities, start));
    const solution = leastSquares(
      free.map((q, i) => ({ start: start[i] as number, lower: q.lower, upper: q.upper, scale: q.deviation })),
      residualsAt(spread),
      { tolerance },
    );
    start = solution.values;
    return solution;
  };
  for (const wide of near ? STARTING_SPREADS.slice(-1) : STARTING_SPREADS) solve(wide, 1e-2);
  let spread = near?.spread ?? USUAL_SPREAD;
  let solution = solve(spread, 1e-4);
  for (let round = 0; round < SPREAD_ROUNDS; round++) {
    const before = spread;
    spread = estimatedSpread(solution, spread, paths, free, problem.inCommon);
    solution = solve(spread, 1e-7);
    if (Math.abs(spread / before - 1) < 0.02) break;
  }
  const values = valuesOf(quantities, solution.values);
  problem.shareLoads(values);
  const badness = solution.cost + 2 * paths * Math.log(spread);
  return { quantities, free, values, solution, spread, badness, shares: problem.shares };
}

/**
 * Spread of the paths about the outline [m]: their mean square over what the free quantities leave free, together with what
 * is usual. A quantity that the prior holds uses up no path: trace of the covariance over the prior's.
 *
 * @param inCommon how many paths share one error: as many as a lower line carries where the lengths of its lines are assumed
 */
function estimatedSpread(
  solution: LeastSquares,
  spread: number,
  paths: number,
  free: readonly Quantity[],
  inCommon: number,
): number {
  let sum = 0;
  for (let i = 0; i < paths; i++) sum += ((solution.residuals[i] as number) * spread) ** 2;
  const used = free.reduce((total, q, i) => {
    const variance = solution.covariance?.get(i, i) ?? 0;
    return total + Math.max(0, 1 - variance / q.deviation ** 2);
  }, 0);
  const square =
    (sum + USUAL_SPREAD_WORTH * USUAL_SPREAD ** 2) / Math.max(1, paths - used + USUAL_SPREAD_WORTH);
  return Math.max(LEAST_SPREAD, Math.sqrt(square * inCommon));
}

/** Everything that follows from one set of values, on both sides and with the brakes. */
function placeCanopy(
  wing: Wing,
  cascade: Cascade,
  stations: readonly Station[],
  values: Values,
  shares: Float64Array,
): Omit<FittedCanopy, "report"> {
  const outline = outlineOf(values);
  const offset = offsetOf(values, outline);
  const frames = stations.map((station) => {
    const frame = ribFrame(outline, station.sigma);
    const [x, y, z] = frame.origin;
    return { ...frame, origin: [x + offset[0], y + offset[1], z + offset[2]] as const };
  });
  const fractions = new Float64Array(wing.tabs.length);
  const weights = new Float64Array(wing.tabs.length);
  const tabs: Vector[] = new Array(wing.tabs.length);
  const normals: ReadonlyVector[] = new Array(wing.tabs.length);
  stations.forEach((station, s) => {
    const frame = frames[s] as RibFrame;
    const area = frame.chordM * tributaryWidth(stations, s) * outline.flatHalfSpanM;
    for (const tab of station.tabs) {
      const fraction = fractionOf(tab, values);
      fractions[tab.tab] = fraction;
      tabs[tab.tab] = pointOnRib(frame, fraction, sectionHeight(fraction, "lower"));
      normals[tab.tab] = frame.normal;
      weights[tab.tab] = tab.row === "brake" ? 0 : area * (shares[tab.tab] as number);
    }
  });
  const laidOut = layOut(cascade, tabs, weights, normals);
  return { outline, offset, frames, fractions, tabs, weights, laidOut };
}
