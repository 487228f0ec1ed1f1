import type { CalibrationMap, MisreadMap } from "./calibrationMap.ts";

// Written by `npx tsx tests/bench/calibration.ts --fit`; do not edit by hand.
/** Tubes that a lane shows; fitted to 5115 tubes. */
export const SEEN_MAP: CalibrationMap = { a: 0.8303, b: 1.2641, c: -0.4237 };
/** Tubes nobody spotted; fitted to 1682 tubes. */
export const UNSEEN_MAP: CalibrationMap = { a: 1.0447, b: 0.7152, c: 0.6499 };
/** Plates misread, by their signs; fitted with the tubes that a lane shows. */
export const MISREAD: MisreadMap = {
  base: -7.294,
  perScatter: 4.3857,
  perDoubt: 9.9506,
  perUnexplained: 5.0545,
  perBlur: 1.1567,
  perFaintness: 0.2832,
};
