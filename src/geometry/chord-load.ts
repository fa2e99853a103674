/** How the pressure is shared along the chord: thin-airfoil theory, integrated over the part that each tab carries. */

/**
 * A₁ and A₂ of a gently reflexed mean line of the five-digit family at the design lift 0.3 (thin-airfoil coefficients of
 * NACA 230: Anderson, Fundamentals of Aerodynamics, recalculated), used where the wing's own section is unknown.
 */
const MEAN_LINE_A1 = 0.0955064;
const MEAN_LINE_A2 = 0.0791636;

/** Section lift coefficient at trim that the default shares hold for; at 0.35 about a quarter less falls on the front row, at 0.9 a tenth more. */
export const TRIM_SECTION_LIFT = 0.6;

/**
 * Fraction of a section's lift that acts ahead of a chord fraction, thin-airfoil theory.
 *
 * With x/c = (1 − cos θ)/2 the pressure difference is Δc_p = 4 [A₀ (1 + cos θ)/sin θ + A₁ sin θ + A₂ sin 2θ], so its
 * integral from the leading edge is 2 [A₀ (θ + sin θ) + A₁ (θ/2 − sin 2θ/4) + A₂ ⅔ sin³ θ] and the whole
 * c_l = 2π (A₀ + A₁/2).
 */
export function liftAhead(chordFraction: number, sectionLift: number = TRIM_SECTION_LIFT): number {
  const theta = Math.acos(1 - 2 * Math.min(1, Math.max(0, chordFraction)));
  const a0 = sectionLift / (2 * Math.PI) - MEAN_LINE_A1 / 2;
  const sin = Math.sin(theta);
  const ahead =
    2 *
    (a0 * (theta + sin) +
      MEAN_LINE_A1 * (theta / 2 - Math.sin(2 * theta) / 4) +
      MEAN_LINE_A2 * (2 / 3) * sin ** 3);
  return ahead / sectionLift;
}

/** Steps of the quadrature along the chord, even in the angle θ, so fine near the nose. */
const STEPS = 256;

/**
 * Share of a rib's lift that each of its tabs carries: every strip of pressure goes to the two tabs beside it by the
 * lever rule, ahead of the first and behind the last tab by the same lever prolonged. So the shares keep both the force
 * and its moment, as far as no tab would have to push.
 *
 * @param chordFractions of the tabs, from front to rear, rising
 * @returns shares, none negative, summing to 1
 */
export function chordShares(
  chordFractions: readonly number[],
  sectionLift: number = TRIM_SECTION_LIFT,
): number[] {
  const shares = chordFractions.map(() => 0);
  if (shares.length === 1) return [1];
  let before = 0;
  let segment = 0;
  for (let step = 0; step < STEPS; step++) {
    const middle = (1 - Math.cos((Math.PI * (step + 0.5)) / STEPS)) / 2;
    const after = liftAhead((1 - Math.cos((Math.PI * (step + 1)) / STEPS)) / 2, sectionLift);
    while (segment < shares.length - 2 && middle > (chordFractions[segment + 1] as number)) segment++;
    const front = chordFractions[segment] as number;
    const rear = chordFractions[segment + 1] as number;
    const lever = (middle - front) / (rear - front);
    shares[segment] = (shares[segment] as number) + (after - before) * (1 - lever);
    shares[segment + 1] = (shares[segment + 1] as number) + (after - before) * lever;
    before = after;
  }
  const usable = shares.map((share) => Math.max(0.01, share));
  const sum = usable.reduce((total, share) => total + share, 0);
  return usable.map((share) => share / sum);
}
