import type { LaneSign } from "./pool.ts";

/** Hands place lanes, and spots drift, to about these shares of a pitch: half of the time steadily, half of it not. */
const SCATTER = [0.06, 0.15] as const;
/** A sign is never surer than this. */
const SUREST = 0.97;
/** Lanes that show spots and that do not, before looking (pseudo-counts of a Beta distribution); the same for marks. */
const SPOTTED = { shown: 3, bare: 1 };
const MARKED = { shown: 4, bare: 1 };
/** How often lanes are marked one by one, at or below the origin and above the front. */
export const OFTEN = { below: 0.5, above: 0.15 };
/** Most lanes that a plate may have. */
export const MOST_LANES = 40;

const STEPS = 200;
/** Density of a lane's signs at distances from 0 to half a pitch, per pitch. */
const DENSITY = Float64Array.from({ length: STEPS + 1 }, (_, i) =>
  SCATTER.reduce((sum, s) => sum + Math.exp(-0.5 * ((0.5 * i) / STEPS / s) ** 2) / (s * Math.sqrt(8 * Math.PI)), 0),
);

/** Signs of one kind from left to right, made ready for many lattices. */
export interface Witness {
  readonly xs: Float64Array;
  readonly odds: Float64Array;
  /** How many of them are expected to be lanes'. */
  readonly expected: number;
}

export function witness(signs: readonly LaneSign[]): Witness {
  const ordered = [...signs].sort((a, b) => a.x - b.x);
  const weights = ordered.map((s) => Math.min(SUREST, s.weight));
  return {
    xs: Float64Array.from(ordered, (s) => s.x),
    odds: Float64Array.from(weights, (w) => w / (1 - w)),
    expected: Math.max(
      1,
      weights.reduce((a, b) => a + b, 0),
    ),
  };
}

// Numbers are rounded by `Math.floor`: `Math.round` asks on which side of a half they lie, and a processor guesses that wrong every other time.

/**
 * Lays signs on lanes at phase + k * pitch: for each site the log-likelihood ratio of its best sign, a lane's against
 * clutter that may lie anywhere.
 * @param sites is filled
 */
export function lay(signs: Witness, pitch: number, phase: number, width: number, sites: Float64Array): void {
  const { xs, odds } = signs;
  const share = shareOf(signs, pitch, width);
  sites.fill(0);
  for (let i = 0; i < xs.length; i++) {
    const place = (xs[i] - phase) / pitch;
    const site = Math.floor(place + 0.5);
    if (site < 0 || site >= sites.length) continue;
    sites[site] = Math.max(sites[site], Math.log1p(odds[i] * share * densityAt(place, site)));
  }
}

/** Never less than the sum of what `lay` puts on `count` sites, and hardly more: one logarithm of a product does for all of them. */
export function mostGained(signs: Witness, pitch: number, phase: number, width: number, count: number): number {
  const { xs, odds } = signs;
  const share = shareOf(signs, pitch, width);
  let product = 1;
  let last = 0;
  let most = 0;
  for (let i = 0; i < xs.length; i++) {
    const place = (xs[i] - phase) / pitch;
    const site = Math.floor(place + 0.5);
    if (site < 0 || site >= count) continue;
    if (site > last) {
      product *= 1 + most;
      last = site;
      most = 0;
    }
    const times = odds[i] * share * densityAt(place, site);
    if (times > most) most = times;
  }
  return Math.log(product * (1 + most)) + ROUNDING;
}

/** More than rounding takes off a sum of logarithms. */
const ROUNDING = 1e-9;

/**
 * Denser lanes make a sign likelier to lie by one if each lane brings its own sign, not at all if signs pick a lane;
 * the middle of the two did best on plates of two renderers.
 */
function shareOf({ expected }: Witness, pitch: number, width: number): number {
  return Math.sqrt(width / (expected * pitch));
}

function densityAt(place: number, site: number): number {
  return DENSITY[Math.floor(Math.abs(place - site) * 2 * STEPS + 0.5)];
}

/** Sums of a witness up to each site: log-likelihood ratios, and how many sites show something. */
export interface Sums {
  readonly gain: Float64Array;
  readonly shown: Float64Array;
}

export function sumUp(sites: Float64Array): Sums {
  const gain = new Float64Array(sites.length + 1);
  const shown = new Float64Array(sites.length + 1);
  sites.forEach((v, i) => {
    gain[i + 1] = gain[i] + v;
    shown[i + 1] = shown[i] + 1 - Math.exp(-v);
  });
  return { gain, shown };
}

/** What sites from..to gain if none of them is bare: the ratios below are not above it. */
export function gained({ gain }: Sums, from: number, to: number): number {
  return gain[to + 1] - gain[from];
}

/** Log-likelihood ratio of lanes at sites from..to, by their spots. */
export function bySpots(sums: Sums, from: number, to: number): number {
  return ratio(sums, from, to, spotted);
}

/** The same by their marks: either lanes are marked, as happens so often, or none is and all that looks like it is clutter. */
export function byMarks(sums: Sums, from: number, to: number, often: number): number {
  const marked = ratio(sums, from, to, markedSequence);
  if (marked > 12) return marked + Math.log(often);
  return Math.log(1 - often + often * Math.exp(marked));
}

function ratio(sums: Sums, from: number, to: number, sequence: readonly Float64Array[]): number {
  const shown = sums.shown[to + 1] - sums.shown[from];
  return gained(sums, from, to) + sequence[to - from + 1][Math.round(EIGHTHS * shown)];
}

/** Parts that tables of sequences are made for: `shown` is no whole number. */
const EIGHTHS = 8;
const spotted = sequences(SPOTTED);
const markedSequence = sequences(MARKED);

/** Log probability that of n lanes these show something and those do not: a Beta-binomial sequence; by n and shown. */
function sequences({ shown: a, bare: b }: { readonly shown: number; readonly bare: number }): readonly Float64Array[] {
  return Array.from({ length: MOST_LANES + 1 }, (_, n) =>
    Float64Array.from(
      { length: EIGHTHS * n + 1 },
      (_, k) => logBeta(a + k / EIGHTHS, b + n - k / EIGHTHS) - logBeta(a, b),
    ),
  );
}

function logBeta(a: number, b: number): number {
  return logGamma(a) + logGamma(b) - logGamma(a + b);
}

/** Stirling's series after three steps of the recurrence (Abramowitz and Stegun, Handbook, 6.1.15 and 6.1.41); z > 0. */
function logGamma(z: number): number {
  const x = z + 3;
  return (x - 0.5) * Math.log(x) - x + 0.5 * Math.log(2 * Math.PI) + 1 / (12 * x) - Math.log(z * (z + 1) * (z + 2));
}
