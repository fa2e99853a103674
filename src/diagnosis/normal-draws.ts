/** Seeded random numbers for draws: the same on every run and every machine. */

/**
 * Uniform numbers in [0, 1) from a seed: xoshiro128** (D. Blackman and S. Vigna, ACM Trans. Math. Softw. 47 (2021) 36),
 * its state filled by a Weyl sequence that is scrambled as MurmurHash3 ends.
 */
export function seededUniform(seed: number): () => number {
  let filler = seed >>> 0;
  const fill = (): number => {
    filler = (filler + 0x9e3779b9) >>> 0;
    let word = Math.imul(filler ^ (filler >>> 16), 0x85ebca6b);
    word = Math.imul(word ^ (word >>> 13), 0xc2b2ae35);
    return (word ^ (word >>> 16)) | 0;
  };
  let [a, b, c, d] = [fill(), fill(), fill(), fill() | 1];
  return () => {
    const turned = Math.imul(b, 5);
    const result = Math.imul((turned << 7) | (turned >>> 25), 9);
    const shifted = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= shifted;
    d = (d << 11) | (d >>> 21);
    return (result >>> 0) / 2 ** 32;
  };
}

/** Fill with standard normal numbers: polar method of Marsaglia (D. Knuth, *The Art of Computer Programming* 2, 3.4.1). */
export function fillNormal(values: Float64Array, uniform: () => number): void {
  for (let i = 0; i < values.length; ) {
    const u = 2 * uniform() - 1;
    const v = 2 * uniform() - 1;
    const square = u * u + v * v;
    if (square >= 1 || square === 0) continue;
    const factor = Math.sqrt((-2 * Math.log(square)) / square);
    values[i++] = u * factor;
    if (i < values.length) values[i++] = v * factor;
  }
}
