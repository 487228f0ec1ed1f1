import type { CalibrationMap, MisreadMap } from "./calibrationMap.ts";

// Written by `npx tsx tests/bench/calibration.ts --fit`; do not edit by hand.
/** Tubes that a lane shows; fitted to 3900 tubes. */
export const SEEN_MAP: CalibrationMap = { a: 1.2542, b: 0.9667, c: -0.0551 };
/** Tubes nobody spotted; fitted to 824 tubes. */
export const UNSEEN_MAP: CalibrationMap = { a: 0.612, b: 1.4584, c: 0.0367 };
/** Plates misread, by their signs; fitted with the tubes that a lane shows. */
export const MISREAD: MisreadMap = {
  base: -6.5196,
  perScatter: 6.1763,
  perDoubt: 10.8991,
  perUnexplained: 2.2403,
  perBlur: 0.3392,
  perFaintness: 0.224,
};
