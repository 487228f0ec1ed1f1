/** Fitted by `npx tsx tests/bench/confidence.ts` on rendered development plates; see docs/methods/spots.md. */
export const WEIGHTS: readonly number[] = [
  -0.013, 0.603, -0.671, 0.893, 2.516, -11.348, -8.158, -10.319, -0.933, -0.394, 0.684, 0.837, -1.563, -0.313, -2.65,
  2.83, 3.825, -5.109, -0.969, -1.203, -10.955,
];
