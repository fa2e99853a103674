/**
 * The choice of loops as a mixed-integer linear problem for a general solver: a binary for each line and state, products of
 * binaries with the shared part c exactly (y = x·c by c's bounds, for binaries no relaxation), the excess as variables, and
 * c² by tangents from below that are added until the plan found is as good as the bound says.
 */
import loadHighs from "highs";
import { excessWeightFor, poseLoops } from "../../src/workshop/loop-problem.ts";
import type { LineLoops, LoopState } from "../../src/workshop/model.ts";
import { type LoopCase, leastCost, leftOf, sharedRange } from "./loop-cases.ts";

export type Solver = Awaited<ReturnType<typeof loadHighs>>;
export const openSolver = (): Promise<Solver> => loadHighs();

export interface MilpAnswer {
  /** Cost of the plan found, and the solver's bound from below [mm²]. */
  readonly cost: number;
  readonly bound: number;
  readonly rounds: number;
  /** False where the solver was stopped by the clock. */
  readonly finished: boolean;
}

/** λ as the plan takes it [mm]; 0 for the aim "mean". */
export function lambdaOf({ wing, deviations, loops, choices }: LoopCase): number {
  if (choices.aim === "mean") return 0;
  return excessWeightFor(poseLoops(wing, deviations, loops, choices).problem);
}

/**
 * @param most changes at most
 * @param stopAfter seconds, for all rounds together
 */
export function solveMilp(
  solver: Solver,
  given: LoopCase,
  most: number,
  gap = 1e-9,
  stopAfter = Number.POSITIVE_INFINITY,
): MilpAnswer {
  const begin = performance.now();
  const { wing, loops, choices } = given;
  const lambda = lambdaOf(given);
  const shared = sharedRange(given);
  const toleranceMm = 1000 * wing.tolerances.pathM;
  const { text, tangentRow, mean } = linearProgram(given, most, lambda, toleranceMm);
  const tangents: number[] = [];
  const addTangent = (at: number): void => {
    if (!tangents.some((known) => Math.abs(known - at) < 1e-9)) tangents.push(at);
  };
  for (const at of [-8, -4, -2, -1, 0, 1, 2, 4, 8]) addTangent(at);
  let cost = Number.POSITIVE_INFINITY;
  for (let rounds = 1; ; rounds++) {
    const solution = solver.solve(text(tangents.map(tangentRow)), {
      output_flag: false,
      time_limit: Math.max(0.1, stopAfter - (performance.now() - begin) / 1000),
      mip_rel_gap: gap / 10,
      mip_abs_gap: 0,
      mip_feasibility_tolerance: 1e-9,
      primal_feasibility_tolerance: 1e-9,
      dual_feasibility_tolerance: 1e-9,
    });
    if (solution.Status === "Time limit reached")
      return { cost, bound: Number.NEGATIVE_INFINITY, rounds, finished: false };
    if (solution.Status !== "Optimal") throw new Error(`The solver ended with ${solution.Status}.`);
    const primal = (name: string): number =>
      (solution.Columns[name] as { Primal: number } | undefined)?.Primal ?? 0;
    const states = loops.map((line, i) =>
      line.states.reduce((at, _, s) => (primal(`x${i}_${s}`) > primal(`x${i}_${at}`) ? s : at), 0),
    );
    const { left, weights, unlike } = leftOf(given, states);
    cost = Math.min(cost, leastCost(left, weights, toleranceMm, lambda, shared) + unlike);
    const bound = solution.ObjectiveValue * (lambda > 0 ? lambda : 1);
    if (!choices.uniformFree || cost - bound <= gap * Math.max(1, cost) || rounds >= 30)
      return { cost, bound, rounds, finished: true };
    const total = weights.reduce((sum, weight) => sum + weight, 0);
    addTangent(primal("c"));
    addTangent(left.reduce((sum, value, i) => sum + (weights[i] as number) * (value - mean), 0) / total);
  }
}

