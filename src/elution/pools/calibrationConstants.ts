import type { CalibrationMap, MisreadMap } from "./calibrationMap.ts";

// Written by `npx tsx tests/bench/calibration.ts --fit`; do not edit by hand.
/** Tubes that a lane shows; fitted to 3900 tubes. */
export const SEEN_MAP: CalibrationMap = { a: 1.26, b: 0.955, c: -0.0331 };
/** Tubes nobody spotted; fitted to 1682 tubes. */
export const UNSEEN_MAP: CalibrationMap = { a: 1.0541, b: 0.7146, c: 0.6461 };
/** Plates misread, by their signs; fitted with the tubes that a lane shows. */
export const MISREAD: MisreadMap = {
  base: -6.4176,
  perScatter: 5.7194,
  perDoubt: 12.5746,
  perUnexplained: 1.0924,
  perBlur: 0.2718,
  perFaintness: 0.2946,
  perAssumed: 2.2027,
};
