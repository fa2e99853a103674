/**
 * From a plan to a wing model: fit the canopy, hang it on its lines, load it, and absorb what the fit leaves so that the
 * specified state is itself a solution that reproduces every specified length.
 */
import type { Side, Wing } from "../plan/model.ts";
import { absorb } from "./absorb.ts";
import { assembleSkeleton, type Skeleton } from "./assemble.ts";
import { drawBrakes, settleBrakes } from "./brakes.ts";
import { memberLength } from "./energy.ts";
import { DEFAULT_FABRIC, type FabricOptions } from "./fabric.ts";
import { type FittedCanopy, fitWing } from "./fit.ts";
import { flightLoads, GRAVITY } from "./flight-loads.ts";
import { carabiner, cascadeOf } from "./lay-out.ts";
import type { AttachedRib, Equilibrium, Network, WingModel } from "./model.ts";
import { outlineFigures, pointOnRib, type RibFrame } from "./outline.ts";
import { sectionHeight } from "./section.ts";
import type { Station } from "./stations.ts";
import { pitched, put, type Vector } from "./vector.ts";

export interface BuildOptions {
  /** All-up weight [kg]; the middle of the plan's range if left out. */
  readonly weightKg?: number;
  readonly fabric?: FabricOptions;
}

/**
 * @throws RangeError when the wing has no tab, or its weight isn't positive
 */
export function buildWingModel(given: Wing, options: BuildOptions = {}): WingModel {
  const weightKg = options.weightKg ?? (given.allUpWeightKg.min + given.allUpWeightKg.max) / 2;
  if (!(weightKg > 0)) throw new RangeError(`all-up weight is ${weightKg} kg, expected a positive number`);
  if (given.tabs.length === 0) throw new RangeError("the wing has no tab, so there is nothing to hang it on");
  const fabric = options.fabric ?? DEFAULT_FABRIC;
  // The same wing, but for lengths that its plan leaves to the totals.
  const { wing, stations, cells, fitted } = fitWing(given, cascadeOf(given));
  const cascade = cascadeOf(wing);
  const skeleton = assembleSkeleton(wing, cascade, stations, fitted.fractions, fabric);

  const nodes = skeleton.nodeKind.length;
  const positions = new Float64Array(3 * nodes);
  const fixed = new Uint8Array(3 * nodes);
  placeNodes(wing, stations, fitted, skeleton, positions, (side) => carabiner(cascade, side));
  const mainOffsetM = drawBrakes(wing, stations, fitted, skeleton, positions);
  for (const node of [...skeleton.carabinerNode.values(), ...skeleton.pulleyNode.values()])
    fixed.fill(1, 3 * node, 3 * node + 3);

  const stationOfTab = new Map(
    stations.flatMap((station, s) => station.tabs.map((tab) => [tab.tab, s] as const)),
  );
  const pressed = wing.tabs.flatMap((tab, i) =>
    tab.row === "brake"
      ? []
      : [
          {
            node: skeleton.tabNode[i] as number,
            weight: fitted.weights[i] as number,
            frame: fitted.frames[stationOfTab.get(i) as number] as RibFrame,
          },
        ],
  );
  const figures = outlineFigures(fitted.outline);
  const flight = flightLoads(
    positions,
    (node) => fixed[3 * node] === 1,
    pressed,
    skeleton.lineBodies,
    weightKg * GRAVITY,
    wing.canopy.flatAreaM2 ?? figures.flatAreaM2,
  );
  // Pulleys are held where the turned geometry puts them.
  const turned = flight.positions;
  const normals = nodeNormals(stations, skeleton, fitted, flight.pitchRad, nodes);

  const absorbed = absorb(wing, skeleton, fabric, turned, fixed, flight.loads, normals, mainOffsetM);
  const { network, specified, brakeOffsetM } = settleBrakes(
    wing,
    cascade,
    skeleton,
    fitted.weights,
    absorbed.network,
    absorbed.specified,
    absorbed.structure,
    mainOffsetM,
  );
  const ribs = stations.map((station, s) => attachedRib(wing, station, s, fitted, skeleton, flight.pitchRad));
  return {
    network,
    memberLine: skeleton.members.map((member) => member.lineKey),
    lineMember: skeleton.lineMember,
    memberKind: skeleton.members.map((member) => member.kind),
    memberRiser: skeleton.members.map((member) => member.riserId),
    nodeKind: skeleton.nodeKind,
    nodeName: skeleton.nodeName,
    tabNode: skeleton.tabNode,
    ribs,
    fit: {
      ...fitted.report,
      largestRemainderM: largestRemainder(wing, network, skeleton, specified),
    },
    cells,
    outline: fitted.outline,
    offset: fitted.offset,
    pitchRad: flight.pitchRad,
    drawn: turned,
    dynamicPressurePa: flight.dynamicPressurePa,
    tangentialShare: flight.tangentialShare,
    brakeOffsetM,
    referenceTensionN: wing.reference.tensionN,
    allUpWeightN: weightKg * GRAVITY,
    specified,
  };
}

