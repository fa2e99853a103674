/**
 * Lay the cascades out under a given canopy: from the carabiner upwards every strap and line points where the canopy's
 * pull draws it, with its specified length. What the last line is too short or too long to reach its tab is the path's
 * misfit.
 */
import type { Line, Side, Wing } from "../plan/model.ts";
import {
  AIMING_PASSES,
  hangLines,
  type LineTree,
  lineTree,
  type MemberDraft,
  roomFor,
} from "./hang-lines.ts";
import { add, at, type ReadonlyVector, towards, type Vector } from "./vector.ts";

export interface LaidOut {
  /** Maillon positions by `side maillonId`. */
  readonly maillons: ReadonlyMap<string, Vector>;
  readonly pulleys: ReadonlyMap<Side, Vector>;
  /** Upper end of every line that carries lines, by line key. */
  readonly junctions: ReadonlyMap<string, Vector>;
  /** Distance still to go minus the last line's length, per tab in the wing's order: model path − plan path [m]. */
  readonly misfitM: Float64Array;
}

/** Look-ups into a wing that the layout asks for again and again. */
export interface Cascade {
  readonly wing: Wing;
  readonly lineOf: ReadonlyMap<string, Line>;
  /** Indices of all tabs above a line. */
  readonly tabsAbove: ReadonlyMap<string, readonly number[]>;
  /** Lowest lines by what they hang on: `side maillonId`, or `side pulley`. */
  readonly roots: ReadonlyMap<string, readonly Line[]>;
  /** Distance from the middle to a main carabiner [m]. */
  readonly halfSpacingM: number;
}

/** Distance between the main carabiners where the plan gives none: common practice for harness settings. */
const TYPICAL_CARABINER_SPACING = 0.44;
/** A strap whose riser the plan doesn't know [m]. */
const TYPICAL_STRAP = 0.47;

export function cascadeOf(wing: Wing): Cascade {
  const lineOf = new Map(wing.lines.map((line) => [line.key, line]));
  const tabsAbove = new Map<string, number[]>(wing.lines.map((line) => [line.key, []]));
  wing.paths.forEach((path, tab) => {
    for (const key of path.lineKeys) tabsAbove.get(key)?.push(tab);
  });
  const roots = new Map<string, Line[]>();
  for (const line of wing.lines) {
    const anchor = line.hangsOn;
    if (anchor.kind === "line") continue;
    const key = `${line.side} ${anchor.kind === "maillon" ? anchor.maillonId : "pulley"}`;
    roots.set(key, [...(roots.get(key) ?? []), line]);
  }
  const halfSpacingM = (wing.canopy.carabinerSpacingM ?? TYPICAL_CARABINER_SPACING) / 2;
  return { wing, lineOf, tabsAbove, roots, halfSpacingM };
}

/** The carabiner of one side: y to the pilot's right. */
export function carabiner(cascade: Cascade, side: Side): Vector {
  return [0, side === "left" ? -cascade.halfSpacingM : cascade.halfSpacingM, 0];
}

/** What a member of a tree stands for in the wing. */
export interface Member extends MemberDraft {
  /** `side maillonId` for a strap, else undefined. */
  readonly maillon: string | undefined;
  readonly lineKey: string | undefined;
}

/** One side's straps with the lines that hang on their maillons, as members from below upwards. */
export function riggedMembers(cascade: Cascade, side: Side): Member[] {
  const { wing, roots, tabsAbove } = cascade;
  const straps = new Map(wing.risers.map((riser) => [riser.id, riser.lengthM]));
  const members: Member[] = [];
  for (const maillon of wing.maillons) {
    const key = `${side} ${maillon.id}`;
    const lines = (roots.get(key) ?? []).filter((line) => (tabsAbove.get(line.key) ?? []).length > 0);
    if (lines.length === 0) continue;
    const strap = members.length;
    members.push({
      below: -1,
      lengthM: straps.get(maillon.riserId) ?? TYPICAL_STRAP,
      root: carabiner(cascade, side),
      tabs: [],
      maillon: key,
      lineKey: undefined,
    });
    for (const line of lines) pushLine(cascade, members, line, strap, [0, 0, 0]);
  }
  return members;
}

function pushLine(
  cascade: Cascade,
  members: Member[],
  line: Line,
  below: number,
  root: ReadonlyVector,
): void {
  const above = cascade.tabsAbove.get(line.key) ?? [];
  if (above.length === 0) return;
  const place = members.length;
  members.push({
    below,
    lengthM: line.lengthM - line.loopTakeUpM,
    root,
    tabs: above.filter((tab) => cascade.wing.tabs[tab]?.lineKey === line.key),
    maillon: undefined,
    lineKey: line.key,
  });
  for (const key of line.carriesLines) {
    const next = cascade.lineOf.get(key);
    if (next) pushLine(cascade, members, next, place, [0, 0, 0]);
  }
}

/**
 * @param tabs positions per tab in the wing's order [m]
 * @param weights load per tab, any scale; 0 at the brakes
 * @param normals the direction of the canopy's load per tab, unit vectors; without them every line aims at the
 *   load-weighted mean of the tabs above it, a few millimetres off its equilibrium
 */
export function layOut(
  cascade: Cascade,
  tabs: readonly ReadonlyVector[],
  weights: ArrayLike<number>,
  normals?: readonly ReadonlyVector[],
): LaidOut {
  const { wing, roots } = cascade;
  const positions = Float64Array.from(tabs.flatMap((tab) => [...tab]));
  const loads = new Float64Array(positions.length);
  wing.tabs.forEach((_, i) => {
    const normal = normals?.[i] ?? [0, 0, 1];
    // A brake's own load isn't the pressure's; its tabs pull alike.
    const weight = (weights[i] as number) || 1e-9;
    for (let a = 0; a < 3; a++) loads[3 * i + a] = weight * (normal[a] as number);
  });
  const passes = normals === undefined ? 0 : AIMING_PASSES;
  const maillons = new Map<string, Vector>();
  const pulleys = new Map<Side, Vector>();
  const junctions = new Map<string, Vector>();
  const misfitM = new Float64Array(wing.tabs.length);
  const hang = (members: readonly Member[]): void => {
    const tree: LineTree = lineTree(members);
    const room = roomFor(tree);
    hangLines(tree, positions, loads, room, misfitM, passes);
    members.forEach(({ maillon, lineKey }, m) => {
      if (!tree.carries[m]) return;
      if (maillon !== undefined) maillons.set(maillon, at(room.upper, m));
      else if (lineKey !== undefined) junctions.set(lineKey, at(room.upper, m));
    });
  };

  for (const side of ["left", "right"] as const) {
    hang(riggedMembers(cascade, side));
    const brakeLines = roots.get(`${side} pulley`);
    if (!brakeLines || !wing.brakes) continue;
    const hook = carabiner(cascade, side);
    const { pulleyRiserId, pulleyHeightM } = wing.brakes;
    const onRiser = wing.maillons.find((m) => m.riserId === pulleyRiserId && maillons.has(`${side} ${m.id}`));
    const guide: Vector = onRiser ? (maillons.get(`${side} ${onRiser.id}`) as Vector) : [0, hook[1], 1];
    const pulley = add(hook, towards(hook, guide), pulleyHeightM);
    pulleys.set(side, pulley);
    const members: Member[] = [];
    for (const line of brakeLines) pushLine(cascade, members, line, -1, pulley);
    hang(members);
  }
  return { maillons, pulleys, junctions, misfitM };
}
