/** One rib seen from the side: its section at a state, and the chord line, in the rib's own frame at the specified state. */
import type { AttachedRib, Equilibrium, WingModel } from "./model.ts";
import { sectionHeight } from "./section.ts";
import { at, dot, type Vector } from "./vector.ts";

/** A point of the rib's plane: aft of the specified leading edge and above the specified chord line [m]. */
export interface RibPoint {
  readonly aftM: number;
  readonly upM: number;
}

export interface RibView {
  readonly chordM: number;
  /** Round the section: trailing edge, upper surface, nose, lower surface, trailing edge. */
  readonly contour: readonly RibPoint[];
  readonly leadingEdge: RibPoint;
  readonly trailingEdge: RibPoint;
  readonly tabs: readonly {
    readonly tabKey: string;
    readonly row: AttachedRib["nodes"][number]["row"];
    readonly point: RibPoint;
  }[];
}

const STEPS = 40;

/**
 * The section of one attached rib at a state, its displacement from the specified state exaggerated.
 *
 * Between the tabs the displacement goes straight, ahead of the first and behind the last node it's prolonged.
 *
 * @param exaggeration factor on the displacement; 1 is true
 * @throws RangeError for a rib with fewer than two nodes
 */
export function ribView(
  model: WingModel,
  rib: AttachedRib,
  state: Equilibrium,
  exaggeration: number,
): RibView {
  if (rib.nodes.length < 2)
    throw new RangeError(`rib ${rib.rib} has ${rib.nodes.length} node, expected two or more`);
  const shifts = rib.nodes.map(({ node, chordFraction }) => {
    const a = at(model.specified.positions, node);
    const b = at(state.positions, node);
    const moved: Vector = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
    return {
      chordFraction,
      aft: exaggeration * dot(moved, rib.chordDirection),
      up: exaggeration * dot(moved, rib.normal),
    };
  });
  const shiftAt = (fraction: number): { aft: number; up: number } => {
    let k = 0;
    while (k < shifts.length - 2 && fraction > (shifts[k + 1] as (typeof shifts)[number]).chordFraction) k++;
    const front = shifts[k] as (typeof shifts)[number];
    const rear = shifts[k + 1] as (typeof shifts)[number];
    const width = rear.chordFraction - front.chordFraction;
    const t = width > 0 ? (fraction - front.chordFraction) / width : 0;
    return { aft: front.aft + t * (rear.aft - front.aft), up: front.up + t * (rear.up - front.up) };
  };
  const point = (fraction: number, heightOverChord: number): RibPoint => {
    const shift = shiftAt(fraction);
    return { aftM: fraction * rib.chordM + shift.aft, upM: heightOverChord * rib.chordM + shift.up };
  };
  const fractions = Array.from({ length: STEPS + 1 }, (_, k) => (1 + Math.cos((Math.PI * k) / STEPS)) / 2);
  const upper = fractions.map((fraction) => point(fraction, sectionHeight(fraction, "upper")));
  const lower = [...fractions].reverse().map((fraction) => point(fraction, sectionHeight(fraction, "lower")));
  return {
    chordM: rib.chordM,
    contour: [...upper, ...lower],
    leadingEdge: point(0, 0),
    trailingEdge: point(1, 0),
    tabs: rib.nodes.flatMap(({ tabKey, row, chordFraction }) =>
      tabKey === undefined
        ? []
        : [{ tabKey, row, point: point(chordFraction, sectionHeight(chordFraction, "lower")) }],
    ),
  };
}
