import type { CalibrationMap, MisreadMap } from "./calibrationMap.ts";

// Written by `npx tsx tests/bench/calibration.ts --fit`; do not edit by hand.
/** Tubes that a lane shows; fitted to 3900 tubes. */
export const SEEN_MAP: CalibrationMap = { a: 1.2498, b: 0.9643, c: -0.0514 };
/** Tubes nobody spotted; fitted to 824 tubes. */
export const UNSEEN_MAP: CalibrationMap = { a: 0.6141, b: 1.471, c: 0.0396 };
/** Plates misread, by their signs; fitted with the tubes that a lane shows. */
export const MISREAD: MisreadMap = {
  base: -6.5542,
  perScatter: 6.1903,
  perDoubt: 10.6906,
  perUnexplained: 2.0742,
  perBlur: 0.3369,
  perFaintness: 0.2098,
};
