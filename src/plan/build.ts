/** From a checked plan file to the wing: SI units, both sides spelled out, defaults filled in. */
import { completePlan } from "./infer-lengths.ts";
import { materialFromPlan } from "./material.ts";
import type {
  Anchor,
  Brakes,
  Canopy,
  Line,
  Maillon,
  RigSetting,
  Riser,
  Side,
  Tab,
  Tolerances,
  Wing,
} from "./model.ts";
import { SIDES } from "./model.ts";
import { buildPaths } from "./paths.ts";
import type { PlanFile, PlanHalf, SparsePlanFile } from "./schema.ts";
import { PULLEY } from "./schema.ts";

/**
 * Limits where the plan sets none [m]. Totals within 10 mm, 5 mm left against right, 10 mm between rows: common
 * practice, no source, and wide for some wings. Free travel of 50 mm: prEN 926-2:2012, 5.3.2.2.
 */
export const DEFAULT_TOLERANCES: Tolerances = {
  pathM: 0.01,
  leftRightM: 0.005,
  rowToRowM: 0.01,
  minBrakeFreeTravelM: 0.05,
  source: "common practice",
};

/** Source named where a plan sets limits without saying where they come from. */
const UNNAMED_SOURCE = "the plan, which names no source";

/** Key of a line or tab in the wing: `left:A1`. */
export function keyOf(side: Side, id: string): string {
  return `${side}:${id}`;
}

/** The plan's half for each side. */
export function halves(file: PlanFile): Readonly<Record<Side, PlanHalf>> {
  return "mirrored" in file.sides
    ? { left: file.sides.mirrored, right: file.sides.mirrored }
    : { left: file.sides.left, right: file.sides.right };
}

const metres = (mm: number | undefined): number | undefined => (mm === undefined ? undefined : mm / 1000);

function tolerancesFromPlan(given: PlanFile["tolerances"]): Tolerances {
  if (given === undefined) return DEFAULT_TOLERANCES;
  const { source, ...limits } = given;
  const anySet = Object.values(limits).some((limit) => limit !== undefined);
  return {
    pathM: metres(given.pathMm) ?? DEFAULT_TOLERANCES.pathM,
    leftRightM: metres(given.leftRightMm) ?? DEFAULT_TOLERANCES.leftRightM,
    rowToRowM: metres(given.rowToRowMm) ?? DEFAULT_TOLERANCES.rowToRowM,
    minBrakeFreeTravelM: metres(given.minBrakeFreeTravelMm) ?? DEFAULT_TOLERANCES.minBrakeFreeTravelM,
    source: source ?? (anySet ? UNNAMED_SOURCE : DEFAULT_TOLERANCES.source),
  };
}

function canopyFromPlan(given: PlanFile["canopy"]): Canopy {
  return {
    flatAreaM2: given?.flatAreaM2,
    flatSpanM: given?.flatSpanM,
    projectedSpanM: given?.projectedSpanM,
    projectedAreaM2: given?.projectedAreaM2,
    cells: given?.cells,
    rootChordM: given?.rootChordM,
    tipChordM: given?.tipChordM,
    rowChordFractions: { ...given?.rowChordFractions } as Canopy["rowChordFractions"],
    carabinerSpacingM: given?.carabinerSpacingM,
  };
}

function brakesFromPlan(given: PlanFile["brakes"]): Brakes | undefined {
  if (given === undefined) return undefined;
  return {
    pulleyRiserId: given.pulleyRiser,
    pulleyHeightM: given.pulleyHeightMm / 1000,
    freeTravelM: given.freeTravelMm / 1000,
  };
}

function settingsFromPlan(given: PlanFile["settings"]): readonly RigSetting[] {
  return (given ?? []).map(({ id, name, kind, strapChangesMm }) => ({
    id,
    name,
    kind,
    strapChangesM: Object.fromEntries(
      Object.entries(strapChangesMm).map(([riserId, change]) => [riserId, change / 1000]),
    ),
  }));
}

