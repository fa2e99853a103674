/** What an invented wing is made from: outline, rows, the pattern of its cascades, materials. */
import type { OutlineParameters } from "../geometry/outline.ts";
import type { PlanFile, PlanMaterial, Row } from "../plan/index.ts";

/**
 * One branch of a cascade: a rib number where a line ends at a tab, or the branches that a line carries.
 * `[[2, 4], [6, 8]]` is a lower line with two middle lines of two tabs each.
 */
export type Branch = RibTab | readonly Branch[];

/** A tab by its rib, on the row's chord fraction unless it has its own. */
export type RibTab = number | { readonly rib: number; readonly chordFraction: number };

export interface RowSpec {
  readonly row: Row;
  /** What the row's names begin with: tab and top line `A1`, lower line `AL1`, middle line `AM1`. */
  readonly prefix: string;
  /** Maillon that the row's lower lines hang on, or `pulley`. */
  readonly hangsOn: string;
  readonly chordFraction: number;
  /** The lower lines from the middle outwards. */
  readonly lowerLines: readonly Branch[];
  /** About how far the lines above the lower one rise, by tier from the second upwards [m]; the lower lines take what is left. */
  readonly riseM: readonly number[];
  /** Material by tier from the lowest line; the last one also for lines that end at a tab. */
  readonly materials: readonly string[];
  readonly colour: string;
  /** Loop that the maker specifies on the row's lower lines. */
  readonly loop?: { readonly name: string; readonly takeUpMm: number };
}

export interface WingSpec {
  readonly wing: PlanFile["wing"];
  readonly outline: OutlineParameters;
  readonly cells: number;
  /** Where the carabiners hang: behind the leading edge of the root, in root chords. */
  readonly riserPointOverChord: number;
  /** From a carabiner to the innermost front tab over the flat span. */
  readonly centralLineOverSpan: number;
  readonly carabinerSpacingM: number;
  /** All-up weight that the cascades are formed under [kg]. */
  readonly formedAtKg: number;
  readonly materials: readonly PlanMaterial[];
  readonly risers: PlanFile["risers"];
  readonly maillons: PlanFile["maillons"];
  readonly brakes: NonNullable<PlanFile["brakes"]>;
  readonly settings?: NonNullable<PlanFile["settings"]>;
  readonly reference: PlanFile["reference"];
  readonly tolerances?: NonNullable<PlanFile["tolerances"]>;
  /** Rows from front to rear, then tip, then brake. */
  readonly rows: readonly RowSpec[];
}
