import type { CalibrationMap, MisreadMap } from "./calibrationMap.ts";

// Written by `npx tsx tests/bench/calibration.ts --fit`; do not edit by hand.
/** Tubes that a lane shows; fitted to 2933 tubes. */
export const SEEN_MAP: CalibrationMap = { a: 0.6951, b: 1.2282, c: -0.3271 };
/** Tubes nobody spotted; fitted to 632 tubes. */
export const UNSEEN_MAP: CalibrationMap = { a: 1.3464, b: 0.699, c: 0.4207 };
/** Plates misread, by their signs; fitted with the tubes that a lane shows. */
export const MISREAD: MisreadMap = {
  base: -6.3298,
  perScatter: 8.733,
  perDoubt: 5.8537,
  perUnexplained: 4.3338,
};