function linesFromHalf(
  half: PlanHalf,
  side: Side,
  other: PlanHalf,
  maillonIds: ReadonlySet<string>,
  assumed: ReadonlySet<string>,
): Line[] {
  const otherSide: Side = side === "left" ? "right" : "left";
  const partners = new Set(other.lines.map((line) => line.id));
  const above = new Map<string, string[]>();
  const tabsAt = new Map<string, string[]>();
  for (const line of half.lines) {
    if (line.hangsOn === PULLEY || maillonIds.has(line.hangsOn)) continue;
    above.set(line.hangsOn, [...(above.get(line.hangsOn) ?? []), keyOf(side, line.id)]);
  }
  for (const tab of half.tabs) tabsAt.set(tab.line, [...(tabsAt.get(tab.line) ?? []), keyOf(side, tab.id)]);

  const anchorOf = (hangsOn: string): Anchor => {
    if (hangsOn === PULLEY) return { kind: "pulley" };
    if (maillonIds.has(hangsOn)) return { kind: "maillon", maillonId: hangsOn };
    return { kind: "line", lineKey: keyOf(side, hangsOn) };
  };
  return half.lines.map(
    (line): Line => ({
      key: keyOf(side, line.id),
      id: line.id,
      side,
      row: line.row,
      tier: line.tier,
      hangsOn: anchorOf(line.hangsOn),
      carriesLines: above.get(line.id) ?? [],
      carriesTabs: tabsAt.get(line.id) ?? [],
      lengthM: line.lengthMm / 1000,
      lengthAssumed: assumed.has(line.id),
      materialId: line.material,
      colour: line.colour,
      loopTakeUpM: (line.loop?.takeUpMm ?? 0) / 1000,
      loopName: line.loop?.name,
      mirrorKey: partners.has(line.id) ? keyOf(otherSide, line.id) : undefined,
    }),
  );
}

function tabsFromHalf(half: PlanHalf, side: Side, other: PlanHalf): Tab[] {
  const otherSide: Side = side === "left" ? "right" : "left";
  const partners = new Set(other.tabs.map((tab) => tab.id));
  return half.tabs.map(
    (tab): Tab => ({
      key: keyOf(side, tab.id),
      id: tab.id,
      side,
      row: tab.row,
      rib: tab.rib,
      chordFraction: tab.chordFraction,
      lineKey: keyOf(side, tab.line),
      statedPathM: metres(tab.pathMm),
      mirrorKey: partners.has(tab.id) ? keyOf(otherSide, tab.id) : undefined,
    }),
  );
}

/**
 * The wing of a plan file whose references are sound (see `validate.ts`): SI units, lines and tabs of the left
 * side first, each side in the file's order, one path for every tab. Lengths that the plan leaves to its totals are
 * inferred (see `infer-lengths.ts`).
 * Throws where a chain doesn't reach a maillon or pulley.
 */
export function wingFromPlan(given: SparsePlanFile): Wing {
  const completed = completePlan(given);
  const { file } = completed;
  const half = halves(file);
  const maillonIds = new Set(file.maillons.map((maillon) => maillon.id));
  const risers = file.risers.map((riser): Riser => ({ id: riser.id, lengthM: riser.lengthMm / 1000 }));
  const maillons = file.maillons.map(
    (maillon): Maillon => ({
      id: maillon.id,
      riserId: maillon.riser,
      barDiameterM: metres(maillon.barDiameterMm),
    }),
  );
  const assumed = (side: Side): ReadonlySet<string> =>
    (completed.halves.get("sides.mirrored") ?? completed.halves.get(`sides.${side}`))?.assumed ?? new Set();
  const other = (side: Side): PlanHalf => half[side === "left" ? "right" : "left"];
  const lines = SIDES.flatMap((side) =>
    linesFromHalf(half[side], side, other(side), maillonIds, assumed(side)),
  );
  const tabs = SIDES.flatMap((side) => tabsFromHalf(half[side], side, other(side)));
  return {
    name: file.wing.name,
    size: file.wing.size,
    kind: file.wing.kind ?? "paraglider",
    allUpWeightKg: { min: file.wing.allUpWeightKg.min, max: file.wing.allUpWeightKg.max },
    note: file.wing.note,
    canopy: canopyFromPlan(file.canopy),
    materials: file.materials.map(materialFromPlan),
    risers,
    maillons,
    brakes: brakesFromPlan(file.brakes),
    settings: settingsFromPlan(file.settings),
    reference: {
      from: file.reference.from,
      tensionN: file.reference.tensionN,
      trimmerM: metres(file.reference.trimmerMm),
      note: file.reference.note,
    },
    tolerances: tolerancesFromPlan(file.tolerances),
    lines,
    tabs,
    paths: buildPaths(lines, tabs, maillons, risers, file.reference.from),
  };
}
