/**
 * Calibrated confidence from the raw posterior probability p of the suggested pool: logistic in log p and log(1 - p)
 * (beta calibration: Kull, Silva Filho, Flach 2017, AISTATS), which can bend either end and keeps the order.
 * The constants are fitted by `npx tsx tests/bench/calibration.ts --fit` on simulated runs that are not those it is
 * judged on.
 */
export interface CalibrationMap {
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

export const SEEN_MAP: CalibrationMap = { a: 1, b: 1, c: 0 };
export const UNSEEN_MAP: CalibrationMap = { a: 1, b: 1, c: 0 };

/** Probabilities are kept this far from 0 and 1: no plate makes certain. */
const EDGE = 0.002;

/** Calibrated probability, within 0.002 and 0.998. */
export function calibrated(raw: number, map: CalibrationMap): number {
  const p = Math.min(1 - 1e-5, Math.max(1e-5, raw));
  const z = map.a * Math.log(p) - map.b * Math.log(1 - p) + map.c;
  return Math.min(1 - EDGE, Math.max(EDGE, 1 / (1 + Math.exp(-z))));
}
