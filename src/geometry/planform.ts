/** Chord along the flat span. σ is the distance from the middle along the flat half-span over its length, in [0, 1]. */
import { integrateHalfSpan } from "./quadrature.ts";

/** Exponent of the ellipse, and of a planform that doesn't say another. */
export const ELLIPSE_EXPONENT = 0.5;

/**
 * Chord of the ellipse-like planform, c(σ) = c_t + (c_0 − c_t)·(1 − σ²)^m [m].
 * The tip chord stays finite and the tip is rounded in plan. With m = ½ the part above the tip chord is an ellipse; a greater
 * one draws the tips out.
 */
export function planformChord(
  rootChordM: number,
  tipChordM: number,
  sigma: number,
  exponent = ELLIPSE_EXPONENT,
): number {
  const left = Math.max(0, 1 - sigma * sigma);
  return (
    tipChordM +
    (rootChordM - tipChordM) * (exponent === ELLIPSE_EXPONENT ? Math.sqrt(left) : left ** exponent)
  );
}

/** ∫(1 − σ²)^m dσ over [0, 1]: the mean of the part of the chord above the tip's, over its largest; π/4 for the ellipse. */
export function planformFullness(exponent = ELLIPSE_EXPONENT): number {
  if (exponent === ELLIPSE_EXPONENT) return Math.PI / 4;
  return integrateHalfSpan((_, ellipse) => ellipse ** (2 * exponent));
}

/** Flat area of that planform, both sides: 2·h·(c_t + (c_0 − c_t)·∫(1 − σ²)^m dσ) with h the flat half-span [m²]. */
export function planformArea(
  flatHalfSpanM: number,
  rootChordM: number,
  tipChordM: number,
  exponent = ELLIPSE_EXPONENT,
): number {
  return 2 * flatHalfSpanM * (tipChordM + (rootChordM - tipChordM) * planformFullness(exponent));
}

/**
 * Chord of a truncated ellipse, c(σ) = c_root·sqrt(1 − (σ/a)²) with a = 1/sqrt(1 − (c_tip/c_root)²) [m]:
 * an ellipse longer than the wing, cut where its chord is the tip's.
 *
 * Source: P. Heatwole, Parametric Paraglider Modeling, MSc thesis, 2022, doi 10.5281/zenodo.6383051.
 * @throws RangeError unless 0 < tip chord < root chord and σ is in [0, 1].
 */
export function truncatedEllipseChord(rootChordM: number, tipChordM: number, sigma: number): number {
  if (!(tipChordM > 0 && tipChordM < rootChordM)) {
    throw new RangeError(
      `Got root chord ${rootChordM} m and tip chord ${tipChordM} m when expected 0 < tip < root.`,
    );
  }
  if (!(sigma >= 0 && sigma <= 1)) throw new RangeError(`Got σ = ${sigma} when expected 0 to 1.`);
  const taper = tipChordM / rootChordM;
  return rootChordM * Math.sqrt(1 - sigma * sigma * (1 - taper * taper));
}
