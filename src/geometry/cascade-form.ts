/**
 * The shape of one cascade of taut lines under the pulls of its tabs.
 *
 * For plans that are made and not measured: tabs and loads are given, the junctions are sought and the lengths follow. Such a
 * cascade is in equilibrium as it stands: at every junction the pulls of the lines above add up to one along the line below.
 */
import { LuDecomposition, Matrix } from "ml-matrix";
import { add, distance, dot, type ReadonlyVector, type Vector } from "./vector.ts";

/** A cascade as index arrays: lines from below upwards, each after the one that it hangs on. */
export interface CascadeTree {
  /** For each line the index of the line that it hangs on, or −1 at the root point. */
  readonly hangsOn: readonly number[];
  /** For each line the index of the tab at its upper end, or −1 where other lines hang on it. */
  readonly tab: readonly number[];
  /** For each line that carries others the length it shall have [m]; not looked at for a line that ends at a tab. */
  readonly wantedM: readonly number[];
}

/** A formed cascade, line by line. */
export interface CascadeForm {
  readonly converged: boolean;
  readonly iterations: number;
  /** Largest out-of-balance force at a junction [N]. */
  readonly residualN: number;
  /** Each line's upper end: a junction or its tab [m]. */
  readonly upperEnds: readonly Vector[];
  readonly lengthsM: readonly number[];
  readonly tensionsN: readonly number[];
}

const MOST_ITERATIONS = 60;

/**
 * Junctions of a cascade of straight lines in equilibrium.
 *
 * Each tab's line pulls so hard that its component along the tab's load is the load; what is square to it the canopy takes along
 * its surface. Lines that carry others get the wanted length, lines that end at a tab the length that reaches it.
 *
 * Newton on all junctions and the inner lines' tensions together: for every inner line the balance of forces at its upper end and
 * its length. A tab's pull p·d/(d·n), with d from junction to tab and n the load's direction, needs no length and no tension.
 *
 * @param tabPositions by tab [m]
 * @param tabForces by tab [N]: the load, pulling away from the root
 * @param rootPosition of the maillon, carabiner or pulley [m]
 * @returns `converged: false` where no such shape was found, for instance where a wanted length reaches past the tabs
 * @throws RangeError where the arrays don't describe a tree, or a wanted length isn't above 0
 */
export function formCascade(
  tree: CascadeTree,
  tabPositions: readonly ReadonlyVector[],
  tabForces: readonly ReadonlyVector[],
  rootPosition: ReadonlyVector,
): CascadeForm {
  requireTree(tree, tabPositions.length, tabForces.length);
  const { hangsOn, tab, wantedM } = tree;
  const lines = hangsOn.map((_, line) => line);
  const inner = lines.filter((line) => tab[line] === -1);
  const unknownOf = new Map(inner.map((line, order) => [line, 4 * order]));
  const size = 4 * inner.length;

  // Unknowns per inner line: its upper end and its tension.
  let x: Float64Array = straightUp(tree, tabPositions, tabForces, rootPosition);
  const upperEnd = (from: Float64Array, line: number): ReadonlyVector => {
    const k = unknownOf.get(line);
    if (k === undefined) return tabPositions[tab[line] as number] as ReadonlyVector;
    return [from[k] as number, from[k + 1] as number, from[k + 2] as number];
  };
  const lowerEnd = (from: Float64Array, line: number): ReadonlyVector => {
    const below = hangsOn[line] as number;
    return below < 0 ? rootPosition : upperEnd(from, below);
  };
  const forceScale = Math.max(
    ...inner.map((line) => x[(unknownOf.get(line) as number) + 3] as number),
    1e-12,
  );

  /** Out-of-balance force over the largest tension, and length errors [m], in the unknowns' order; the tangent where asked for. */
  const assemble = (from: Float64Array, tangent?: Matrix): Float64Array => {
    const residual = new Float64Array(size);
    const put = (row: number, column: number, value: number) => {
      if (tangent) tangent.set(row, column, tangent.get(row, column) + value);
    };
    for (const line of lines) {
      const span = add(upperEnd(from, line), lowerEnd(from, line), -1);
      const length = Math.hypot(...span);
      const own = unknownOf.get(line);
      const below = unknownOf.get(hangsOn[line] as number);
      let pull: Vector;
      // ∂pull/∂span, row by row.
      let stiffness: readonly Vector[];
      if (own === undefined) {
        const load = tabForces[tab[line] as number] as ReadonlyVector;
        const size2 = dot(load, load);
        const along = dot(span, load);
        const factor = size2 === 0 ? 0 : size2 / along;
        pull = [factor * span[0], factor * span[1], factor * span[2]];
        stiffness = [0, 1, 2].map((a) => {
          const row: Vector = [0, 0, 0];
          for (let b = 0; b < 3; b++) {
            const slope = size2 === 0 ? 0 : ((span[a] as number) * (load[b] as number)) / along;
            row[b] = factor * ((a === b ? 1 : 0) - slope);
          }
          return row;
        });
      } else {
        const tension = from[own + 3] as number;
        pull = [(tension * span[0]) / length, (tension * span[1]) / length, (tension * span[2]) / length];
        stiffness = [0, 1, 2].map((a) => {
          const row: Vector = [0, 0, 0];
          for (let b = 0; b < 3; b++) {
            const along = ((span[a] as number) * (span[b] as number)) / (length * length);
            row[b] = (tension / length) * ((a === b ? 1 : 0) - along);
          }
          return row;
        });
        residual[own + 3] = length - (wantedM[line] as number);
      }
      for (let a = 0; a < 3; a++) {
        const unit = (span[a] as number) / length;
        if (own !== undefined) {
          // The line draws its upper end down.
          residual[own + a] = (residual[own + a] as number) - (pull[a] as number) / forceScale;
          put(own + a, own + 3, -unit / forceScale);
          put(own + 3, own + a, unit);
        }
        if (below !== undefined) {
          residual[below + a] = (residual[below + a] as number) + (pull[a] as number) / forceScale;
          if (own !== undefined) {
            put(below + a, own + 3, unit / forceScale);
            put(own + 3, below + a, -unit);
          }
        }
        for (let b = 0; b < 3; b++) {
          const k = ((stiffness[a] as Vector)[b] as number) / forceScale;
          if (own !== undefined) put(own + a, own + b, -k);
          if (own !== undefined && below !== undefined) put(own + a, below + b, k);
          if (below !== undefined && own !== undefined) put(below + a, own + b, k);
          if (below !== undefined) put(below + a, below + b, -k);
        }
      }
    }
    return residual;
  };

  let residual = assemble(x);
  let iterations = 0;
  while (largest(residual) > 1e-13 && iterations < MOST_ITERATIONS) {
    iterations++;
    const tangent = Matrix.zeros(size, size);
    assemble(x, tangent);
    const lu = new LuDecomposition(tangent);
    if (lu.isSingular()) break;
    const step = lu.solve(Matrix.columnVector(residual)).getColumn(0);
    const before = Math.hypot(...residual);
    let factor = 1;
    let better = false;
    for (; factor > 1e-4; factor /= 2) {
      const tried = x.map((value, k) => value - factor * (step[k] as number));
      const triedResidual = assemble(tried);
      if (Math.hypot(...triedResidual) < before) {
        x = tried;
        residual = triedResidual;
        better = true;
        break;
      }
    }
    if (!better) break;
  }

  const forces = residual.filter((_, k) => k % 4 !== 3);
  const tensionsN = lines.map((line) => {
    const own = unknownOf.get(line);
    if (own !== undefined) return x[own + 3] as number;
    const load = tabForces[tab[line] as number] as ReadonlyVector;
    const span = add(upperEnd(x, line), lowerEnd(x, line), -1);
    const size2 = dot(load, load);
    return size2 === 0 ? 0 : (size2 * Math.hypot(...span)) / dot(span, load);
  });
  return {
    // Newton ends at rounding, a little above or below its aim; a line that would have to push is no shape of lines.
    converged: largest(residual) < 1e-10 && tensionsN.every((tension) => tension >= 0),
    iterations,
    residualN: largest(forces) * forceScale,
    upperEnds: lines.map((line) => [...upperEnd(x, line)] as Vector),
    lengthsM: lines.map((line) => distance(upperEnd(x, line), lowerEnd(x, line))),
    tensionsN,
  };
}

