/** Fitted by `npx tsx tests/bench/confidence.ts` on rendered development plates; see docs/methods/spots.md. */
export const WEIGHTS: readonly number[] = [
  -0.709, 0.758, -0.453, 0.672, 2.353, -8.927, -7.776, -10.842, -1.524, -1.73, 0.125, 0.732, -2.336, 0, 0, 6.442,
  -32.995, -6.088,
];
