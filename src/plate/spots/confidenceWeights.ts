/** Fitted by `npx tsx tests/bench/confidence.ts` on rendered development plates; see docs/methods/spots.md. */
export const WEIGHTS: readonly number[] = [
  0.175, 0.723, -0.484, 0.697, 1.714, -11.684, -8.148, -10.509, -2.24, -2.093, 0.046, 0.872, -2.476, -0.224, -2.685,
  5.687, -24.084, -10.133, -5.689,
];
