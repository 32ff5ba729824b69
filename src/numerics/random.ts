/** Seeded pseudo-random numbers, uniform and normal, so that every run repeats bit by bit. */

/**
 * Makes a generator of uniform numbers in [0, 1) with 53 random bits each.
 *
 * Same seed, same sequence, on every machine (32-bit integer arithmetic only). Not for secrets.
 *
 * @param seed any finite number; its integer part modulo 2^32 selects the sequence
 * @returns a function that gives the next number on each call
 * @throws RangeError when the seed is not finite
 * @remarks Source: "small fast counting" generator sfc32 by C. Doty-Humphrey (PractRand, public domain) [from memory].
 */
export function seededRandom(seed: number): () => number {
  if (!Number.isFinite(seed)) throw new RangeError(`seed must be a finite number, got ${seed}`);
  let a = seed >>> 0;
  let b = 0x9e3779b9;
  let c = 0x243f6a88;
  let counter = 1;

  function next32(): number {
    const sum = (a + b + counter) >>> 0;
    counter = (counter + 1) >>> 0;
    a = (b ^ (b >>> 9)) >>> 0;
    b = (c + (c << 3)) >>> 0;
    c = (((c << 21) | (c >>> 11)) + sum) >>> 0;
    return sum;
  }

  // The first outputs of neighbouring seeds resemble each other; a short run-in mixes them.
  for (let i = 0; i < 16; i++) next32();

  return () => {
    const high = next32() >>> 5; // 27 bits
    const low = next32() >>> 6; // 26 bits
    return (high * 67108864 + low) / 9007199254740992;
  };
}

/**
 * Makes a generator of standard normal numbers (mean 0, standard deviation 1) from a uniform one.
 *
 * @param random uniform generator in [0, 1), for example from {@link seededRandom}
 * @remarks Source: Marsaglia's polar form of the Box-Muller method, which draws in pairs.
 */
export function gaussianRandom(random: () => number): () => number {
  let spare: number | null = null;
  return () => {
    if (spare !== null) {
      const value = spare;
      spare = null;
      return value;
    }
    for (;;) {
      const u = 2 * random() - 1;
      const v = 2 * random() - 1;
      const s = u * u + v * v;
      if (s > 0 && s < 1) {
        const scale = Math.sqrt((-2 * Math.log(s)) / s);
        spare = v * scale;
        return u * scale;
      }
    }
  };
}
