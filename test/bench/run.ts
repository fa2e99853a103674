/**
 * Benchmarks of the equilibrium solver and the loop plan: `npm run bench`, or some parts of it, `npm run bench -- wings dense`.
 *
 * Every table names what is compared and prints the ratio; alternatives run in turns in the same process. Nothing here
 * passes or fails by a time.
 */
import { solveEquilibrium } from "../../src/geometry/equilibrium.ts";
import type { Equilibrium, WingModel } from "../../src/geometry/model.ts";
import { changedLengths, solveWing, wingStructure } from "../../src/geometry/solve.ts";
import { solveDense } from "./dense.ts";
import { benchLoopPlan } from "./loop-plan.ts";
import { minimise } from "./minimiser.ts";
import { growthExponent, type Task, timeInTurns } from "./timing.ts";
import { demoWings, RIBS_BY_SIZE, wingOfRibs } from "./wings.ts";

/** The change that is solved for: one loop more on a lower front line. */
const CHANGED_LINE = "left:AL1";
const CHANGE_M = -0.01;
/** The solver's own tolerance for wings, over the largest load. */
const TOLERANCE = 1e-8;
/** Tolerances that a general minimiser is asked for, over the largest load, and its most evaluations. */
const MINIMISER_TOLERANCES = [1e-3, 1e-6];
const MOST_EVALUATIONS = 20_000;

const parts: Readonly<Record<string, () => void | Promise<void>>> = {
  wings,
  sizes,
  dense,
  minimiser,
  loops,
};

const models = new Map<number, WingModel>();
function modelOfSize(size: number): WingModel {
  const known = models.get(size) ?? wingOfRibs(RIBS_BY_SIZE[size] as number);
  models.set(size, known);
  return known;
}

/** The demonstration's wings: what the app solves when a line, a strap or a brake changes. */
function wings(): void {
  heading("The demonstration's wings, warm from the specified state");
  const brakes = (model: WingModel): [string, number][] =>
    [...model.lineMember.keys()].filter((key) => key.includes(":BR")).map((key) => [key, -0.07]);
  const every = (model: WingModel): [string, number][] =>
    [...model.lineMember.keys()].map((key, i) => [key, 0.008 * Math.sin(7.3 * i)]);
  const changes: [string, (model: WingModel) => ReadonlyMap<string, number>][] = [
    ["one lower line −10 mm", () => new Map([[CHANGED_LINE, CHANGE_M]])],
    ["every line up to ±8 mm", (model) => new Map(every(model))],
    ["every brake line −70 mm", (model) => new Map(brakes(model))],
  ];
  row("wing", "change", "members", "iterations", "median ms", "least ms", "cpu ms");
  for (const { name, model } of demoWings()) {
    const structure = wingStructure(model);
    const solve = changes.map(([, change]) => {
      const lengths = change(model);
      return () => solveWing(model, lengths, model.specified, structure);
    });
    const timings = timeInTurns(
      solve.map((run, i) => task((changes[i] as [string, unknown])[0], run)),
      15,
    );
    timings.forEach((timing, i) => {
      const state = requireConverged((solve[i] as () => Equilibrium)());
      row(
        name,
        timing.name,
        membersOf(model),
        state.iterations,
        timing.medianMs,
        timing.leastMs,
        timing.leastCpuMs,
      );
    });
  }
}

/** Growth with the wing's size, warm and cold. */
function sizes(): void {
  heading("The school wing with more and more ribs: one lower line −10 mm");
  row(
    "members",
    "nodes",
    "blocks of L",
    "warm it.",
    "warm ms",
    "least",
    "cpu",
    "cold it.",
    "cold ms",
    "least",
    "analysis ms",
    "cold/warm",
  );
  const figures = Object.keys(RIBS_BY_SIZE).map((name) => {
    const model = modelOfSize(Number(name));
    const structure = wingStructure(model);
    const lengths = new Map([[CHANGED_LINE, CHANGE_M]]);
    const unstretched = changedLengths(model, lengths);
    const warm = () => solveWing(model, lengths, model.specified, structure);
    const cold = () =>
      solveEquilibrium(model.network, { unstretched, start: model.drawn, tolerance: TOLERANCE });
    const members = membersOf(model);
    const [warmTime, analysisTime] = timeInTurns(
      [
        task("warm", warm),
        { name: "analysis", run: () => Float64Array.of(wingStructure(model).factor.values.length) },
      ],
      members > 5000 ? 7 : 15,
    );
    const [coldTime] = timeInTurns([task("cold", cold)], members > 2000 ? 3 : 7, 1);
    if (!warmTime || !coldTime || !analysisTime) throw new Error("a timing is missing");
    const warmState = requireConverged(warm());
    const coldState = requireConverged(cold());
    const { size } = structure.factor.pattern;
    row(
      members,
      size,
      structure.factor.starts[size] as number,
      warmState.iterations,
      warmTime.medianMs,
      warmTime.leastMs,
      warmTime.leastCpuMs,
      coldState.iterations,
      coldTime.medianMs,
      coldTime.leastMs,
      analysisTime.medianMs,
      coldTime.medianMs / warmTime.medianMs,
    );
    return { members, warmTime, coldTime, coldIterations: coldState.iterations };
  });
  const members = figures.map((figure) => figure.members);
  const exponent = (cost: (figure: (typeof figures)[number]) => number): string =>
    growthExponent(members, figures.map(cost)).toFixed(2);
  line(
    `Cost grows with members to the power of: warm ${exponent((f) => f.warmTime.medianMs)} (median), ` +
      `${exponent((f) => f.warmTime.leastMs)} (least), ${exponent((f) => f.warmTime.leastCpuMs)} (cpu); ` +
      `cold ${exponent((f) => f.coldTime.medianMs)} (median), ${exponent((f) => f.coldTime.leastMs)} (least), ` +
      `and for one iteration of a cold solve ${exponent((f) => f.coldTime.leastCpuMs / f.coldIterations)} (cpu).`,
  );
}

