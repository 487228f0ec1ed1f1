import { SEEN_MAP, UNSEEN_MAP } from "./calibrationConstants.ts";
import type { CalibrationMap } from "./calibrationMap.ts";

/** Confidences are kept this far from 0 and 1: no plate makes certain. */
const EDGE = 0.002;

/**
 * Calibrated confidence from the posterior probability p of the suggested pool: logistic in ln p and ln(1 - p) (beta
 * calibration: Kull, Silva Filho, Flach 2017, AISTATS, from memory), which can bend either end and keeps the order.
 * The constants are fitted by tests/bench/calibration.ts on runs that are not those it is judged on.
 */
export function confidenceOf(posterior: number, seen: boolean): number {
  return calibrated(posterior, seen ? SEEN_MAP : UNSEEN_MAP);
}

/** A probability through a calibration map, within 0.002 and 0.998. */
function calibrated(p: number, map: CalibrationMap): number {
  const kept = Math.min(1 - 1e-5, Math.max(1e-5, p));
  const z = map.a * Math.log(kept) - map.b * Math.log(1 - kept) + map.c;
  return Math.min(1 - EDGE, Math.max(EDGE, 1 / (1 + Math.exp(-z))));
}
