/** A seeded source of random numbers. */
export interface Random {
  /** Uniform, 0 ≤ u < 1, with 53 bits. */
  readonly uniform: () => number;
  /** Normal with mean 0 and the given standard deviation. */
  readonly normal: (deviation: number) => number;
  /** A source of its own, so that more draws here change nothing there. */
  readonly fork: () => Random;
}

const mask = (1n << 64n) - 1n;

/**
 * SplitMix64: 64-bit numbers from a counter, scrambled.
 *
 * Source: Steele, Lea & Flood 2014, "Fast splittable pseudorandom number generators", OOPSLA; constants of the
 * variant 13 by Stafford.
 */
export function splitMix64(seed: bigint): () => bigint {
  let state = seed & mask;
  return () => {
    state = (state + 0x9e3779b97f4a7c15n) & mask;
    let z = state;
    z = ((z ^ (z >> 30n)) * 0xbf58476d1ce4e5b9n) & mask;
    z = ((z ^ (z >> 27n)) * 0x94d049bb133111ebn) & mask;
    return z ^ (z >> 31n);
  };
}

/** Returns the source of random numbers of a seed; the normal ones by Box & Muller 1958, Ann. Math. Stat. 29:610. */
export function randomOf(seed: bigint): Random {
  const next = splitMix64(seed);
  const uniform = (): number => Number(next() >> 11n) / 2 ** 53;
  return {
    uniform,
    normal: (deviation) => deviation * Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform()),
    fork: () => randomOf(next()),
  };
}
