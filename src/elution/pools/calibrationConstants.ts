import type { CalibrationMap, MisreadMap } from "./calibrationMap.ts";

// Written by `npx tsx tests/bench/calibration.ts --fit`; do not edit by hand.
/** Tubes that a lane shows; fitted to 2832 tubes. */
export const SEEN_MAP: CalibrationMap = { a: 0.7489, b: 1.2663, c: -0.2294 };
/** Tubes nobody spotted; fitted to 414 tubes. */
export const UNSEEN_MAP: CalibrationMap = { a: 1.3526, b: 0.7058, c: 0.2255 };
/** Plates misread, by their signs; fitted with the tubes that a lane shows. */
export const MISREAD: MisreadMap = {
  base: -5.9693,
  perScatter: 7.6865,
  perDoubt: 10.1748,
  perUnexplained: 3.2918,
};
