/**
 * The wing as specified: plain read-only values in SI units, both sides spelled out.
 *
 * A plan file is parsed into this once, at the edge; everything further in works with these types only.
 * Frame: origin midway between the two main carabiners, x aft, y to the pilot's right, z up.
 */

export type Side = "left" | "right";
export const SIDES: readonly Side[] = ["left", "right"];

/** Row of a line or tab: A (front) to D (rear), the tip (stabilo) line, the brake. */
export const ROWS = ["A", "B", "C", "D", "tip", "brake"] as const;
export type Row = (typeof ROWS)[number];

export interface Material {
  readonly id: string;
  readonly fibre: string | undefined;
  readonly diameterM: number;
  /** Axial stiffness EA [N]. */
  readonly stiffnessN: number;
  /** True where the plan gave no stiffness and a default for the diameter was taken. */
  readonly stiffnessAssumed: boolean;
  /** Mass per length [kg/m]. */
  readonly massPerLengthKgM: number;
  readonly breakingForceN: number | undefined;
}

/** A riser strap from the carabiner to its maillon(s). The same on both sides. */
export interface Riser {
  readonly id: string;
  readonly lengthM: number;
}

export interface Maillon {
  readonly id: string;
  readonly riserId: string;
  readonly barDiameterM: number | undefined;
}

/** What a line's lower end is fixed to. */
export type Anchor =
  | { readonly kind: "maillon"; readonly maillonId: string }
  | { readonly kind: "line"; readonly lineKey: string }
  | { readonly kind: "pulley" };

export interface Line {
  /** Unique in the wing: `left:A1`. */
  readonly key: string;
  /** The plan's name, the same on both sides. */
  readonly id: string;
  readonly side: Side;
  readonly row: Row;
  /** 1 = lower, counted upwards; at most 4. */
  readonly tier: number;
  readonly hangsOn: Anchor;
  /** Keys of the lines that hang on this one. */
  readonly carriesLines: readonly string[];
  /** Keys of the tabs at this line's upper end. */
  readonly carriesTabs: readonly string[];
  /** Specified length at the reference tension, before the loop takes any up [m]. */
  readonly lengthM: number;
  /** True where the plan gives no length for this line and the totals above it were divided by a typical cascade. */
  readonly lengthAssumed: boolean;
  readonly materialId: string;
  readonly colour: string | undefined;
  /** Length taken up by the loop specified at the maillon [m]; 0 for a plain eye. */
  readonly loopTakeUpM: number;
  readonly loopName: string | undefined;
  /** The same line on the other side, if there is one. */
  readonly mirrorKey: string | undefined;
}

/** Where a line meets the canopy. */
export interface Tab {
  /** Unique in the wing: `left:A1`. */
  readonly key: string;
  readonly id: string;
  readonly side: Side;
  readonly row: Row;
  /** Rib (cell wall) counted outwards from the wing's middle, 1 = innermost; with an even number of cells rib 1 is the middle one. */
  readonly rib: number;
  /** Distance from the leading edge over the chord. */
  readonly chordFraction: number | undefined;
  readonly lineKey: string;
  /** Specified total as the plan states it, if it does [m]. */
  readonly statedPathM: number | undefined;
  readonly mirrorKey: string | undefined;
}

/** The chain from the measuring datum to one tab. */
export interface Path {
  readonly tabKey: string;
  readonly side: Side;
  readonly row: Row;
  /** From the lowest line to the one at the tab. */
  readonly lineKeys: readonly string[];
  readonly riserId: string | undefined;
  readonly maillonId: string | undefined;
  /** Sum of the members' specified lengths less the take-up at the maillon; plus the riser strap if the datum is the riser's base [m]. */
  readonly specifiedM: number;
}

/** The measuring datum: from the base of the riser (main carabiner) or from the maillon, to the tab. */
export type Datum = "riser" | "maillon";

export interface Reference {
  readonly from: Datum;
  readonly tensionN: number;
  readonly trimmerM: number | undefined;
  readonly note: string | undefined;
}

/** The user's limits; each undefined where the user set none. */
export interface Tolerances {
  readonly pathM: number;
  readonly leftRightM: number;
  readonly rowToRowM: number;
  readonly minBrakeFreeTravelM: number;
  /** Where the limits come from, in the user's words; "common practice" by default. */
  readonly source: string;
}

export interface Canopy {
  readonly flatAreaM2: number | undefined;
  readonly flatSpanM: number | undefined;
  readonly projectedSpanM: number | undefined;
  readonly projectedAreaM2: number | undefined;
  readonly cells: number | undefined;
  readonly rootChordM: number | undefined;
  readonly tipChordM: number | undefined;
  readonly rowChordFractions: Readonly<Partial<Record<Row, number>>>;
  /** Distance between the two main carabiners [m]. */
  readonly carabinerSpacingM: number | undefined;
}

export interface Brakes {
  /** Riser whose strap carries the pulley. */
  readonly pulleyRiserId: string;
  /** Height of the pulley above the carabiner, along the strap [m]. */
  readonly pulleyHeightM: number;
  /** Pull of the handle before the trailing edge moves [m]. */
  readonly freeTravelM: number;
}

/** A trimmer or speed system: how far each riser's strap changes over its whole travel. */
export interface RigSetting {
  readonly id: string;
  readonly name: string;
  readonly kind: "trimmer" | "speed";
  /** Riser id → change of the strap at full travel, longer is positive [m]; risers left out stay. */
  readonly strapChangesM: Readonly<Record<string, number>>;
}

export interface Wing {
  readonly name: string;
  readonly size: string | undefined;
  readonly kind: "paraglider" | "paramotor";
  readonly allUpWeightKg: { readonly min: number; readonly max: number };
  readonly note: string | undefined;
  readonly canopy: Canopy;
  readonly materials: readonly Material[];
  readonly risers: readonly Riser[];
  readonly maillons: readonly Maillon[];
  readonly brakes: Brakes | undefined;
  readonly settings: readonly RigSetting[];
  readonly reference: Reference;
  readonly tolerances: Tolerances;
  readonly lines: readonly Line[];
  readonly tabs: readonly Tab[];
  /** One for every tab, in the tabs' order. */
  readonly paths: readonly Path[];
}

/** What is wrong with an input, where, and what to do: shown to the user as it is. */
export interface Problem {
  readonly severity: "error" | "warning";
  /** File, row, field or JSON path: `sides.left.lines[3].hangsOn`, `row 12, column "left"`. */
  readonly where: string;
  /** The line or tab concerned, as the plan names it. */
  readonly subject: string | undefined;
  /** What was found, and what was expected. */
  readonly message: string;
  readonly remedy: string;
}

/** A parsed value with what was noticed on the way, or only the problems. */
export type Parsed<T> =
  | { readonly ok: true; readonly value: T; readonly problems: readonly Problem[] }
  | { readonly ok: false; readonly problems: readonly Problem[] };
