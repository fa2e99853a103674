/**
 * An invented wing whose canopy is known: the factory's cascades laid out under a given outline, with the topmost lines'
 * lengths chosen so that every path reaches its tab. What the fit finds can then be held against what was put in.
 */
import { formCascade } from "../../src/geometry/cascade-form.ts";
import { chordShares } from "../../src/geometry/chord-load.ts";

import {
  type OutlineParameters,
  outlineFigures,
  pointOnRib,
  ribFrame,
  tipBankFromSpans,
} from "../../src/geometry/outline.ts";
import { sectionHeight } from "../../src/geometry/section.ts";
import { attachedStations, tributaryWidth } from "../../src/geometry/stations.ts";
import { add, distance, towards, type Vector } from "../../src/geometry/vector.ts";
import type { PlanFile } from "../../src/plan/index.ts";
import type { Line, Wing } from "../../src/plan/model.ts";
import { type FactoryOptions, samplePlan, wingOf } from "../plan/factory.ts";

export interface InventedShape {
  readonly flatSpanM: number;
  readonly projectedSpanM: number;
  readonly rootChordM: number;
  readonly tipChordM: number;
  readonly arcExponent: number;
  readonly sweepFraction: number;
  readonly twistTipRad: number;
  /** In root chords. */
  readonly carabinerBehindLeadingEdge: number;
  readonly heightM: number;
}

export const MEDIUM_SHAPE: InventedShape = {
  flatSpanM: 11.6,
  projectedSpanM: 9.1,
  rootChordM: 2.75,
  tipChordM: 0.6,
  arcExponent: 1.1,
  sweepFraction: 0.35,
  twistTipRad: 0,
  carabinerBehindLeadingEdge: 0.4,
  heightM: 7.2,
};

/** Four rows, eight attached ribs a side, even ribs, no tip line: the wing that an independent program was run for. */
export const FOUR_ROW_WING: InventedOptions = {
  tip: false,
  cells: 32,
  weightKg: { min: 95, max: 95 },
  shape: { ...MEDIUM_SHAPE, flatSpanM: 11.2, projectedSpanM: 8.85, rootChordM: 2.72, heightM: 7 },
};

export interface InventedOptions extends FactoryOptions {
  readonly shape?: InventedShape;
  readonly cells?: number;
  /** What the plan tells of the canopy: all figures, the flat area alone, or nothing. */
  readonly told?: "all" | "area" | "nothing";
  /** Chord fractions of rows other than the factory's. */
  readonly fractions?: Readonly<Partial<Record<"A" | "B" | "C" | "D", number>>>;
  readonly weightKg?: { readonly min: number; readonly max: number };
}

export function outlineOf(shape: InventedShape): OutlineParameters {
  return {
    flatHalfSpanM: shape.flatSpanM / 2,
    rootChordM: shape.rootChordM,
    tipChordM: shape.tipChordM,
    tipBankRad: tipBankFromSpans(shape.flatSpanM, shape.projectedSpanM, shape.arcExponent),
    arcExponent: shape.arcExponent,
    sweepFraction: shape.sweepFraction,
    twistTipRad: shape.twistTipRad,
  };
}

type InventedPlan = ReturnType<typeof samplePlan>;

/** The plan file; lengths aren't rounded, so that nothing is left for the fit to miss. */
export function inventedPlan(options: InventedOptions = {}): InventedPlan {
  const { shape = MEDIUM_SHAPE, told = "all", cells = 46 } = options;
  const outline = outlineOf(shape);
  const figures = outlineFigures(outline);
  const plan = samplePlan(options);
  const { rowChordFractions, carabinerSpacingM } = plan.canopy as NonNullable<PlanFile["canopy"]>;
  plan.canopy = {
    cells,
    rowChordFractions: { ...rowChordFractions, ...options.fractions },
    ...(carabinerSpacingM ? { carabinerSpacingM } : {}),
    ...(told === "nothing" ? {} : { flatAreaM2: figures.flatAreaM2 }),
    ...(told === "all"
      ? {
          flatSpanM: shape.flatSpanM,
          projectedSpanM: shape.projectedSpanM,
          rootChordM: shape.rootChordM,
          tipChordM: shape.tipChordM,
        }
      : {}),
  };
  if (options.weightKg) plan.wing.allUpWeightKg = options.weightKg;
  reachTabs(plan, shape, outline);
  return plan;
}

export function inventedWing(options: InventedOptions = {}): Wing {
  return wingOf(inventedPlan(options));
}

/**
 * Lower lines so long that the cascades above them have room, then every cascade formed in equilibrium under its tabs'
 * loads, and every line that ends at a tab so long that it reaches it.
 */
