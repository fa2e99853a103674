/** A small seeded generator, so that made-up readings are the same on every run and every machine. */

export interface Random {
  /** Even in [0, 1). */
  even(): number;
  /** Normal, mean 0 and standard deviation 1. */
  normal(): number;
  /** A whole number from 0 to count − 1. */
  below(count: number): number;
}

/**
 * Numbers from a seed: a Weyl sequence over 32 bits, scrambled by multiply and xor-shift (the finaliser of MurmurHash3).
 * Good enough to scatter readings, not for anything secret. Normal numbers by Box and Muller.
 */
export function seededRandom(seed: number): Random {
  let state = seed >>> 0;
  const even = (): number => {
    state = (state + 0x9e3779b9) >>> 0;
    let word = state;
    word = Math.imul(word ^ (word >>> 16), 0x85ebca6b);
    word = Math.imul(word ^ (word >>> 13), 0xc2b2ae35);
    word ^= word >>> 16;
    return (word >>> 0) / 2 ** 32;
  };
  return {
    even,
    normal: () => Math.sqrt(-2 * Math.log(1 - even())) * Math.cos(2 * Math.PI * even()),
    below: (count) => Math.floor(even() * count),
  };
}
