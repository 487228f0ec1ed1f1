import { normalDeviate, seededRandom } from "../math/random.ts";

/** Seeded draws. Every `fork` is its own stream, so that a new draw in one part leaves all others as they were. */
export interface Chance {
  /** Uniform in [low, high). */
  uniform(low: number, high: number): number;
  /** Normal with the given mean and standard deviation. */
  normal(mean: number, sd: number): number;
  /** exp of a uniform draw between log(low) and log(high); both > 0. */
  logUniform(low: number, high: number): number;
  /** Whole number in low..high, both included. */
  integer(low: number, high: number): number;
  /** True with probability p. */
  happens(p: number): boolean;
  pick<T>(items: readonly T[]): T;
  /** Picks a key with probability proportional to its weight. */
  weighted<K extends string>(weights: Readonly<Partial<Record<K, number>>>): K;
  /** Poisson with a small mean. */
  count(mean: number): number;
  /** 32-bit seed for a stream of its own. */
  seed(): number;
  fork(name: string): Chance;
}

/** FNV-1a (Fowler, Noll, Vo) of a name, started from a seed: 32 bits. */
function hash(seed: number, name: string): number {
  let h = (0x811c9dc5 ^ seed) >>> 0;
  for (let i = 0; i < name.length; i++) h = Math.imul(h ^ name.charCodeAt(i), 0x01000193) >>> 0;
  return Math.imul(h ^ (h >>> 15), 0x2c1b3c6d) >>> 0;
}

/** A stream of seeded draws; the same seed gives the same draws on every machine. */
export function chanceOf(seed: number): Chance {
  const random = seededRandom(seed);
  const uniform = (low: number, high: number) => low + (high - low) * random();
  return {
    uniform,
    normal: (mean, sd) => mean + sd * normalDeviate(random),
    logUniform: (low, high) => Math.exp(uniform(Math.log(low), Math.log(high))),
    integer: (low, high) => Math.min(high, low + Math.floor(random() * (high - low + 1))),
    happens: (p) => random() < p,
    pick: (items) => items[Math.min(items.length - 1, Math.floor(random() * items.length))],
    weighted: <K extends string>(weights: Readonly<Partial<Record<K, number>>>): K => {
      const entries = Object.entries(weights) as [K, number][];
      let left = random() * entries.reduce((sum, [, w]) => sum + w, 0);
      for (const [key, w] of entries) {
        left -= w;
        if (left < 0) return key;
      }
      return entries[entries.length - 1][0];
    },
    count: (mean) => {
      const limit = Math.exp(-mean);
      let n = 0;
      for (let p = random(); p > limit && n < 1000; p *= random()) n++;
      return n;
    },
    seed: () => Math.floor(random() * 4294967296) >>> 0,
    fork: (name) => chanceOf(hash(seed, name)),
  };
}
