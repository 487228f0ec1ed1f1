import type { CalibrationMap, MisreadMap } from "./calibrationMap.ts";

// Written by `npx tsx tests/bench/calibration.ts --fit`; do not edit by hand.
/** Tubes that a lane shows; fitted to 1591 tubes. */
export const SEEN_MAP: CalibrationMap = { a: 1.1042, b: 1.0706, c: -0.4216 };
/** Tubes nobody spotted; fitted to 1008 tubes. */
export const UNSEEN_MAP: CalibrationMap = { a: 1.5077, b: 0.6949, c: 0.4311 };
/** Plates misread, by the scatter of amounts; fitted with the tubes that a lane shows. */
export const MISREAD: MisreadMap = { base: -7.5347, perScatter: 16.3876 };
