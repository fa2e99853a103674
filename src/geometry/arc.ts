/**
 * The canopy's arc seen from the front: y to the pilot's right, z up, z = 0 at the middle and negative outwards.
 * σ is the distance from the middle along the flat half-span over its length, in [0, 1].
 */
import { integrateFromZero, integrateSmooth } from "./quadrature.ts";

/** A point of the arc: position [m] and bank of the span direction, positive where it goes down outwards [rad]. */
export interface ArcPoint {
  readonly y: number;
  readonly z: number;
  readonly bankRad: number;
}

/**
 * Power with which the tips' own part of the bank grows. With it half an ellipse, whose tips stand upright, is met within
 * about a degree over nine tenths of the span (the arc of Belloc's reference wing, 2015).
 */
const TIP_POWER = 4.5;

/** Bank over the tip's bank, (1 − s)·σ^p + s·σ^4.5 with s the tips' share: 0 in the middle, 1 at the tip. */
function bankGrowth(arcExponent: number, sigma: number, tipShare: number): number {
  const gradual = sigma ** arcExponent;
  return tipShare === 0 ? gradual : gradual + tipShare * (sigma ** TIP_POWER - gradual);
}

/** Bank θ(σ) = θ_t·((1 − s)·σ^p + s·σ^4.5) [rad]; s, the share that grows close to the tips, is 0 if left out. */
export function arcBank(tipBankRad: number, arcExponent: number, sigma: number, tipShare = 0): number {
  return tipBankRad * bankGrowth(arcExponent, sigma, tipShare);
}

/** y = h·∫cos θ dσ and z = −h·∫sin θ dσ from the middle, h the flat half-span [m]. */
export function arcPoint(
  flatHalfSpanM: number,
  tipBankRad: number,
  arcExponent: number,
  sigma: number,
  tipShare = 0,
): ArcPoint {
  const y = integrateFromZero((x) => Math.cos(arcBank(tipBankRad, arcExponent, x, tipShare)), sigma);
  const z = -integrateFromZero((x) => Math.sin(arcBank(tipBankRad, arcExponent, x, tipShare)), sigma);
  return {
    y: flatHalfSpanM * y,
    z: flatHalfSpanM * z,
    bankRad: arcBank(tipBankRad, arcExponent, sigma, tipShare),
  };
}

/** Projected over flat span of the arc: ∫cos θ(σ) dσ over [0, 1]. */
export function spanRatio(tipBankRad: number, arcExponent: number, tipShare = 0): number {
  return integrateFromZero((x) => Math.cos(arcBank(tipBankRad, arcExponent, x, tipShare)), 1);
}

/**
 * Tip bank θ_t [rad] of the arc (see `arcBank`) that has the given projected over flat span.
 * The ratio falls steadily from 1 at θ_t = 0 to its smallest at θ_t = π, so the root is unique; Newton inside a bracket.
 *
 * @throws RangeError where the spans aren't positive, the exponent isn't, or no tip bank in [0, π] gives the ratio.
 */
export function tipBankFromSpans(
  flatSpanM: number,
  projectedSpanM: number,
  arcExponent: number,
  tipShare = 0,
): number {
  if (!(flatSpanM > 0 && projectedSpanM > 0 && arcExponent > 0)) {
    throw new RangeError(
      `Got flat span ${flatSpanM} m, projected span ${projectedSpanM} m, arc exponent ${arcExponent} when expected all above 0.`,
    );
  }
  const ratio = projectedSpanM / flatSpanM;
  const smallest = spanRatio(Math.PI, arcExponent, tipShare);
  if (!(ratio <= 1 && ratio >= smallest)) {
    throw new RangeError(
      `Got a projected span of ${ratio.toFixed(3)} of the flat span when expected ${smallest.toFixed(3)} to 1.`,
    );
  }
  if (ratio === 1) return 0;
  let low = 0;
  let high = Math.PI;
  // From the first terms of the cosine: 1 − ratio ≈ θ_t²/(2·(2p + 1)).
  let bank = Math.min(3, Math.sqrt(2 * (1 - ratio) * (2 * arcExponent + 1)));
  for (let pass = 0; pass < 100; pass++) {
    const excess = spanRatio(bank, arcExponent, tipShare) - ratio;
    if (excess > 0) low = bank;
    else high = bank;
    const slope = -integrateFromZero((x) => {
      const growth = bankGrowth(arcExponent, x, tipShare);
      return growth * Math.sin(bank * growth);
    }, 1);
    const newton = bank - excess / slope;
    const next = newton > low && newton < high ? newton : (low + high) / 2;
    if (Math.abs(next - bank) <= 4e-16 * Math.max(1, bank)) return next;
    bank = next;
  }
  return bank;
}

