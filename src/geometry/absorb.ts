/** The specified state: the plan's line lengths, the fitted outline's fabric, one equilibrium. */
import type { Side, Wing } from "../plan/model.ts";
import type { Skeleton } from "./assemble.ts";
import { bendCurvature, memberLength } from "./energy.ts";
import { solveEquilibrium } from "./equilibrium.ts";
import { type FabricOptions, fabricBends } from "./fabric.ts";
import type { Bends, Equilibrium, Network } from "./model.ts";
import { analyseNetwork, type NetworkStructure } from "./structure.ts";
import { add, at, distance, dot, put } from "./vector.ts";

/** Rounds in which the fabric's rest lengths follow the fitted canopy. */
const ABSORBING_ROUNDS = 8;
/** Most rounds in which lines left slack are given something to carry. */
const LIFTING_ROUNDS = 40;
/** Every line but the brakes' carries at least about this at the specified state [N]. */
const LEAST_TENSION = 0.5;

/**
 * Find the specified state. The lines keep the plan's lengths and so set where each tab stands along the canopy's
 * normal; the fabric keeps the fitted outline in the canopy's surface. So the fabric's target follows the tabs along the
 * normal, and its rest lengths are led to it by augmented Lagrangian rounds, then fixed so that its forces balance
 * exactly; the bends rest in the shape found.
 */
export function absorb(
  wing: Wing,
  skeleton: Skeleton,
  fabric: FabricOptions,
  drawn: Float64Array,
  fixed: Uint8Array,
  loads: Float64Array,
  normals: Float64Array,
  brakeOffsetM: ReadonlyMap<Side, number>,
): { network: Network; specified: Equilibrium; structure: NetworkStructure } {
  const { members } = skeleton;
  const ends = Int32Array.from(members.flatMap((member) => member.ends));
  const bars = Uint8Array.from(members, (member) => (member.bar ? 1 : 0));
  const tension = wing.reference.tensionN;
  const brakeMain = new Map(
    wing.lines
      .filter((line) => line.hangsOn.kind === "pulley")
      .map((line) => [line.key, brakeOffsetM.get(line.side) ?? 0]),
  );
  const unstretched = Float64Array.from(members, (member, m) =>
    member.referenceLengthM === undefined
      ? memberLength(ends, m, drawn)
      : unstretchedLength(
          member.referenceLengthM + (brakeMain.get(member.lineKey ?? "") ?? 0),
          member.stiffnessN,
          tension,
          member.kind,
        ),
  );
  const stiffness = Float64Array.from(members, (member) => member.stiffnessN);
  const { bends, trailing } = makeBends(skeleton, fabric, drawn, normals);
  const soft: Bends = { ...bends, stiffness: bends.stiffness.map((k, b) => (trailing[b] ? k : 0.02 * k)) };
  const network: Network = {
    positions: drawn,
    fixed,
    loads,
    ends,
    bars,
    unstretched,
    stiffness,
    bends: soft,
  };
  const structure = analyseNetwork(network);

  const lifted = Float64Array.from(loads);
  let state = solveEquilibrium(network, { structure, tolerance: 1e-5 });
  let lifting = true;
  for (let round = 1; round < ABSORBING_ROUNDS || (lifting && round < LIFTING_ROUNDS); round++) {
    const target = alongNormals(drawn, state.positions, normals);
    for (let m = 0; m < members.length; m++)
      if (bars[m])
        unstretched[m] =
          memberLength(ends, m, target) /
          (1 + boundedStrain(state.tensionsN[m] as number, stiffness[m] as number));
    lifting = liftSlackTabs(wing, skeleton, state, normals, lifted);
    state = solveEquilibrium(network, {
      structure,
      unstretched,
      loads: lifted,
      start: state.positions,
      tolerance: 1e-5,
    });
  }
  // The rest curvature that leaves each bend's moment as it was found, now with its whole stiffness.
  const shape: Network = { ...network, bends };
  const resting: Bends = {
    ...bends,
    rest: bends.rest.map((drawnCurvature, b) => {
      const curvature = bendCurvature(shape, b, state.positions);
      const kept = (soft.stiffness[b] as number) / (bends.stiffness[b] as number);
      return curvature - kept * (curvature - drawnCurvature);
    }),
  };
  const settled: Network = { ...network, unstretched, loads: lifted, bends: resting };
  const specified = solveEquilibrium(settled, { structure, start: state.positions });
  return { network: { ...settled, positions: specified.positions }, specified, structure };
}

