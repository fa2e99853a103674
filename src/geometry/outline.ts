/**
 * The canopy's outline in space: planform laid on the arc.
 *
 * Wing frame, before rigging moves it: x aft, y to the pilot's right, z up; the root chord lies along +x with its leading
 * edge at the origin. σ is the distance along the flat half-span over its length: signed where it says so, −1 at the left
 * tip, 0 in the middle, +1 at the right tip.
 */
import { arcBank, arcPoint, spanRatio } from "./arc.ts";
import { ELLIPSE_EXPONENT, planformArea, planformChord } from "./planform.ts";
import { integrateHalfSpan } from "./quadrature.ts";

export type { ArcPoint, EllipticArc } from "./arc.ts";
export { ellipticArc, tipBankFromSpans } from "./arc.ts";
export { truncatedEllipseChord } from "./planform.ts";

/** A vector or point, x aft, y to the pilot's right, z up. */
export type Vec3 = readonly [number, number, number];

/** The few numbers that give a canopy its shape. Lengths in metres, angles in radians. */
export interface OutlineParameters {
  readonly flatHalfSpanM: number;
  readonly rootChordM: number;
  readonly tipChordM: number;
  /** Bank θ_t of the span direction at the tip; 0 is a flat wing. */
  readonly tipBankRad: number;
  /** Exponent p of the bank's growth, θ(σ) = θ_t·σ^p; 1 is a circular arc. */
  readonly arcExponent: number;
  /** Share of the bank that grows close to the tips, θ(σ) = θ_t·((1 − s)·σ^p + s·σ^4.5); 0 if left out. */
  readonly arcTipShare?: number;
  /** Exponent m of the chord, c(σ) = c_t + (c_0 − c_t)·(1 − σ²)^m; ½, an ellipse, if left out. */
  readonly planformExponent?: number;
  /** How the leading edge curves back: x_LE(σ) = sweepFraction·(c_0 − c(σ)); 0.5 keeps mid-chord straight. */
  readonly sweepFraction: number;
  /** Twist of the tip, nose up positive, growing as σ²; about the leading edge. */
  readonly twistTipRad?: number;
}

/**
 * A rib's place and directions. The three unit vectors are right-handed in this order: chord × span = normal
 * (x × y = z at the middle). The span direction follows the arc towards the pilot's right on both sides.
 */
export interface RibFrame {
  /** Signed, −1 left tip to +1 right tip. */
  readonly sigma: number;
  readonly chordM: number;
  /** Leading edge [m]. */
  readonly origin: Vec3;
  /** Aft along the chord. */
  readonly chordDirection: Vec3;
  /** Away from the lines, up at the middle. */
  readonly normal: Vec3;
  readonly spanDirection: Vec3;
}

/**
 * Place of a rib at signed σ in [−1, 1], wing frame.
 * Left and right are mirror images: equal chord and x, opposite y.
 * @throws RangeError where σ is outside [−1, 1] or a length or the arc's exponent isn't above 0.
 */
export function ribFrame(parameters: OutlineParameters, sigmaSigned: number): RibFrame {
  requireUsable(parameters);
  const sigma = Math.abs(sigmaSigned);
  if (!(sigma <= 1)) throw new RangeError(`Got σ = ${sigmaSigned} when expected −1 to 1.`);
  const side = sigmaSigned < 0 ? -1 : 1;
  const { flatHalfSpanM, rootChordM, tipChordM, tipBankRad, arcExponent, sweepFraction } = parameters;
  const chordM = planformChord(rootChordM, tipChordM, sigma, parameters.planformExponent);
  const arc = arcPoint(flatHalfSpanM, tipBankRad, arcExponent, sigma, parameters.arcTipShare);
  const bank = side * arc.bankRad;
  const sinBank = Math.sin(bank);
  const cosBank = Math.cos(bank);
  const twist = (parameters.twistTipRad ?? 0) * sigma * sigma;
  const sinTwist = Math.sin(twist);
  const cosTwist = Math.cos(twist);
  return {
    sigma: sigmaSigned,
    chordM,
    origin: [sweepFraction * (rootChordM - chordM), side * arc.y, arc.z],
    chordDirection: [cosTwist, -sinTwist * sinBank, -sinTwist * cosBank],
    normal: [sinTwist, cosTwist * sinBank, cosTwist * cosBank],
    spanDirection: [0, cosBank, -sinBank],
  };
}

