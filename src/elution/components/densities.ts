import type { Observation } from "./observations.ts";
import { jointWidth, type WidthModel } from "./widths.ts";

const SQRT2PI = Math.sqrt(2 * Math.PI);

/** Two substances nearer than this many spot widths usually show as one spot; the change-over is soft. */
const JOINT_GAP = 0.7;
const JOINT_SOFTNESS = 0.1;

/** Share of a mixture of a narrow and, one time in twenty, a three times wider scatter. */
export function placeDensity(off: number, variance: number): number {
  const z2 = (off * off) / variance;
  const sd = Math.sqrt(variance);
  return (0.95 * Math.exp(-0.5 * z2) + (0.05 / 3) * Math.exp(-z2 / 18)) / (sd * SQRT2PI) + 1e-9;
}

/** Chance that two substances `gap` Rf apart, both there, are read as one spot of `width`. */
export function jointChance(gap: number, width: number): number {
  return 0.9 / (1 + Math.exp((gap / width - JOINT_GAP) / JOINT_SOFTNESS));
}

/**
 * Shares of the upper one in two spots run together, with their chances: amounts differ by decades, so that one of the
 * two mostly hides under the other.
 */
const SHARES: readonly (readonly [share: number, chance: number])[] = [
  [0.02, 0.24],
  [0.15, 0.16],
  [0.5, 0.2],
  [0.85, 0.16],
  [0.98, 0.24],
];

/** Density of place and width (against dust) of one spot that stands for two, at Rf `high` and `low`. */
export function jointDensity(
  spot: Observation,
  high: number,
  low: number,
  variance: number,
  widths: WidthModel,
): number {
  const gap = high - low;
  let sum = 0;
  for (const [share, chance] of SHARES) {
    const off = spot.rf - low - share * gap;
    sum +=
      chance *
      placeDensity(off, variance + 0.01 * gap * gap) *
      jointWidth(spot.width, spot.singleLog, gap, share, widths);
  }
  return sum * jointChance(gap, Math.min(spot.width, Math.exp(spot.singleLog)));
}