/**
 * A line of the plan that the assumed loads leave slack carries something in truth, or it wouldn't be there: its tabs are
 * pulled a little more, until it's taut.
 *
 * @param loads 3n, changed in place [N]
 * @returns whether any was
 */
function liftSlackTabs(
  wing: Wing,
  skeleton: Skeleton,
  state: Equilibrium,
  normals: Float64Array,
  loads: Float64Array,
): boolean {
  let lifted = false;
  wing.paths.forEach((path, tab) => {
    if (path.row === "brake") return;
    const weakest = Math.min(
      ...path.lineKeys.map((key) => state.tensionsN[skeleton.lineMember.get(key) as number] as number),
    );
    if (weakest >= LEAST_TENSION) return;
    lifted = true;
    const node = skeleton.tabNode[tab] as number;
    const normal = at(normals, node);
    for (let axis = 0; axis < 3; axis++)
      loads[3 * node + axis] = (loads[3 * node + axis] as number) + LEAST_TENSION * (normal[axis] as number);
  });
  return lifted;
}

/** The drawn canopy moved along its normals to where the solved tabs stand. */
function alongNormals(drawn: Float64Array, solved: Float64Array, normals: Float64Array): Float64Array {
  const target = Float64Array.from(drawn);
  for (let node = 0; node < drawn.length / 3; node++) {
    const normal = at(normals, node);
    const a = at(drawn, node);
    put(target, node, add(a, normal, dot(add(at(solved, node), a, -1), normal)));
  }
  return target;
}

/** Rest lengths are never more than a fifth away from the present ones: fabric that would have to be isn't carrying so. */
function boundedStrain(forceN: number, stiffnessN: number): number {
  return Math.max(-0.2, Math.min(0.25, forceN / stiffnessN));
}

/** L0 = L_ref / (1 + T_ref/EA); a strap's length is stated as it lies. */
export function unstretchedLength(
  referenceM: number,
  stiffnessN: number,
  tensionN: number,
  kind: "line" | "riser" | "fabric",
): number {
  return kind === "line" ? referenceM / (1 + tensionN / stiffnessN) : referenceM;
}

function makeBends(
  skeleton: Skeleton,
  fabric: FabricOptions,
  positions: Float64Array,
  normals: Float64Array,
): { bends: Bends; trailing: readonly boolean[] } {
  const list = fabricBends(skeleton.canopy, fabric);
  const nodes = Int32Array.from(list.flatMap((bend) => bend.nodes));
  const weights = new Float64Array(3 * list.length);
  const directions = new Float64Array(3 * list.length);
  const stiffness = new Float64Array(list.length);
  list.forEach((bend, b) => {
    const [n0, n1, n2] = bend.nodes;
    const h1 = Math.max(0.02, distance(at(positions, n0), at(positions, n1)));
    const h2 = Math.max(0.02, distance(at(positions, n1), at(positions, n2)));
    // Second difference on uneven spacing: κ = 2/(h1+h2)·((u2−u1)/h2 − (u1−u0)/h1).
    const scale = 2 / (h1 + h2);
    weights.set([scale / h1, -scale / h1 - scale / h2, scale / h2], 3 * b);
    directions.set(at(normals, n1), 3 * b);
    stiffness[b] = (bend.bendingNm2 * (h1 + h2)) / 2;
  });
  const rest = new Float64Array(list.length);
  const bends: Bends = { nodes, weights, directions, rest, stiffness };
  const shape = { bends } as unknown as Network;
  list.forEach((_, b) => {
    rest[b] = bendCurvature(shape, b, positions);
  });
  return { bends, trailing: list.map((bend) => bend.trailing) };
}