/** An arc that is part of an ellipse about the vertical axis. */
export interface EllipticArc {
  readonly flatSpanM: number;
  readonly projectedSpanM: number;
  readonly archHeightM: number;
  /** Semi-axes of the whole ellipse, across and upwards [m]. */
  readonly semiAxesM: readonly [number, number];
  /** Point at σ in [0, 1] of the flat half-span. */
  at(sigma: number): ArcPoint;
}

/**
 * Elliptic arc from the mean anhedral Γ (slope of the straight line from the middle to the tip) and the tip's roll φ.
 *
 * With q = tan Γ/tan φ, k1 = 1 − q, k2 = 1 − 2q the curve ⟨A·cos t, B·sin t⟩ with A = k1/√k2, B = (k1/k2)·tan Γ passes the
 * tip at y = 1; it is then scaled so that its length is the flat span. Needs φ ≥ 2Γ: at φ = 2Γ it is part of a circle, at φ = 90° half an ellipse.
 *
 * Source: P. Heatwole, Parametric Paraglider Modeling, MSc thesis, 2022, doi 10.5281/zenodo.6383051.
 * @throws RangeError unless 0 < 2Γ ≤ φ ≤ 90° and the span is above 0.
 */
export function ellipticArc(meanAnhedralRad: number, tipRollRad: number, flatSpanM: number): EllipticArc {
  if (
    !(meanAnhedralRad > 0 && 2 * meanAnhedralRad <= tipRollRad * (1 + 1e-12) && tipRollRad <= Math.PI / 2)
  ) {
    throw new RangeError(
      `Got a mean anhedral of ${meanAnhedralRad} rad and a tip roll of ${tipRollRad} rad when expected 0 < 2Γ ≤ φ ≤ π/2.`,
    );
  }
  if (!(flatSpanM > 0)) throw new RangeError(`Got a flat span of ${flatSpanM} m when expected above 0.`);
  const q = Math.tan(meanAnhedralRad) / Math.tan(tipRollRad);
  const k1 = 1 - q;
  const k2 = 1 - 2 * q;
  const across = k1 / Math.sqrt(k2);
  const up = (k1 / k2) * Math.tan(meanAnhedralRad);
  // Angle from the top, u = π/2 − t, runs from 0 at the middle to u_tip.
  const tipAngle = Math.acos(q / k1);
  const speed = (u: number) => Math.hypot(across * Math.cos(u), up * Math.sin(u));
  const lengthTo = (u: number) => integrateSmooth(speed, 0, u);
  const halfLength = lengthTo(tipAngle);
  const scale = flatSpanM / 2 / halfLength;
  const at = (sigma: number): ArcPoint => {
    if (!(sigma >= 0 && sigma <= 1)) throw new RangeError(`Got σ = ${sigma} when expected 0 to 1.`);
    let u = sigma * tipAngle;
    for (let pass = 0; pass < 50; pass++) {
      const step = (lengthTo(u) - sigma * halfLength) / speed(u);
      u -= step;
      if (Math.abs(step) < 1e-15) break;
    }
    return {
      y: scale * across * Math.sin(u),
      z: scale * up * (Math.cos(u) - 1),
      bankRad: Math.atan2(up * Math.sin(u), across * Math.cos(u)),
    };
  };
  const tip = at(1);
  return {
    flatSpanM,
    projectedSpanM: 2 * tip.y,
    archHeightM: -tip.z,
    semiAxesM: [scale * across, scale * up],
    at,
  };
}
