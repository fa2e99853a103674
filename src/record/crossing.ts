/** Where the edges of a straight line's band reach zero. */

/**
 * A quantity that goes as room + slope·d, known to ± √(levelSpread² + (d·slopeSpread)²), for d from `from` on. The spreads
 * are half-widths of the interval wanted.
 */
export interface Band {
  readonly room: number;
  readonly slope: number;
  readonly levelSpread: number;
  readonly slopeSpread: number;
  readonly from: number;
}

const edge = ({ room, slope, levelSpread, slopeSpread }: Band, d: number, sign: 1 | -1): number =>
  room + slope * d + sign * Math.hypot(levelSpread, d * slopeSpread);

/** Where the band's near edge first reaches zero: `from` where it has already; undefined where it never does. */
export function firstCrossing(band: Band): number | undefined {
  return crossing(band, -1);
}

/** Where its far edge does. */
export function lastCrossing(band: Band): number | undefined {
  return crossing(band, 1);
}

/**
 * Both edges meet zero where (room + slope·d)² = levelSpread² + (d·slopeSpread)²: a quadratic in d, each root on the edge of
 * that sign which room + slope·d is not (E. C. Fieller, J. R. Stat. Soc. B 16 (1954) 175–185, from memory).
 */
function crossing(band: Band, sign: 1 | -1): number | undefined {
  const { room, slope, levelSpread, slopeSpread, from } = band;
  if (edge(band, from, sign) <= 0) return from;
  const a = slope ** 2 - slopeSpread ** 2;
  const halfB = slope * room;
  const c = room ** 2 - levelSpread ** 2;
  const roots = rootsOf(a, halfB, c).filter((d) => d >= from && -sign * (room + slope * d) >= 0);
  return roots.length === 0 ? undefined : Math.min(...roots);
}

/** Real roots of a·d² + 2·halfB·d + c, without cancellation. */
function rootsOf(a: number, halfB: number, c: number): readonly number[] {
  if (a === 0) return halfB === 0 ? [] : [-c / (2 * halfB)];
  const discriminant = halfB ** 2 - a * c;
  if (discriminant < 0) return [];
  const q = -(halfB + (halfB < 0 ? -1 : 1) * Math.sqrt(discriminant));
  return q === 0 ? [0] : [q / a, c / q];
}
