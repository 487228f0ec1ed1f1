/** Upright stripes that a plate is cut into, and what is left out at both sides, as a share of the width. */
export const STRIPES = 40;
export const MARGIN = 0.03;

/** `count` numbers evenly from -limit to limit. */
export function steps(limit: number, count: number): number[] {
  return Array.from({ length: count }, (_, i) => ((2 * i) / (count - 1) - 1) * limit);
}

/** Numbers evenly from -limit to limit, about `step` apart, 0 among them. */
export function stepsOf(limit: number, step: number): number[] {
  return steps(limit, 2 * Math.ceil(limit / step) + 1);
}
