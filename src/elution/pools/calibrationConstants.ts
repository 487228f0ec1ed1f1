import type { CalibrationMap } from "./calibrationMap.ts";

// Written by `npx tsx tests/bench/calibration.ts --fit`; do not edit by hand.
/** Tubes that a lane shows; fitted to 729 tubes. */
export const SEEN_MAP: CalibrationMap = { a: 0.9922, b: 0.6876, c: -0.0798 };
/** Tubes nobody spotted; fitted to 417 tubes. */
export const UNSEEN_MAP: CalibrationMap = { a: 1.1491, b: 0.7602, c: -0.1706 };
