import type { CalibrationMap } from "./calibrationMap.ts";

// Written by `npx tsx tests/bench/calibration.ts --fit`; do not edit by hand.
/** Tubes that a lane shows. */
export const SEEN_MAP: CalibrationMap = { a: 1, b: 1, c: 0 };
/** Tubes nobody spotted. */
export const UNSEEN_MAP: CalibrationMap = { a: 1, b: 1, c: 0 };
