import erfc from "@stdlib/math-base-special-erfc";

const SQRT2PI = Math.sqrt(2 * Math.PI);

/** Density of the normal distribution at `z` standard deviations, for standard deviation `sd`. */
export function normalDensity(z: number, sd: number): number {
  return Math.exp(-0.5 * z * z) / (sd * SQRT2PI);
}

/** Chance that a standard normal deviate lies below `z`. */
export function normalCdf(z: number): number {
  return 0.5 * erfc(-z / Math.SQRT2);
}