/** Point on a rib at a fraction of the chord from the leading edge and a height over the chord line, in chords, along the normal [m]. */
export function pointOnRib(
  frame: RibFrame,
  chordFraction: number,
  heightOverChord = 0,
): [number, number, number] {
  const along = chordFraction * frame.chordM;
  const above = heightOverChord * frame.chordM;
  const { origin, chordDirection, normal } = frame;
  return [
    origin[0] + along * chordDirection[0] + above * normal[0],
    origin[1] + along * chordDirection[1] + above * normal[1],
    origin[2] + along * chordDirection[2] + above * normal[2],
  ];
}

/**
 * σ in [0, 1] of a cell wall, for cells of equal width on the flat wing.
 * Ribs count outwards from the middle, 1 = innermost: with an even number of cells rib 1 is the middle wall (σ = 0),
 * with an odd number it stands half a cell off the middle.
 * @throws RangeError where the rib isn't a whole number from 1 to the tip's.
 */
export function ribSigma(rib: number, cells: number): number {
  const walls = cells / 2;
  const last = Math.floor(walls) + 1;
  if (!(Number.isInteger(cells) && cells >= 1))
    throw new RangeError(`Got ${cells} cells when expected 1 or more.`);
  if (!(Number.isInteger(rib) && rib >= 1 && rib <= last)) {
    throw new RangeError(`Got rib ${rib} when expected 1 to ${last} for ${cells} cells.`);
  }
  return (cells % 2 === 0 ? rib - 1 : rib - 0.5) / walls;
}

/** What a data sheet says of a canopy. */
export interface OutlineFigures {
  readonly flatAreaM2: number;
  readonly flatSpanM: number;
  readonly projectedSpanM: number;
  /** Area of the shadow on the plane of the root chord and the span, sun at the zenith. */
  readonly projectedAreaM2: number;
  /** Flat span² over flat area. */
  readonly aspectRatioFlat: number;
  /** From the tips' leading edge up to the middle's. */
  readonly archHeightM: number;
}

/** The figures of a data sheet that follow from the outline. Flat area in closed form, the others by quadrature to rounding. */
export function outlineFigures(parameters: OutlineParameters): OutlineFigures {
  requireUsable(parameters);
  const { flatHalfSpanM, rootChordM, tipChordM, tipBankRad, arcExponent } = parameters;
  const { arcTipShare, planformExponent = ELLIPSE_EXPONENT } = parameters;
  const twistTip = parameters.twistTipRad ?? 0;
  const flatSpanM = 2 * flatHalfSpanM;
  const flatAreaM2 = planformArea(flatHalfSpanM, rootChordM, tipChordM, parameters.planformExponent);
  const shadow = integrateHalfSpan(
    (sigma, ellipse) =>
      (tipChordM + (rootChordM - tipChordM) * ellipse ** (2 * planformExponent)) *
      Math.cos(arcBank(tipBankRad, arcExponent, sigma, arcTipShare)) *
      Math.cos(twistTip * sigma * sigma),
  );
  return {
    flatAreaM2,
    flatSpanM,
    projectedSpanM: flatSpanM * spanRatio(tipBankRad, arcExponent, arcTipShare),
    projectedAreaM2: flatSpanM * shadow,
    aspectRatioFlat: (flatSpanM * flatSpanM) / flatAreaM2,
    archHeightM: -arcPoint(flatHalfSpanM, tipBankRad, arcExponent, 1, arcTipShare).z,
  };
}

function requireUsable(parameters: OutlineParameters): void {
  const { flatHalfSpanM, rootChordM, tipChordM, arcExponent } = parameters;
  if (!(flatHalfSpanM > 0 && rootChordM > 0 && tipChordM > 0 && arcExponent > 0)) {
    throw new RangeError(
      `Got half-span ${flatHalfSpanM} m, root chord ${rootChordM} m, tip chord ${tipChordM} m, arc exponent ${arcExponent} when expected all above 0.`,
    );
  }
}
