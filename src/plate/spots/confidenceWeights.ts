/** Fitted by `npx tsx tests/bench/confidence.ts` on rendered development plates; see docs/methods/spots.md. */
export const WEIGHTS: readonly number[] = [
  -2.267, 1.148, -1.403, 0.34, 2.033, -6.193, -10.998, -7.72, -1.021, -2.182, 0.308, 0.454, -2.466, 1.753, -7.2,
];