function largest(values: Float64Array): number {
  return values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
}

/** First guess: every inner line points from its lower end at the load-weighted middle of the tabs above it and carries their loads' sum. */
function straightUp(
  tree: CascadeTree,
  tabPositions: readonly ReadonlyVector[],
  tabForces: readonly ReadonlyVector[],
  rootPosition: ReadonlyVector,
): Float64Array {
  const { hangsOn, tab, wantedM } = tree;
  const sums = hangsOn.map(() => ({ load: 0, moment: [0, 0, 0] as Vector }));
  for (let line = hangsOn.length - 1; line >= 0; line--) {
    const sum = sums[line] as { load: number; moment: Vector };
    const own = tab[line] as number;
    if (own >= 0) {
      sum.load = Math.hypot(...(tabForces[own] as ReadonlyVector));
      sum.moment = add([0, 0, 0], tabPositions[own] as ReadonlyVector, sum.load);
    }
    const below = sums[hangsOn[line] as number];
    if (below) {
      below.load += sum.load;
      below.moment = add(below.moment, sum.moment);
    }
  }
  const ends = new Map<number, ReadonlyVector>([[-1, rootPosition]]);
  const start: number[] = [];
  hangsOn.forEach((below, line) => {
    if (tab[line] !== -1) return;
    const sum = sums[line] as { load: number; moment: Vector };
    const from = ends.get(below) as ReadonlyVector;
    const middle = add([0, 0, 0], sum.moment, 1 / (sum.load || 1));
    const way = add(middle, from, -1);
    const end = add(from, way, (wantedM[line] as number) / Math.hypot(...way));
    ends.set(line, end);
    start.push(...end, sum.load);
  });
  return Float64Array.from(start);
}

function requireTree(tree: CascadeTree, tabs: number, forces: number): void {
  const { hangsOn, tab, wantedM } = tree;
  if (tab.length !== hangsOn.length || wantedM.length !== hangsOn.length || forces !== tabs) {
    throw new RangeError(
      `Got ${hangsOn.length} lines, ${tab.length} upper ends, ${wantedM.length} wanted lengths, ${tabs} tabs and ${forces} loads when expected as many of each kind.`,
    );
  }
  hangsOn.forEach((below, line) => {
    if (!(Number.isInteger(below) && below >= -1 && below < line)) {
      throw new RangeError(`Line ${line} hangs on ${below} when expected an earlier line or −1.`);
    }
    if (below >= 0 && tab[below] !== -1)
      throw new RangeError(`Line ${line} hangs on line ${below}, which ends at a tab.`);
    const own = tab[line] as number;
    if (!(Number.isInteger(own) && own >= -1 && own < tabs)) {
      throw new RangeError(`Line ${line} ends at tab ${own} when expected −1 to ${tabs - 1}.`);
    }
    if (own === -1 && !((wantedM[line] as number) > 0)) {
      throw new RangeError(`Line ${line} shall be ${wantedM[line]} m long when expected above 0.`);
    }
    if (own === -1 && !hangsOn.includes(line)) throw new RangeError(`Line ${line} carries nothing.`);
  });
}
