/**
 * Seeded pseudo-random numbers in [0, 1): mulberry32 (T. Ettinger, public domain), 32 bits of state.
 * The same seed gives the same sequence on every machine.
 */
export function seededRandom(seed: number): () => number {
  // Signed: the engine keeps such integers as they are, larger ones in boxes.
  let a = seed | 0;
  return () => {
    a = (a + 0x6d2b79f5) | 0;
    let t = a;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Standard normal deviate by Box and Muller (1958) from a uniform source. */
export function normalDeviate(uniform: () => number): number {
  let u = uniform();
  while (u <= 1e-12) u = uniform();
  return Math.sqrt(-2 * Math.log(u)) * Math.cos(2 * Math.PI * uniform());
}
