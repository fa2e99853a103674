/**
 * The loop plan against a general solver (HiGHS, compiled to WebAssembly) on the same invented wings, in one run.
 *
 * Ours gives the best plan for every number of changes; the solver is asked for one number, half the lines, to a gap of a
 * millionth, and stopped after a while: then the ratio is a lower bound, marked ">".
 */
import { optimiseLoops } from "../../src/workshop/loop-optimum.ts";
import { poseLoops } from "../../src/workshop/loop-problem.ts";
import { type LoopCase, randomCase } from "../workshop/loop-cases.ts";
import { openSolver, solveMilp } from "../workshop/loop-milp.ts";
import { timeInTurns } from "./timing.ts";

const GAP = 1e-6;
/** [s] */
const SOLVER_STOPS_AFTER = 20;
const SIZES = [10, 60];

/** A wing with so many adjustable lines, each with four states. */
export function benchCase(lines: number, aim: "mean" | "tolerance", symmetry: "same" | "free"): LoopCase {
  const lowersPerRow = Math.ceil(lines / 8);
  const given = randomCase(5, { rows: ["A", "B", "C", "D"], lowersPerRow, states: 4, lines });
  return {
    ...given,
    choices: {
      ...given.choices,
      aim,
      symmetry,
      rowsTogether: false,
      uniformFree: true,
      worthM: 0.005,
      reserveM: 0,
      mostTakeUpM: undefined,
      kinds: new Set(["plain", "turn", "girth", "two-turns"]),
      mayChange: new Set(given.loops.map((line) => line.lineKey)),
      rowWeights: {},
    },
  };
}

export async function benchLoopPlan(row: (...cells: (string | number)[]) => void): Promise<void> {
  const solver = await openSolver();
  row(
    "lines",
    "aim",
    "twins",
    "tables",
    "ours ms",
    "solver ms",
    "solver/ours",
    "costs differ by",
    "checksum",
  );
  for (const lines of SIZES)
    for (const aim of ["mean", "tolerance"] as const)
      for (const symmetry of ["same", "free"] as const) {
        const given = benchCase(lines, aim, symmetry);
        const { wing, deviations, loops, choices } = given;
        const most = Math.round(loops.length / 2);
        const ours = () => optimiseLoops(poseLoops(wing, deviations, loops, choices).problem);
        const [own] = timeInTurns([{ name: "ours", run: () => ours().cost }], 7);
        const answer = ours();
        const begin = performance.now();
        const other = solveMilp(solver, given, most, GAP, SOLVER_STOPS_AFTER);
        const solverMs = performance.now() - begin;
        if (!own) throw new Error("a timing is missing");
        const cost = answer.cost[most] as number;
        row(
          loops.length,
          aim,
          symmetry,
          answer.evaluations,
          own.medianMs,
          solverMs,
          `${other.finished ? "" : ">"}${(solverMs / own.medianMs).toFixed(0)}`,
          other.finished ? ((cost - other.cost) / Math.max(1, cost)).toExponential(1) : "not finished",
          own.checksum,
        );
      }
}