function linearProgram(given: LoopCase, most: number, lambda: number, toleranceMm: number) {
  const { deviations, loops, choices } = given;
  const read = loops.map((line) =>
    line.tabs.filter((tab) => deviations.paths[tab]?.deviationM !== undefined),
  );
  const e = (tab: number): number => 1000 * (deviations.paths[tab]?.deviationM as number);
  const values = read.flat().map(e);
  // Counted from the mean where the shared part is free: the same problem, with smaller figures.
  const mean =
    choices.uniformFree && values.length > 0 ? values.reduce((a, b) => a + b, 0) / values.length : 0;
  // In units of λ where there is one, so that the solver's own tolerances stay below what counts.
  const unit = lambda > 0 ? lambda : 1;
  const objective: string[] = [];
  const rows: string[] = [];
  const bounds: string[] = [];
  const binaries: string[] = [];
  const term = (coefficient: number, name: string): string =>
    `${coefficient < 0 ? "-" : "+"} ${Math.abs(coefficient)} ${name}`;
  const shift = (line: LineLoops, s: number): number =>
    1000 * ((line.states[line.present] as LoopState).takeUpM - (line.states[s] as LoopState).takeUpM);
  const [least, largest] = sharedRange(given);
  const [low, high] = [least - mean, largest - mean];
  bounds.push(`${low} <= c <= ${high}`);
  let total = 0;
  loops.forEach((line, i) => {
    const weight = choices.rowWeights[line.row] ?? 1;
    const tabs = read[i] as number[];
    total += weight * tabs.length;
    rows.push(`${line.states.map((_, s) => `+ x${i}_${s}`).join(" ")} = 1`);
    line.states.forEach((end, s) => {
      binaries.push(`x${i}_${s}`);
      const d = tabs.map((tab) => e(tab) - mean + shift(line, s));
      objective.push(term(d.reduce((sum, value) => sum + weight * value * value, 0) / unit, `x${i}_${s}`));
      if (choices.uniformFree && tabs.length > 0) {
        objective.push(term((-2 * weight * d.reduce((sum, value) => sum + value, 0)) / unit, `y${i}_${s}`));
        bounds.push(`y${i}_${s} free`);
        rows.push(
          `y${i}_${s} ${term(-low, `x${i}_${s}`)} >= 0`,
          `y${i}_${s} ${term(-high, `x${i}_${s}`)} <= 0`,
        );
      }
      const allowed =
        s === line.present ||
        (choices.mayChange.has(line.lineKey) &&
          choices.kinds.has(end.kind.id) &&
          end.takeUpM >= choices.reserveM &&
          end.takeUpM <= (choices.mostTakeUpM ?? 1));
      if (!allowed) rows.push(`x${i}_${s} = 0`);
    });
    if (choices.uniformFree && tabs.length > 0)
      rows.push(`${line.states.map((_, s) => `+ y${i}_${s}`).join(" ")} - c = 0`);
    if (lambda > 0)
      tabs.forEach((tab, t) => {
        objective.push(term(lambda / unit, `u${i}_${t}`));
        const moved = line.states.map((_, s) => term(shift(line, s), `x${i}_${s}`)).join(" ");
        const back = line.states.map((_, s) => term(-shift(line, s), `x${i}_${s}`)).join(" ");
        rows.push(`u${i}_${t} ${back} + c >= ${e(tab) - mean - toleranceMm}`);
        rows.push(`u${i}_${t} ${moved} - c >= ${mean - e(tab) - toleranceMm}`);
      });
  });
  rows.push(`${loops.map((line, i) => `+ x${i}_${line.present}`).join(" ")} >= ${loops.length - most}`);
  if (choices.rowsTogether) inStep(given, rows, binaries);
  twins(given, rows, binaries, objective, unit);
  if (choices.uniformFree) {
    objective.push(term(total / unit, "z"));
    bounds.push("z >= 0");
  }
  const text = (tangents: readonly string[]): string =>
    [
      "Minimize",
      ` cost: ${objective.join("\n ")}`,
      "Subject To",
      ...[...rows, ...(choices.uniformFree ? tangents : [])].map((row, i) => ` r${i}: ${row}`),
      "Bounds",
      ...bounds.map((bound) => ` ${bound}`),
      "Binaries",
      ` ${binaries.join(" ")}`,
      "End",
    ].join("\n");
  return { text, mean, tangentRow: (at: number) => `z ${term(-2 * at, "c")} >= ${-at * at}` };
}

function inStep({ loops, choices }: LoopCase, rows: string[], binaries: string[]): void {
  const names = new Set<string>();
  loops.forEach((line, i) => {
    if (!choices.mayChange.has(line.lineKey)) return;
    const name = choices.symmetry === "free" ? `${line.row}${line.side}` : line.row;
    for (let by = -4; by <= 4; by++) {
      const step = `q${name}_${by + 4}`;
      names.add(step);
      const s = line.present + by;
      rows.push(line.states[s] === undefined ? `${step} = 0` : `x${i}_${s} - ${step} = 0`);
    }
  });
  binaries.push(...names);
}

function twins(
  { loops, choices }: LoopCase,
  rows: string[],
  binaries: string[],
  objective: string[],
  unit: number,
): void {
  if (choices.symmetry === "free" || (choices.symmetry === "same" && choices.rowsTogether)) return;
  loops.forEach((line, i) => {
    const j = loops.findIndex((other) => other.lineKey === line.mirrorKey);
    const other = loops[j];
    if (other === undefined || j < i) return;
    // Whether the pair ends in unlike kinds: at a cost, or only where both stay.
    binaries.push(`v${i}`);
    if (choices.symmetry === "prefer") objective.push(`+ ${(1000 * choices.worthM) ** 2 / unit} v${i}`);
    else rows.push(`v${i} - x${i}_${line.present} <= 0`, `v${i} - x${j}_${other.present} <= 0`);
    line.states.forEach((end, s) => {
      const same = other.states.findIndex((state) => state.kind.id === end.kind.id);
      rows.push(`x${i}_${s} - x${j}_${same} - v${i} <= 0`, `x${j}_${same} - x${i}_${s} - v${i} <= 0`);
    });
  });
}
