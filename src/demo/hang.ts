/** Where an invented wing's tabs lie over its carabiner, and how hard each pulls. One side, the right. */
import { chordShares } from "../geometry/chord-load.ts";
import { pointOnRib, type RibFrame, ribFrame, ribSigma } from "../geometry/outline.ts";
import { sectionHeight } from "../geometry/section.ts";
import { add, type Vector } from "../geometry/vector.ts";
import type { Branch, RibTab, RowSpec, WingSpec } from "./wing-spec.ts";

export interface HungTab {
  readonly row: RowSpec;
  readonly rib: number;
  readonly chordFraction: number;
  /** Chord of its rib [m]. */
  readonly chordM: number;
  /** Origin midway between the carabiners, x aft, y to the pilot's right, z up [m]. */
  readonly position: Vector;
  /** Pull of the canopy on the tab's line [N]; along the rib's normal. */
  readonly force: Vector;
}

/** Standard acceleration of free fall [m/s²]. */
const GRAVITY = 9.80665;

/**
 * A brake tab's pull over what the pressure on its strip would give: the trailing edge hardly lifts, the fan only hangs in its
 * own drag. Assumed; only the ratios between the brake tabs shape the fan.
 */
const BRAKE_PULL = 0.01;

/**
 * All tabs of one side in the order of the spec's rows. Pressure on the strip of canopy nearest to each rib that carries rows is
 * shared among its tabs along the chord; all pulls are scaled so that they carry half of the all-up weight.
 */
export function hangTabs(spec: WingSpec): HungTab[] {
  const places = spec.rows.flatMap((row) =>
    tabsOf(row.lowerLines).map((tab) => ({ row, ...placeOf(tab, row) })),
  );
  const offset = offsetOverCarabiner(spec, places);
  const frames = new Map<number, RibFrame>();
  for (const { rib } of places) frames.set(rib, ribFrame(spec.outline, ribSigma(rib, spec.cells)));
  const loads = new Map<object, number>();
  for (const isBrake of [false, true]) {
    const ofKind = places.filter(({ row }) => (row.row === "brake") === isBrake);
    const ribs = [...new Set(ofKind.map(({ rib }) => rib))].sort((a, b) => a - b);
    for (const [order, rib] of ribs.entries()) {
      const onRib = ofKind
        .filter((place) => place.rib === rib)
        .sort((a, b) => a.chordFraction - b.chordFraction);
      const shares = isBrake
        ? onRib.map(() => BRAKE_PULL)
        : chordShares(onRib.map((place) => place.chordFraction));
      const strip = stripWidth(ribs, order, spec.cells) * (frames.get(rib) as RibFrame).chordM;
      onRib.forEach((place, i) => {
        loads.set(place, strip * (shares[i] as number));
      });
    }
  }
  const carried = places
    .filter(({ row }) => row.row !== "brake")
    .reduce(
      (sum, place) => sum + (loads.get(place) as number) * (frames.get(place.rib) as RibFrame).normal[2],
      0,
    );
  const scale = (spec.formedAtKg * GRAVITY) / 2 / carried;
  return places.map((place) => {
    const frame = frames.get(place.rib) as RibFrame;
    const onWing = pointOnRib(frame, place.chordFraction, sectionHeight(place.chordFraction, "lower"));
    return {
      ...place,
      chordM: frame.chordM,
      position: add(onWing, offset),
      force: add([0, 0, 0], frame.normal, scale * (loads.get(place) as number)),
    };
  });
}

/** The tabs of a row's cascades from the middle outwards. */
export function tabsOf(branches: readonly Branch[]): RibTab[] {
  return branches.flatMap((branch) => (isCarrier(branch) ? tabsOf(branch) : [branch]));
}

/** True for a branch that carries others, false for a tab. */
export function isCarrier(branch: Branch): branch is readonly Branch[] {
  return Array.isArray(branch);
}

function placeOf(tab: RibTab, row: RowSpec): { rib: number; chordFraction: number } {
  return typeof tab === "number" ? { rib: tab, chordFraction: row.chordFraction } : { ...tab };
}

/** Part of the half-span that lies nearest to one of the ribs; the first takes all to the middle, the last all to the tip. */
function stripWidth(ribs: readonly number[], order: number, cells: number): number {
  const sigma = (i: number) => ribSigma(ribs[i] as number, cells);
  const inner = order === 0 ? 0 : (sigma(order - 1) + sigma(order)) / 2;
  const outer = order === ribs.length - 1 ? 1 : (sigma(order) + sigma(order + 1)) / 2;
  return outer - inner;
}

/** From the outline's origin to midway between the carabiners: fore and aft by the riser point, up by the central line's length. */
function offsetOverCarabiner(
  spec: WingSpec,
  places: readonly { row: RowSpec; rib: number; chordFraction: number }[],
): Vector {
  const front = places[0];
  if (!front) throw new RangeError("The wing has no tabs.");
  const frame = ribFrame(spec.outline, ribSigma(front.rib, spec.cells));
  const tab = pointOnRib(frame, front.chordFraction, sectionHeight(front.chordFraction, "lower"));
  const aft = -spec.riserPointOverChord * spec.outline.rootChordM;
  const length = spec.centralLineOverSpan * 2 * spec.outline.flatHalfSpanM;
  const sideways = tab[1] - spec.carabinerSpacingM / 2;
  const rise = Math.sqrt(length ** 2 - (tab[0] + aft) ** 2 - sideways ** 2);
  return [aft, 0, rise - tab[2]];
}
