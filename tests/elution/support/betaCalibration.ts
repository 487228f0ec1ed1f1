import type { CalibrationMap, MisreadMap, ReadingSigns } from "../../../src/elution/pools/calibrationMap.ts";
import { calibrated, GUESS, misreadByLook, misreadChance } from "../../../src/elution/pools/confidence.ts";
import { solvePositive } from "../../../src/math/cholesky.ts";

/** Chance of a tube's pool, whether it was right, and the signs by which its plate may give away that it was misread. */
export interface RunPair extends ReadingSigns {
  readonly p: number;
  readonly right: boolean;
}

interface Row {
  readonly x: readonly number[];
  /** Share of it that is so, 0..1. */
  readonly y: number;
  readonly weight: number;
}

/** Weights of a logistic regression by Newton's method, with a pull to `prior` as of a few rows. */
function logistic(rows: readonly Row[], prior: readonly number[], pull: number, least: readonly number[]): number[] {
  const n = prior.length;
  const w = [...prior];
  for (let round = 0; round < 50; round++) {
    const h = new Float64Array(n * n);
    const g = new Float64Array(n);
    for (const { x, y, weight } of rows) {
      const q = 1 / (1 + Math.exp(-x.reduce((s, v, i) => s + v * w[i], 0)));
      for (let i = 0; i < n; i++) {
        g[i] += weight * (y - q) * x[i];
        for (let j = 0; j < n; j++) h[i * n + j] += weight * q * (1 - q) * x[i] * x[j];
      }
    }
    for (let i = 0; i < n; i++) {
      g[i] -= pull * (w[i] - prior[i]);
      h[i * n + i] += pull;
    }
    if (!solvePositive(h, n, [g])) break;
    const step = Math.min(1, 1 / Math.max(...g.map(Math.abs)));
    for (let i = 0; i < n; i++) w[i] = Math.max(least[i], w[i] + step * g[i]);
    if (Math.max(...g.map(Math.abs)) < 1e-8) break;
  }
  return w;
}

/**
 * Beta calibration by Newton's method on the log likelihood, with a weak pull (as of a few pairs) to the map that changes
 * nothing; a and b are held at 0.05 or above so that the order of confidences stays.
 */
function fitWeighted(pairs: readonly RunPair[], weights: readonly number[], pull: number): CalibrationMap {
  const rows = pairs.map(({ p, right }, i) => {
    const kept = Math.min(1 - 1e-5, Math.max(1e-5, p));
    return { x: [Math.log(kept), -Math.log(1 - kept), 1], y: right ? 1 : 0, weight: weights[i] };
  });
  const [a, b, c] = logistic(rows, [1, 1, 0], pull, [0.05, 0.05, Number.NEGATIVE_INFINITY]);
  return { a, b, c };
}

/** Before looking, plates are misread about once in fifty runs, whatever the signs. */
const MISREAD_PRIOR = [-4, 0, 0, 0, 0, 0];
/** Amounts that jump from tube to tube count by reason: photos leave open how much (0.4 to 6 from one set of tubes to the next). */
const LEAST_WEIGHTS = [Number.NEGATIVE_INFINITY, 3, 0, 0, 0, 0];
const ROUNDS = 200;

/** Chance that the pair's plate was misread, now that it is known whether the pool was right. */
function misreadGiven(pair: RunPair, map: CalibrationMap, misread: MisreadMap): number {
  const { p, right } = pair;
  const m = misreadChance(pair, misread);
  const q = calibrated(p, map);
  const wrong = m * (right ? GUESS : 1 - GUESS);
  return wrong / (wrong + (1 - m) * (right ? q : 1 - q));
}

/** Beta calibration of tubes, how likely their plates were misread being known already. */
export function fitRead(pairs: readonly RunPair[], misread: MisreadMap, pull = 4): CalibrationMap {
  let map: CalibrationMap = { a: 1, b: 1, c: 0 };
  for (let round = 0; round < ROUNDS; round++)
    map = fitWeighted(
      pairs,
      pairs.map((pair) => 1 - misreadGiven(pair, map, misread)),
      pull,
    );
  return map;
}

/**
 * Beta calibration of tubes whose plates were read, and the chance that they were not, by its signs: a mixture fitted by
 * expectation and maximisation (Dempster, Laird, Rubin 1977, from memory).
 */
export function fitConfidence(pairs: readonly RunPair[], pull = 4): { map: CalibrationMap; misread: MisreadMap } {
  let map: CalibrationMap = { a: 1, b: 1, c: 0 };
  let misread: MisreadMap = {
    ...{
      base: MISREAD_PRIOR[0],
      perScatter: 5,
      perDoubt: 0,
      perUnexplained: 0,
      perBlur: 0,
      perFaintness: 0,
    },
  };
  for (let round = 0; round < ROUNDS; round++) {
    const share = pairs.map((pair) => misreadGiven(pair, map, misread));
    map = fitWeighted(
      pairs,
      share.map((s) => 1 - s),
      pull,
    );
    const rows = pairs.map((pair, i) => {
      const { scatter, doubt, unexplained, blur, faintness } = pair;
      const byLook = (share[i] * misreadByLook(pair, misread)) / misreadChance(pair, misread);
      return { x: [1, scatter, doubt, unexplained, blur, faintness], y: byLook, weight: 1 };
    });
    const [base, perScatter, perDoubt, perUnexplained, perBlur, perFaintness] = logistic(
      ...([rows, MISREAD_PRIOR, 0.02 * pull, LEAST_WEIGHTS] as const),
    );
    misread = { base, perScatter, perDoubt, perUnexplained, perBlur, perFaintness };
  }
  return { map, misread };
}
