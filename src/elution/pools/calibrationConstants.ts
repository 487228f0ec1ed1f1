import type { CalibrationMap, MisreadMap } from "./calibrationMap.ts";

// Written by `npx tsx tests/bench/calibration.ts --fit`; do not edit by hand.
/** Tubes that a lane shows; fitted to 2964 tubes. */
export const SEEN_MAP: CalibrationMap = { a: 1.1485, b: 1.3572, c: -0.4029 };
/** Tubes nobody spotted; fitted to 1682 tubes. */
export const UNSEEN_MAP: CalibrationMap = { a: 1.3638, b: 0.8338, c: 0.2169 };
/** Plates misread, by their signs; fitted with the tubes that a lane shows. */
export const MISREAD: MisreadMap = {
  base: -8.074,
  perScatter: 7.0609,
  perDoubt: 5.7693,
  perUnexplained: 2.6754,
  perBlur: 1.1498,
  perFaintness: 0.7791,
};
