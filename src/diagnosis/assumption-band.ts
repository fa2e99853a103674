/** How far every rib's incidence change may be off: named parts, each a half-width per rib, combined as independent. */
import type { RibChange, WingModel } from "../geometry/model.ts";
import { incidenceBand } from "../geometry/variants.ts";
import type { Side } from "../plan/model.ts";
import { weightedByChord } from "./chord-mean.ts";
import type { Session } from "./states.ts";

/** Standard gravity [m/s²]. */
const GRAVITY = 9.80665;

/** One cause of a band. */
export interface BandPart {
  readonly name: string;
  /** The two ends between which an assumption was moved, in words; undefined for a cause without ends. */
  readonly ends: readonly [low: string, high: string] | undefined;
  /** Per rib of the band [rad]. */
  readonly halfWidthRad: readonly number[];
  /** Of the chord-weighted means over all ribs and over each side's [rad]. */
  readonly meanRad: number;
  readonly leftRad: number;
  readonly rightRad: number;
}

/** Plain data, may cross a worker's boundary. */
export interface Band {
  readonly ribs: readonly { readonly side: Side; readonly rib: number }[];
  /** Root of the sum of the parts' squares, per rib and of the means [rad]. */
  readonly halfWidthRad: readonly number[];
  readonly meanRad: number;
  readonly leftRad: number;
  readonly rightRad: number;
  readonly parts: readonly BandPart[];
}

/** Parts into a band. @throws RangeError where a part has another number of ribs */
export function bandOf(ribs: Band["ribs"], parts: readonly BandPart[]): Band {
  for (const part of parts)
    if (part.halfWidthRad.length !== ribs.length)
      throw new RangeError(`${part.name} has ${part.halfWidthRad.length} ribs, expected ${ribs.length}`);
  const root = (of: (part: BandPart) => number): number => Math.hypot(...parts.map(of));
  return {
    ribs: ribs.map(({ side, rib }) => ({ side, rib })),
    halfWidthRad: ribs.map((_, i) => root((part) => part.halfWidthRad[i] as number)),
    meanRad: root((part) => part.meanRad),
    leftRad: root((part) => part.leftRad),
    rightRad: root((part) => part.rightRad),
    parts,
  };
}

/**
 * What assumed fabric, bending, load along the chord and weight leave on the incidence change specified → measured at trim.
 *
 * @param ribs that change, rib by rib
 * @param weightKg the plan's range
 * @returns undefined without readings
 */
export function assumptionBand(
  session: Session,
  ribs: readonly RibChange[],
  weightKg: { readonly min: number; readonly max: number },
): Band | undefined {
  const { model, structure, changes, measured } = session;
  if (changes === undefined || measured === undefined) return undefined;
  const { influences } = incidenceBand(
    model,
    changes,
    ribs,
    measured,
    { min: weightKg.min * GRAVITY, max: weightKg.max * GRAVITY },
    structure,
  );
  return bandOf(
    ribs,
    influences.map((influence): BandPart => {
      const moved = (side: Side | undefined): number =>
        Math.max(
          ...[influence.lowRad, influence.highRad].map((shift) =>
            Math.abs(meanShift(model, ribs, shift, side)),
          ),
        );
      return {
        name: influence.name,
        ends: [influence.low, influence.high],
        halfWidthRad: ribs.map((_, i) =>
          Math.max(Math.abs(influence.lowRad[i] ?? 0), Math.abs(influence.highRad[i] ?? 0)),
        ),
        meanRad: moved(undefined),
        leftRad: moved("left"),
        rightRad: moved("right"),
      };
    }),
  );
}

function meanShift(
  model: WingModel,
  ribs: readonly RibChange[],
  shift: readonly number[],
  side: Side | undefined,
): number {
  const chosen = ribs.flatMap((rib, i) =>
    side === undefined || rib.side === side ? [{ rib, value: shift[i] ?? 0 }] : [],
  );
  return (
    weightedByChord(
      model,
      chosen.map(({ rib }) => rib),
      chosen.map(({ value }) => value),
    ) ?? 0
  );
}
