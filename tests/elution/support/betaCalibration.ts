import type { CalibrationMap } from "../../../src/elution/pools/calibrationMap.ts";
import { solvePositive } from "../../../src/math/cholesky.ts";

export interface Pair {
  readonly p: number;
  readonly right: boolean;
}

/** Probability before calibration from one after it, by bisection: every map rises. */
export function uncalibrated(confidence: number, map: CalibrationMap): number {
  const target = Math.log(confidence / (1 - confidence));
  let low = 1e-5;
  let high = 1 - 1e-5;
  for (let i = 0; i < 60; i++) {
    const p = 0.5 * (low + high);
    if (map.a * Math.log(p) - map.b * Math.log(1 - p) + map.c < target) low = p;
    else high = p;
  }
  return 0.5 * (low + high);
}

/**
 * Beta calibration by Newton's method on the log likelihood, with a weak pull (as of a few pairs) to the map that changes
 * nothing; a and b are held at 0.05 or above so that the order of confidences stays.
 */
export function fitBetaCalibration(pairs: readonly Pair[], pull = 4): CalibrationMap {
  const w = [1, 1, 0];
  const rows = pairs.map(({ p, right }) => {
    const kept = Math.min(1 - 1e-5, Math.max(1e-5, p));
    return { x: [Math.log(kept), -Math.log(1 - kept), 1], y: right ? 1 : 0 };
  });
  for (let round = 0; round < 50; round++) {
    const h = new Float64Array(9);
    const g = new Float64Array(3);
    for (const { x, y } of rows) {
      const q = 1 / (1 + Math.exp(-(w[0] * x[0] + w[1] * x[1] + w[2] * x[2])));
      for (let i = 0; i < 3; i++) {
        g[i] += (y - q) * x[i];
        for (let j = 0; j < 3; j++) h[i * 3 + j] += q * (1 - q) * x[i] * x[j];
      }
    }
    [1, 1, 0].forEach((prior, i) => {
      g[i] -= pull * (w[i] - prior);
      h[i * 4] += pull;
    });
    if (!solvePositive(h, 3, [g])) break;
    const step = Math.min(1, 1 / Math.max(...g.map(Math.abs)));
    for (let i = 0; i < 3; i++) w[i] += step * g[i];
    w[0] = Math.max(0.05, w[0]);
    w[1] = Math.max(0.05, w[1]);
    if (Math.max(...g.map(Math.abs)) < 1e-8) break;
  }
  return { a: w[0], b: w[1], c: w[2] };
}
