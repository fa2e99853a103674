/**
 * Invented wings whose canopy is known, for the fit to find again: cascades in true equilibrium under a given outline, and a
 * plan that tells as much of it as is wanted.
 */
import { makeWing } from "../../src/demo/make-plan.ts";
import { SCHOOL_WING } from "../../src/demo/school-wing.ts";
import type { WingSpec } from "../../src/demo/wing-spec.ts";
import { type FittedCanopy, fitWing } from "../../src/geometry/fit.ts";
import { cascadeOf } from "../../src/geometry/lay-out.ts";
import { type OutlineParameters, outlineFigures, tipBankFromSpans } from "../../src/geometry/outline.ts";
import type { PlanFile, SparsePlanFile, Wing } from "../../src/plan/index.ts";
import { wingOf } from "../plan/factory.ts";

export interface Shape {
  readonly flatSpanM?: number;
  readonly projectedOverFlat?: number;
  readonly arcExponent?: number;
  readonly aspectRatio?: number;
  readonly taper?: number;
  readonly sweep?: number;
  readonly twistRad?: number;
  readonly carabinerBehind?: number;
  readonly centralOverSpan?: number;
  /** From front to rear; two to four. */
  readonly fractions?: readonly number[];
  readonly tipLine?: boolean;
}

/** All of the canopy, what a data sheet prints, or nothing. */
export type Told = "all" | "figures" | "nothing";

export interface KnownWing {
  readonly spec: WingSpec;
  readonly plan: PlanFile;
  /** What the fit should find, by its quantities' names. */
  readonly truth: ReadonlyMap<string, number>;
}

export function knownWing(shape: Shape = {}): KnownWing {
  const {
    flatSpanM = 11.6,
    projectedOverFlat = 0.79,
    arcExponent = 1.15,
    aspectRatio = 5.2,
    taper = 0.24,
    sweep = 0.37,
    twistRad = 0.01,
    carabinerBehind = 0.4,
    centralOverSpan = 0.61,
    fractions = [0.1, 0.29, 0.56, 0.77],
    tipLine = true,
  } = shape;
  const areaM2 = flatSpanM ** 2 / aspectRatio;
  const rootChordM = areaM2 / flatSpanM / (taper + ((1 - taper) * Math.PI) / 4);
  const outline: OutlineParameters = {
    flatHalfSpanM: flatSpanM / 2,
    rootChordM,
    tipChordM: taper * rootChordM,
    tipBankRad: tipBankFromSpans(1, projectedOverFlat, arcExponent),
    arcExponent,
    sweepFraction: sweep,
    twistTipRad: twistRad,
  };
  const names = ["A", "B", "C", "D"].slice(0, fractions.length);
  const rows = SCHOOL_WING.rows.flatMap((row) => {
    if (row.row === "brake") return [row];
    if (row.row === "tip") return tipLine ? [row] : [];
    const place = names.indexOf(row.row);
    return place < 0 ? [] : [{ ...row, chordFraction: fractions[place] as number }];
  });
  const onMaillons = new Set(rows.map((row) => row.hangsOn));
  const maillons = SCHOOL_WING.maillons.filter((maillon) => onMaillons.has(maillon.id));
  // Its settings move straps of rows that may be missing here.
  const { settings: _, ...school } = SCHOOL_WING;
  const spec: WingSpec = {
    ...school,
    outline,
    riserPointOverChord: carabinerBehind,
    centralLineOverSpan: centralOverSpan,
    rows,
    maillons,
    risers: SCHOOL_WING.risers.filter((riser) => maillons.some((maillon) => maillon.riser === riser.id)),
    brakes: { ...SCHOOL_WING.brakes, pulleyRiser: names.at(-1) as string },
  };
  const figures = outlineFigures(outline);
  return {
    spec,
    plan: makeWing(spec),
    truth: new Map([
      ["flat span", flatSpanM],
      ["projected over flat span", projectedOverFlat],
      ["arc exponent", arcExponent],
      ["aspect ratio", aspectRatio],
      ["tip chord over root chord", taper],
      ["leading edge sweep", sweep],
      ["tip twist", twistRad],
      ["carabiner behind leading edge", carabinerBehind],
      ["root chord", rootChordM],
      ["tip chord", outline.tipChordM],
      ["bank close to the tips", 0],
      ["planform exponent", 0.5],
      ["flat area", figures.flatAreaM2],
      ["projected span", figures.projectedSpanM],
      ["projected area", figures.projectedAreaM2],
      ["arch height", figures.archHeightM],
    ]),
  };
}

export interface Telling {
  readonly told: Told;
  /** Added to every total but the brakes', on both sides alike [mm]. */
  readonly noiseMm?: (tabId: string) => number;
  /** Leave the lines' lengths out, so that only the totals are told. */
  readonly totalsOnly?: boolean;
}

/** The plan as its owner might have it. */
export function tell(plan: PlanFile, { told, noiseMm, totalsOnly = false }: Telling): SparsePlanFile {
  const copy = structuredClone(plan) as PlanFile & { sides: { mirrored: unknown } };
  const half = copy.sides.mirrored as Extract<PlanFile["sides"], { mirrored: unknown }>["mirrored"];
  const { flatAreaM2, flatSpanM, projectedSpanM, cells } = plan.canopy ?? {};
  if (told !== "all") {
    if (told === "nothing") delete copy.canopy;
    else copy.canopy = { flatAreaM2, flatSpanM, projectedSpanM, cells } as NonNullable<PlanFile["canopy"]>;
    for (const tab of half.tabs) if (tab.row !== "tip") delete tab.chordFraction;
  }
  for (const tab of half.tabs) {
    if (tab.row === "brake" || !noiseMm) continue;
    const off = noiseMm(tab.id);
    const line = half.lines.find((each) => each.id === tab.line);
    if (line) line.lengthMm += off;
    if (tab.pathMm !== undefined) tab.pathMm += off;
  }
  if (totalsOnly) for (const line of half.lines) delete (line as { lengthMm?: number }).lengthMm;
  return copy;
}

export interface Fitted {
  readonly wing: Wing;
  readonly fit: FittedCanopy;
}

export function fitPlan(plan: SparsePlanFile): Fitted {
  const wing = wingOf(plan);
  return { wing, fit: fitWing(wing, cascadeOf(wing)).fitted };
}

/** What the fit found under a name: value, deviations, origin. */
export function found(fit: FittedCanopy, name: string): FittedCanopy["report"]["parameters"][number] {
  const parameter = fit.report.parameters.find((each) => each.name === name);
  if (!parameter) throw new Error(`the fit has no ${name}`);
  return parameter;
}
