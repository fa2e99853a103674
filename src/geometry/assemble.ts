/** Nodes and members of a wing's network, named after the plan. Positions and loads come later. */
import type { Line, Wing } from "../plan/model.ts";
import { type CanopyNode, canopyNodes, type FabricOptions, fabricTies } from "./fabric.ts";
import type { LineBody } from "./flight-loads.ts";
import type { Cascade } from "./lay-out.ts";
import type { WingModel } from "./model.ts";
import type { Station } from "./stations.ts";

/** EA of a riser strap: narrow webbing, a few percent at its breaking load; assumed. */
const STRAP_STIFFNESS = 100_000;

export interface MemberDraft {
  readonly ends: readonly [number, number];
  readonly stiffnessN: number;
  readonly bar: boolean;
  readonly kind: WingModel["memberKind"][number];
  readonly lineKey: string | undefined;
  /** For a strap: its riser. */
  readonly riserId?: string;
  /** Length at the reference tension for lines and straps [m]; undefined for fabric. */
  readonly referenceLengthM: number | undefined;
}

export interface Skeleton {
  readonly nodeKind: WingModel["nodeKind"][number][];
  readonly nodeName: string[];
  readonly members: readonly MemberDraft[];
  readonly lineMember: Map<string, number>;
  readonly lineBodies: readonly LineBody[];
  /** Per tab in the wing's order. */
  readonly tabNode: readonly number[];
  /** Per station: its bare trailing edge, where no brake tab is. */
  readonly trailingNode: readonly (number | undefined)[];
  readonly maillonNode: ReadonlyMap<string, number>;
  readonly pulleyNode: ReadonlyMap<string, number>;
  readonly carabinerNode: ReadonlyMap<string, number>;
  /** Line key → node at its upper end. */
  readonly upperNode: ReadonlyMap<string, number>;
  /** Per station, front to rear. */
  readonly canopy: readonly (readonly CanopyNode[])[];
}

export function assembleSkeleton(
  wing: Wing,
  cascade: Cascade,
  stations: readonly Station[],
  fractions: Float64Array,
  fabric: FabricOptions,
): Skeleton {
  const nodeKind: Skeleton["nodeKind"] = [];
  const nodeName: string[] = [];
  const node = (kind: Skeleton["nodeKind"][number], name: string): number => {
    nodeKind.push(kind);
    nodeName.push(name);
    return nodeKind.length - 1;
  };

  const carabinerNode = new Map<string, number>();
  const maillonNode = new Map<string, number>();
  const pulleyNode = new Map<string, number>();
  for (const side of ["left", "right"] as const) {
    carabinerNode.set(side, node("carabiner", `${side} carabiner`));
    for (const maillon of wing.maillons)
      if (cascade.roots.has(`${side} ${maillon.id}`))
        maillonNode.set(`${side} ${maillon.id}`, node("maillon", `${side} maillon ${maillon.id}`));
    if (cascade.roots.has(`${side} pulley`)) pulleyNode.set(side, node("pulley", `${side} pulley`));
  }
  const tabNode = wing.tabs.map((tab) => node("tab", tab.key));
  const tabIndex = new Map(wing.tabs.map((tab, i) => [tab.key, i]));
  const upperNode = new Map<string, number>();
  for (const line of wing.lines) {
    const only = line.carriesLines.length === 0 ? tabIndex.get(line.carriesTabs[0] ?? "") : undefined;
    upperNode.set(line.key, only === undefined ? node("junction", line.key) : (tabNode[only] as number));
  }
  const trailingNode = stations.map((station) => {
    const last = station.tabs[station.tabs.length - 1];
    const hasBrake =
      station.tabs.some((tab) => tab.row === "brake") || (last && (fractions[last.tab] as number) > 0.97);
    return hasBrake ? undefined : node("trailingEdge", `${station.side} rib ${station.rib} trailing edge`);
  });

  const members: MemberDraft[] = [];
  const lineMember = new Map<string, number>();
  const lineBodies: LineBody[] = [];
  const materials = new Map(wing.materials.map((material) => [material.id, material]));
  const straps = new Map(wing.risers.map((riser) => [riser.id, riser.lengthM]));
  for (const [key, maillon] of maillonNode) {
    const [side, id] = key.split(" ") as [string, string];
    const riserId = wing.maillons.find((m) => m.id === id || `${side} ${m.id}` === key)?.riserId ?? "";
    members.push({
      ends: [carabinerNode.get(side) as number, maillon],
      stiffnessN: STRAP_STIFFNESS,
      bar: false,
      kind: "riser",
      riserId,
      lineKey: undefined,
      referenceLengthM: straps.get(riserId) ?? 0.47,
    });
  }
  const lowerNode = (line: Line): number => {
    if (line.hangsOn.kind === "line") return upperNode.get(line.hangsOn.lineKey) as number;
    if (line.hangsOn.kind === "pulley") return pulleyNode.get(line.side) as number;
    return maillonNode.get(`${line.side} ${line.hangsOn.maillonId}`) as number;
  };
  for (const line of wing.lines) {
    const material = materials.get(line.materialId);
    if (!material)
      throw new RangeError(`line ${line.key} is of material ${line.materialId}, which isn't in the wing`);
    const upper = upperNode.get(line.key) as number;
    // Where a line ends at several tabs, each further tab is reached by a like member.
    const further = line.carriesTabs
      .map((key) => tabNode[tabIndex.get(key) as number] as number)
      .filter((n) => n !== upper);
    lineMember.set(line.key, members.length);
    for (const end of [upper, ...further]) {
      const ends = [lowerNode(line), end] as const;
      members.push({
        ends,
        stiffnessN: material.stiffnessN,
        bar: false,
        kind: "line",
        lineKey: line.key,
        referenceLengthM: line.lengthM - line.loopTakeUpM,
      });
      // The wind would hold a slack brake line taut and pull at the trailing edge, which is too soft in the model for it.
      const diameterM = line.row === "brake" ? 0 : material.diameterM;
      lineBodies.push({ ends, diameterM, massPerLengthKgM: material.massPerLengthKgM });
    }
  }

  const canopy = stations.map((station, s) =>
    canopyNodes(station, fractions, (tab) => tabNode[tab] as number, trailingNode[s]),
  );
  const stiffness = { chordwise: fabric.chordwiseN, spanwise: fabric.spanwiseN, shear: fabric.shearN };
  for (const tie of fabricTies(canopy))
    members.push({
      ends: tie.ends,
      stiffnessN: stiffness[tie.kind],
      bar: true,
      kind: "fabric",
      lineKey: undefined,
      referenceLengthM: undefined,
    });
  return {
    nodeKind,
    nodeName,
    members,
    lineMember,
    lineBodies,
    tabNode,
    trailingNode,
    maillonNode,
    pulleyNode,
    carabinerNode,
    upperNode,
    canopy,
  };
}
