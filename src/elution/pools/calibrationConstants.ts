import type { CalibrationMap, MisreadMap } from "./calibrationMap.ts";

// Written by `npx tsx tests/bench/calibration.ts --fit`; do not edit by hand.
/** Tubes that a lane shows; fitted to 5115 tubes. */
export const SEEN_MAP: CalibrationMap = { a: 0.8824, b: 1.4764, c: -0.5832 };
/** Tubes nobody spotted; fitted to 1682 tubes. */
export const UNSEEN_MAP: CalibrationMap = { a: 1.0409, b: 0.7258, c: 0.6467 };
/** Plates misread, by their signs; fitted with the tubes that a lane shows. */
export const MISREAD: MisreadMap = {
  base: -7.1271,
  perScatter: 4.0745,
  perDoubt: 11.2586,
  perUnexplained: 4.5878,
  perBlur: 1.0988,
  perFaintness: 0.2857,
};
