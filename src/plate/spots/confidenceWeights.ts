/** Fitted by `npx tsx tests/bench/confidence.ts` on rendered development plates; see docs/methods/spots.md. */
export const WEIGHTS: readonly number[] = [-5, 1.6, 0.6, 0.1, 4, -6, -8, -3, -1.5, -1.5, 1.5, 0.4, -1.5, -2.5];