/** Against the same Newton with a dense factorisation. */
function dense(): void {
  heading("Warm solve against the same Newton with dense factorisations (ml-matrix)");
  row(
    "members",
    "unknowns",
    "ours ms",
    "Cholesky ms",
    "LU ms",
    "Cholesky/ours",
    "LU/ours",
    "farthest apart mm",
  );
  for (const size of [100, 300, 1000]) {
    const model = modelOfSize(size);
    const { network } = model;
    const structure = wingStructure(model);
    const lengths = new Map([[CHANGED_LINE, CHANGE_M]]);
    const unstretched = changedLengths(model, lengths);
    const ours = () => solveWing(model, lengths, model.specified, structure);
    const kinds = ["Cholesky", "LU"] as const;
    const others = kinds.map((kind) => () => solveDense(network, structure, unstretched, TOLERANCE, kind));
    const [own, cholesky, lu] = timeInTurns(
      [
        task("ours", ours),
        ...others.map((run, i) => ({ name: kinds[i] as string, run: () => run().positions })),
      ],
      size > 500 ? 3 : 7,
      2,
    );
    if (!own || !cholesky || !lu) throw new Error("a timing is missing");
    const state = requireConverged(ours());
    const apart = Math.max(...others.map((run) => farthestApart(run().positions, state.positions)));
    row(
      membersOf(model),
      network.fixed.reduce((sum, held) => sum + 1 - held, 0),
      own.medianMs,
      cholesky.medianMs,
      lu.medianMs,
      cholesky.medianMs / own.medianMs,
      lu.medianMs / own.medianMs,
      (1000 * apart).toExponential(1),
    );
  }
}

/** Against a general-purpose minimiser on the same energy and gradient; tolerances are over the largest load. */
function minimiser(): void {
  heading("Warm solve against a general minimiser (fmin, conjugate gradients) asked for the same tolerance");
  row(
    "members",
    "tolerance",
    "ours ms",
    "fmin ms",
    "fmin/ours",
    "evaluations",
    "fmin reaches",
    "fmin off mm",
    "ours off mm",
  );
  for (const size of [100, 300, 1000]) {
    const model = modelOfSize(size);
    const { network } = model;
    const structure = wingStructure(model);
    const unstretched = changedLengths(model, new Map([[CHANGED_LINE, CHANGE_M]]));
    const load = largestLoad(network.loads);
    const solve = (tolerance: number) => () =>
      solveEquilibrium(network, { structure, unstretched, tolerance });
    const exact = requireConverged(solve(1e-10)()).positions;
    for (const tolerance of MINIMISER_TOLERANCES) {
      const ours = solve(tolerance);
      const others = () => minimise(network, structure, unstretched, tolerance * load, MOST_EVALUATIONS);
      const [own, other] = timeInTurns(
        [task("ours", ours), { name: "fmin", run: () => others().positions }],
        tolerance < 1e-4 ? 3 : 7,
        10,
      );
      if (!own || !other) throw new Error("a timing is missing");
      const reached = others();
      row(
        membersOf(model),
        tolerance.toExponential(0),
        own.medianMs,
        other.medianMs,
        other.medianMs / own.medianMs,
        reached.evaluations,
        (reached.residualN / load).toExponential(1),
        1000 * farthestApart(reached.positions, exact),
        (1000 * farthestApart(ours().positions, exact)).toExponential(1),
      );
    }
  }
}

/** The choice of loops against a general mixed-integer solver. */
function loops(): Promise<void> {
  heading(
    "The best loops for every number of changes, against a mixed-integer solver (HiGHS) asked for one number",
  );
  return benchLoopPlan(row);
}

function largestLoad(loads: Float64Array): number {
  let most = 0;
  for (let i = 0; i < loads.length; i += 3) most = Math.max(most, Math.hypot(...loads.subarray(i, i + 3)));
  return most;
}

function task(name: string, solve: () => Equilibrium): Task {
  return { name, run: () => solve().positions };
}

function requireConverged(state: Equilibrium): Equilibrium {
  if (!state.converged) throw new Error(`not balanced after ${state.iterations} iterations`);
  return state;
}

function membersOf(model: WingModel): number {
  return model.network.unstretched.length;
}

function farthestApart(a: Float64Array, b: Float64Array): number {
  return a.reduce((most, value, i) => Math.max(most, Math.abs(value - (b[i] as number))), 0);
}

function heading(text: string): void {
  line("");
  line(text);
}

/** Cells of a table's row; numbers with three figures. */
function row(...cells: readonly (string | number)[]): void {
  const shown = cells.map((cell) =>
    typeof cell === "string" || Number.isInteger(cell) ? String(cell) : cell.toPrecision(3),
  );
  line(shown.map((cell) => cell.padEnd(cell.length > 12 ? 26 : 12)).join(" "));
}

function line(text: string): void {
  process.stdout.write(`${text}\n`);
}

const chosen = process.argv.slice(2);
const strange = chosen.find((name) => !(name in parts));
if (strange !== undefined) {
  process.stderr.write(`There is no part "${strange}"; there are: ${Object.keys(parts).join(", ")}\n`);
  process.exitCode = 1;
} else void runAll();

async function runAll(): Promise<void> {
  for (const [name, run] of Object.entries(parts))
    if (chosen.length === 0 || chosen.includes(name)) await run();
}
