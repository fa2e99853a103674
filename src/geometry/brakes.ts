/**
 * Brakes at trim: slack by their free travel.
 *
 * What the plan's brake lengths are counted from, and where the trailing edge stands in flight, isn't in a plan. So each
 * side's main gets an offset that leaves its mean path slack by the free travel, the trailing edge is drawn where every
 * brake tab's path is slack by about just that, and what the solved shape leaves of a difference is taken up by the line
 * at the tab. Changes of length act on top of that.
 */
import type { Side, Wing } from "../plan/model.ts";
import { unstretchedLength } from "./absorb.ts";
import type { Skeleton } from "./assemble.ts";
import { solveEquilibrium } from "./equilibrium.ts";
import type { FittedCanopy } from "./fit.ts";
import { type Cascade, layOut } from "./lay-out.ts";
import type { Equilibrium, Network } from "./model.ts";
import type { RibFrame } from "./outline.ts";
import type { Station } from "./stations.ts";
import type { NetworkStructure } from "./structure.ts";
import { add, at, distance, put, type Vector } from "./vector.ts";

/** Farthest that the trailing edge is moved to give a brake line its free travel [m]. */
const FARTHEST_TRAILING_EDGE = 0.08;
/** Rounds in which the lines at the brake tabs are fitted to the solved trailing edge, and the move that ends them [m]. */
const SETTLING_ROUNDS = 5;
const SETTLED = 1e-4;

/**
 * Draw the brake tabs and let the slack fans hang.
 *
 * @param positions 3n, changed in place [m]
 * @returns the offset of each side's brake main [m]
 */
export function drawBrakes(
  wing: Wing,
  stations: readonly Station[],
  fitted: FittedCanopy,
  skeleton: Skeleton,
  positions: Float64Array,
): Map<Side, number> {
  const { laidOut } = fitted;
  const offsets = new Map<Side, number>();
  const freeTravelM = wing.brakes?.freeTravelM ?? 0;
  for (const side of ["left", "right"] as const) {
    const brakes = wing.tabs.flatMap((tab, i) => (tab.row === "brake" && tab.side === side ? [i] : []));
    if (brakes.length === 0) continue;
    // misfit > 0: the tab is farther away than the lines reach.
    const mean = brakes.reduce((sum, i) => sum + (laidOut.misfitM[i] as number), 0) / brakes.length;
    offsets.set(side, mean + freeTravelM);
    for (const i of brakes) {
      const s = stations.findIndex((station) => station.tabs.some((tab) => tab.tab === i));
      const frame = fitted.frames[s] as RibFrame;
      const move = Math.max(
        -FARTHEST_TRAILING_EDGE,
        Math.min(FARTHEST_TRAILING_EDGE, mean - (laidOut.misfitM[i] as number)),
      );
      put(positions, skeleton.tabNode[i] as number, add(fitted.tabs[i] as Vector, frame.normal, move));
    }
  }
  hangSlackBrakes(wing, skeleton, positions);
  return offsets;
}

/**
 * Fit the lines at the brake tabs to the solved trailing edge, so that every brake path is slack by the free travel.
 *
 * @param offsetsM of the mains, by side
 * @returns the network and state with them, and by line key how much longer than the plan's each brake line is taken [m]
 */
export function settleBrakes(
  wing: Wing,
  cascade: Cascade,
  skeleton: Skeleton,
  weights: Float64Array,
  network: Network,
  specified: Equilibrium,
  structure: NetworkStructure,
  offsetsM: ReadonlyMap<Side, number>,
): { network: Network; specified: Equilibrium; brakeOffsetM: Map<string, number> } {
  const lineOf = new Map(wing.lines.map((line) => [line.key, line]));
  const mains = new Map(
    wing.lines.flatMap((line) =>
      line.hangsOn.kind === "pulley" ? [[line.key, offsetsM.get(line.side) ?? 0] as const] : [],
    ),
  );
  const brakeOffsetM = new Map(mains);
  const brakes = wing.tabs.flatMap((tab, i) => (tab.row === "brake" ? [i] : []));
  if (brakes.length === 0) return { network, specified, brakeOffsetM };
  const freeTravelM = wing.brakes?.freeTravelM ?? 0;
  const unstretched = Float64Array.from(network.unstretched);
  let state = specified;
  for (let round = 0; round < SETTLING_ROUNDS; round++) {
    const tabs = skeleton.tabNode.map((node) => at(state.positions, node));
    const { misfitM } = layOut(cascade, tabs, weights);
    const extra = new Map<string, number>();
    for (const tab of brakes) {
      const key = wing.tabs[tab]?.lineKey ?? "";
      const side = wing.tabs[tab]?.side ?? "left";
      const needed = (misfitM[tab] as number) + freeTravelM - (offsetsM.get(side) ?? 0);
      extra.set(key, Math.max(extra.get(key) ?? -Infinity, needed));
    }
    for (const [key, needed] of extra) {
      const line = lineOf.get(key);
      const m = skeleton.lineMember.get(key);
      if (!line || m === undefined) continue;
      const offset = (mains.get(key) ?? 0) + Math.max(needed, 0.05 - line.lengthM);
      brakeOffsetM.set(key, offset);
      unstretched[m] = unstretchedLength(
        line.lengthM - line.loopTakeUpM + offset,
        network.stiffness[m] as number,
        wing.reference.tensionN,
        "line",
      );
    }
    const next = solveEquilibrium(network, { structure, unstretched, start: state.positions });
    const moved = Math.max(
      ...brakes.map((tab) => {
        const node = skeleton.tabNode[tab] as number;
        return distance(at(next.positions, node), at(state.positions, node));
      }),
    );
    state = next;
    if (moved < SETTLED) break;
  }
  return { network: { ...network, unstretched, positions: state.positions }, specified: state, brakeOffsetM };
}

/** A slack brake fan hangs from the trailing edge: its junctions start there, highest tier first. */
function hangSlackBrakes(wing: Wing, skeleton: Skeleton, positions: Float64Array): void {
  const down: Vector = [0, 0, -1];
  const brakes = wing.lines.filter((line) => line.row === "brake").sort((a, b) => b.tier - a.tier);
  const lengths = new Map(wing.lines.map((line) => [line.key, line.lengthM]));
  for (const line of brakes) {
    if (line.carriesLines.length === 0) continue;
    const ends = line.carriesLines.map((key) => at(positions, skeleton.upperNode.get(key) as number));
    const mean = ends.reduce<Vector>((sum, end) => add(sum, end, 1 / ends.length), [0, 0, 0]);
    const length = line.carriesLines.reduce((sum, key) => sum + (lengths.get(key) ?? 0), 0) / ends.length;
    const spread = ends.reduce((sum, end) => sum + distance(end, mean), 0) / ends.length;
    const drop = Math.sqrt(Math.max(0.05 * length, length * length - spread * spread));
    put(positions, skeleton.upperNode.get(line.key) as number, add(mean, down, drop));
  }
}