function reachTabs(plan: InventedPlan, shape: InventedShape, outline: OutlineParameters): void {
  const wing = wingOf(plan);
  const hook: Vector = [0, -(wing.canopy.carabinerSpacingM ?? 0) / 2, 0];
  const { positions, loads } = knownTabs(wing, shape, outline);
  const lines = wing.lines.filter((line) => line.side === "left");
  const tabAt = new Map(wing.tabs.map((tab, i) => [tab.key, i]));
  const lengthM = new Map(lines.map((line) => [line.key, line.lengthM - line.loopTakeUpM]));

  const group = (roots: readonly Line[]): Line[] => {
    const all = [...roots];
    for (let i = 0; i < all.length; i++)
      all.push(...lines.filter((line) => all[i]?.carriesLines.includes(line.key)));
    return all;
  };
  const form = (members: readonly Line[], root: Vector, strapM: number | undefined): Vector | undefined => {
    const strap = strapM === undefined ? 0 : 1;
    const rootGap = strapM ?? 0;
    for (const line of members) {
      if (line.tier !== 1) continue;
      const above = wing.paths.flatMap((path, i) => (path.lineKeys[0] === line.key ? [i] : []));
      const mean = (values: readonly number[]): number =>
        values.reduce((sum, v) => sum + v, 0) / values.length;
      const reach = mean(above.map((tab) => distance(root, positions[tab] as Vector))) - rootGap;
      const rest = mean(
        above.map((tab) => {
          const upper = wing.paths[tab]?.lineKeys.slice(1) ?? [];
          return upper.reduce((sum, key) => sum + (lengthM.get(key) ?? 0), 0);
        }),
      );
      lengthM.set(line.key, reach - rest);
    }
    const placeOf = new Map(members.map((line, i) => [line.key, i + strap]));
    const ending = members.map((line) =>
      line.carriesLines.length > 0 ? -1 : (tabAt.get(line.carriesTabs[0] ?? "") ?? -1),
    );
    const used = ending.filter((tab) => tab >= 0);
    const formed = formCascade(
      {
        hangsOn: [
          ...(strap ? [-1] : []),
          ...members.map((line) =>
            line.hangsOn.kind === "line" ? (placeOf.get(line.hangsOn.lineKey) as number) : strap - 1,
          ),
        ],
        tab: [...(strap ? [-1] : []), ...ending.map((tab) => (tab < 0 ? -1 : used.indexOf(tab)))],
        wantedM: [
          ...(strapM === undefined ? [] : [strapM]),
          ...members.map((line) => lengthM.get(line.key) as number),
        ],
      },
      used.map((tab) => positions[tab] as Vector),
      used.map((tab) => loads[tab] as Vector),
      root,
    );
    if (!formed.converged)
      throw new Error(`the cascade of ${members[0]?.id} has no equilibrium under this canopy`);
    members.forEach((line, i) => {
      lengthM.set(line.key, formed.lengthsM[i + strap] as number);
    });
    return formed.upperEnds[0] as Vector;
  };

  let pulley: Vector | undefined;
  for (const maillon of wing.maillons) {
    const hung = lines.filter(
      (line) => line.hangsOn.kind === "maillon" && line.hangsOn.maillonId === maillon.id,
    );
    if (hung.length === 0) continue;
    const end = form(
      group(hung),
      hook,
      wing.risers.find((riser) => riser.id === maillon.riserId)?.lengthM,
    ) as Vector;
    if (maillon.riserId === wing.brakes?.pulleyRiserId && pulley === undefined)
      pulley = add(hook, towards(hook, end), wing.brakes.pulleyHeightM);
  }
  const braked = lines.filter((line) => line.hangsOn.kind === "pulley");
  if (pulley && braked.length > 0) form(group(braked), pulley, undefined);
  for (const written of plan.sides.mirrored.lines)
    written.lengthMm = 1000 * (lengthM.get(`left:${written.id}`) as number) + (written.loop?.takeUpMm ?? 0);
}

/** Where the known canopy has each tab, and the load that it pulls with: the same pressure over the area that it carries. */
function knownTabs(
  wing: Wing,
  shape: InventedShape,
  outline: OutlineParameters,
): { positions: Vector[]; loads: Vector[] } {
  const stations = attachedStations(wing, wing.canopy.cells);
  const offset: Vector = [-shape.carabinerBehindLeadingEdge * shape.rootChordM, 0, shape.heightM];
  const positions: Vector[] = [];
  const loads: Vector[] = [];
  stations.forEach((station, s) => {
    const frame = ribFrame(outline, station.sigma);
    const loaded = station.tabs.filter((tab) => tab.row !== "brake");
    const shares = chordShares(loaded.map((tab) => tab.chordFraction));
    const area = frame.chordM * tributaryWidth(stations, s);
    for (const tab of station.tabs) {
      const onRib = pointOnRib(frame, tab.chordFraction, sectionHeight(tab.chordFraction, "lower"));
      positions[tab.tab] = add(onRib, offset);
      const share = tab.row === "brake" ? 0.05 : area * (shares[loaded.indexOf(tab)] as number);
      loads[tab.tab] = add([0, 0, 0], frame.normal, 1000 * share);
    }
  });
  return { positions, loads };
}
