/**
 * What a loop takes up by geometry: an estimate where nothing was measured, with an uncertainty made of stated
 * assumptions.
 */
import { combine, rectangular } from "../readings/index.ts";
import type { Key } from "../words/index.ts";
import { isGiven } from "./kinds.ts";
import type { LoopKind } from "./model.ts";

/** A bar where the plan gives none [m]: a usual maillon's; common practice, no source. */
export const USUAL_BAR_M = 0.0045;

/** A part of an estimate's uncertainty: how it's taken. */
export interface TakeUpAssumption {
  readonly label: Key;
  /** Largest error either way, all within alike (rectangular): metres, or where `relative` a share. */
  readonly halfWidth: number;
  readonly relative: boolean;
  readonly reason: Key;
}

/** All assumptions, no source for any: whoever knows better measures on the bench, which replaces the estimate. */
export const TAKE_UP_ASSUMPTIONS = {
  bar: {
    label: "workshop.take-up.bar",
    halfWidth: 0.0001,
    relative: false,
    reason: "workshop.take-up.bar.why",
  },
  assumedBar: {
    label: "workshop.take-up.assumed-bar",
    halfWidth: 0.001,
    relative: false,
    reason: "workshop.take-up.assumed-bar.why",
  },
  line: {
    label: "workshop.take-up.line",
    halfWidth: 0.15,
    relative: true,
    reason: "workshop.take-up.line.why",
  },
  bridge: {
    label: "workshop.take-up.bridge",
    halfWidth: 0.2,
    relative: true,
    reason: "workshop.take-up.bridge.why",
  },
  snug: {
    label: "workshop.take-up.snug",
    halfWidth: 0.0005,
    relative: false,
    reason: "workshop.take-up.snug.why",
  },
} as const satisfies Readonly<Record<string, TakeUpAssumption>>;

/** A take-up with its standard uncertainty [m]. */
export interface TakeUp {
  readonly takeUpM: number;
  readonly standardUncertaintyM: number;
}

/** Bridge term over the line's diameter: (π + 1)/2 = 2.07. See `estimateTakeUp`. */
const BRIDGE = (Math.PI + 1) / 2;

/**
 * Take-up of a kind of loop over the plain eye, by geometry; undefined for a kind of which only the name is known.
 *
 * An eye is a closed loop of line: its two legs run side by side to the splice, and a plain eye lies round the bar half
 * a turn. What more of the loop's length lies on the bar is missing from both legs together, so that the working length
 * loses half of it:
 *
 * - the centre line of a leg of diameter d runs round a bar of diameter D at radius (D + d)/2: a full turn holds
 *   π (D + d) and takes up **π (D + d)/2**;
 * - in a girth hitch each strand goes three quarters round the bar, together half a turn and a full one, and the bridge
 *   that joins them goes half way round the two legs. Legs are drawn round, side by side, centres d apart; the bridge's
 *   centre line keeps d from a leg's centre: two quarter circles of radius d and a straight d between them, (π + 1) d,
 *   of which half is taken up. So **π (D + d)/2 + (π + 1) d/2**, and (π + 1)/2 = 2.07.
 *
 * The pitch of a turn beside the last (a diameter to the side, under 1 % of its length) and the narrowing of the eye
 * towards its splice (under 1 % from an eye of eight bar diameters on) are left out.
 *
 * The standard uncertainty (JCGM 100, rectangular parts combined as independent) is made of `TAKE_UP_ASSUMPTIONS`:
 * bar, line as it lies, bridge, and the tying. The plain eye takes up nothing by definition, without uncertainty.
 *
 * Holds for a round metal bar that is at least as thick as the line, a line that lies in single turns side by side, and
 * legs as thick as the line (no sleeve, thimble or thickened splice on the bar). It does not hold for soft links, where
 * eye and link deform each other, nor for turns that ride up on each other. An estimate is never a measurement: the
 * bench decides.
 *
 * @param barDiameterM diameter of the bar [m]
 * @param lineDiameterM diameter of one leg of the eye [m]
 * @param barAssumed the bar's diameter is a usual one, not known
 * @throws RangeError for a diameter that isn't above 0
 */
export function estimateTakeUp(
  kind: LoopKind,
  barDiameterM: number,
  lineDiameterM: number,
  barAssumed = false,
): TakeUp | undefined {
  if (!(barDiameterM > 0 && lineDiameterM > 0))
    throw new RangeError(
      `Got a bar of ${barDiameterM} m and a line of ${lineDiameterM} m; both must be above 0.`,
    );
  if (isGiven(kind)) return undefined;
  if (kind.turns === 0 && !kind.girth) return { takeUpM: 0, standardUncertaintyM: 0 };

  const perDiameter = (kind.turns * Math.PI) / 2;
  const bridgePerLine = kind.girth ? BRIDGE : 0;
  const { line, bridge, snug } = TAKE_UP_ASSUMPTIONS;
  const { standardUncertainty } = combine([
    { sensitivity: perDiameter, uncertainty: barUncertaintyM(barAssumed) },
    { sensitivity: perDiameter + bridgePerLine, uncertainty: rectangular(line.halfWidth * lineDiameterM) },
    { sensitivity: bridgePerLine * lineDiameterM, uncertainty: rectangular(bridge.halfWidth) },
    { sensitivity: 1, uncertainty: rectangular(snug.halfWidth) },
  ]);
  return {
    takeUpM: perDiameter * (barDiameterM + lineDiameterM) + bridgePerLine * lineDiameterM,
    standardUncertaintyM: standardUncertainty,
  };
}

/** Standard uncertainty of a bar's diameter, given by the plan or assumed [m]. */
export function barUncertaintyM(barAssumed: boolean): number {
  return rectangular((barAssumed ? TAKE_UP_ASSUMPTIONS.assumedBar : TAKE_UP_ASSUMPTIONS.bar).halfWidth);
}

/**
 * Whether bar and line are within what the estimate is meant for: a bar of 2.5 to 8 mm, a line of 0.7 to 2.5 mm, the
 * line no thicker than the bar. Bounds are an assumption, about what maillons and lower lines are made in.
 */
export function estimateHolds(barDiameterM: number, lineDiameterM: number): boolean {
  return (
    barDiameterM >= 0.0025 &&
    barDiameterM <= 0.008 &&
    lineDiameterM >= 0.0007 &&
    lineDiameterM <= 0.0025 &&
    lineDiameterM <= barDiameterM
  );
}
