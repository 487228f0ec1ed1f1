import type { CalibrationMap, MisreadMap } from "./calibrationMap.ts";

// Written by `npx tsx tests/bench/calibration.ts --fit`; do not edit by hand.
/** Tubes that a lane shows; fitted to 4123 tubes. */
export const SEEN_MAP: CalibrationMap = { a: 1.2614, b: 1.1436, c: -0.5016 };
/** Tubes nobody spotted; fitted to 731 tubes. */
export const UNSEEN_MAP: CalibrationMap = { a: 1.1962, b: 1.6414, c: -0.3179 };
/** Plates misread, by their signs; fitted with the tubes that a lane shows. */
export const MISREAD: MisreadMap = {
  base: -7.0416,
  perScatter: 3,
  perDoubt: 2.0924,
  perUnexplained: 8.5611,
  perBlur: 0.882,
  perFaintness: 0,
};
