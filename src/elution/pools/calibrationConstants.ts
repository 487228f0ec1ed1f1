import type { CalibrationMap, MisreadMap } from "./calibrationMap.ts";

// Written by `npx tsx tests/bench/calibration.ts --fit`; do not edit by hand.
/** Tubes that a lane shows; fitted to 2349 tubes. */
export const SEEN_MAP: CalibrationMap = { a: 1.0005, b: 1.3486, c: -0.2989 };
/** Tubes nobody spotted; fitted to 1682 tubes. */
export const UNSEEN_MAP: CalibrationMap = { a: 1.5998, b: 0.6538, c: 0.5077 };
/** Plates misread, by their signs; fitted with the tubes that a lane shows. */
export const MISREAD: MisreadMap = {
  base: -8.2044,
  perScatter: 6.5109,
  perDoubt: 6.7871,
  perUnexplained: 5.3249,
  perBlur: 1.2013,
  perFaintness: 0.8762,
};