/**
 * Start positions, before the resultant is turned upright.
 *
 * @param positions 3n, overwritten [m]
 */
function placeNodes(
  wing: Wing,
  stations: readonly Station[],
  fitted: FittedCanopy,
  skeleton: Skeleton,
  positions: Float64Array,
  hook: (side: Side) => Vector,
): void {
  const { laidOut } = fitted;
  for (const side of ["left", "right"] as const)
    put(positions, skeleton.carabinerNode.get(side) as number, hook(side));
  for (const [key, place] of laidOut.maillons) put(positions, skeleton.maillonNode.get(key) as number, place);
  for (const [side, place] of laidOut.pulleys) put(positions, skeleton.pulleyNode.get(side) as number, place);
  for (const [key, place] of laidOut.junctions) put(positions, skeleton.upperNode.get(key) as number, place);
  wing.tabs.forEach((_, i) => {
    put(positions, skeleton.tabNode[i] as number, fitted.tabs[i] as Vector);
  });
  stations.forEach((_, s) => {
    const node = skeleton.trailingNode[s];
    if (node !== undefined)
      put(positions, node, pointOnRib(fitted.frames[s] as RibFrame, 1, sectionHeight(1, "lower")));
  });
}

/** The canopy normal at every canopy node, turned upright; zero elsewhere. */
function nodeNormals(
  stations: readonly Station[],
  skeleton: Skeleton,
  fitted: FittedCanopy,
  pitchRad: number,
  nodes: number,
): Float64Array {
  const normals = new Float64Array(3 * nodes);
  stations.forEach((_, s) => {
    const normal = pitched((fitted.frames[s] as RibFrame).normal, pitchRad);
    for (const { node } of skeleton.canopy[s] ?? []) put(normals, node, normal);
  });
  return normals;
}

/**
 * Largest difference between a path as the solved state has it, brought back to the reference tension, and the plan's
 * specified length. A line that hangs slack shows here. The brakes, slack by design, are left out.
 */
function largestRemainder(wing: Wing, network: Network, skeleton: Skeleton, state: Equilibrium): number {
  const straps = new Map(wing.risers.map((riser) => [riser.id, riser.lengthM]));
  let worst = 0;
  for (const path of wing.paths) {
    if (path.row === "brake") continue;
    const withStrap = wing.reference.from === "riser" ? (straps.get(path.riserId ?? "") ?? 0) : 0;
    let total = withStrap;
    for (const key of path.lineKeys) {
      const m = skeleton.lineMember.get(key) as number;
      const ea = network.stiffness[m] as number;
      const stretched = memberLength(network.ends, m, state.positions);
      const unstretched = stretched / (1 + (state.tensionsN[m] as number) / ea);
      total += unstretched * (1 + wing.reference.tensionN / ea);
    }
    worst = Math.max(worst, Math.abs(total - path.specifiedM));
  }
  return worst;
}

function attachedRib(
  wing: Wing,
  station: Station,
  s: number,
  fitted: FittedCanopy,
  skeleton: Skeleton,
  pitchRad: number,
): AttachedRib {
  const frame = fitted.frames[s] as RibFrame;
  const tabOfNode = new Map(skeleton.tabNode.map((node, tab) => [node, tab]));
  return {
    side: station.side,
    rib: station.rib,
    sigma: Math.abs(station.sigma),
    chordM: frame.chordM,
    origin: pitched(frame.origin, pitchRad),
    chordDirection: pitched(frame.chordDirection, pitchRad),
    normal: pitched(frame.normal, pitchRad),
    spanDirection: pitched(frame.spanDirection, pitchRad),
    nodes: (skeleton.canopy[s] ?? []).map(({ node, chordFraction, row }) => {
      const tab = tabOfNode.get(node);
      return {
        node,
        chordFraction,
        row: row as AttachedRib["nodes"][number]["row"],
        tabKey: tab === undefined ? undefined : wing.tabs[tab]?.key,
      };
    }),
  };
}
