/**
 * A section to draw the canopy with: the NACA five-digit family's 230 mean line and four-digit thickness, 15 % thick.
 * Heights are over the chord line in chords, outwards positive; both surfaces meet at the trailing edge.
 *
 * The formulas are those of Jacobs, Ward & Pinkerton, NACA Report 460 (1933, thickness) and Jacobs & Pinkerton, NACA Report
 * 537 (1935, mean line), coefficients from memory. Thickness is laid off along the normal of the chord and not of the mean
 * line, so that a height belongs to its own chord fraction; at this camber the difference is below 0.1 % of the chord
 * behind 10 % chord.
 */

const THICKNESS = 0.15;
/** Mean line 230: design lift coefficient 0.3, highest at 15 % chord. */
const MEAN_LINE_R = 0.2025;
const MEAN_LINE_K = 15.957;

/** Half the thickness at chord fraction ξ, over chord; the last coefficient closes the trailing edge. */
export function sectionHalfThickness(xi: number, thickness = THICKNESS): number {
  return (
    5 * thickness * (0.2969 * Math.sqrt(xi) + xi * (-0.126 + xi * (-0.3516 + xi * (0.2843 - 0.1036 * xi))))
  );
}

/** Height of the mean line at chord fraction ξ, over chord. */
export function sectionMeanLine(xi: number): number {
  const r = MEAN_LINE_R;
  const scale = MEAN_LINE_K / 6;
  if (xi < r) return scale * xi * (xi * (xi - 3 * r) + r * r * (3 - r));
  return scale * r * r * r * (1 - xi);
}

/**
 * Height of a surface over the chord line at chord fraction ξ in [0, 1], in chords. The tabs sit on the lower surface:
 * `pointOnRib(frame, xi, sectionHeight(xi, "lower"))`.
 * @throws RangeError where ξ is outside [0, 1].
 */
export function sectionHeight(xi: number, surface: "upper" | "lower"): number {
  if (!(xi >= 0 && xi <= 1)) throw new RangeError(`Got chord fraction ${xi} when expected 0 to 1.`);
  const half = sectionHalfThickness(xi);
  return sectionMeanLine(xi) + (surface === "upper" ? half : -half);
}
