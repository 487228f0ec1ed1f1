import { type AmountBelief, VISIBLE_SOFTNESS } from "../belief.ts";

/** A spot well above the limit is missed this often; half are found so far (log) above it, and how sharp that is (log). */
const OVERLOOKED = 0.015;
const HALF_FOUND = 0.2;
const LIMIT_SOFTNESS = 0.5;
/** Chance that a substance expected in a tube is simply not there: an elution may end at once. */
const ENDED = 0.05;
const STEPS = 24;
const REACH = 3.5;

/** Chance that an amount would not be found by a lane with the given limit (logs). */
export function missChance(log: number, logLimit: number): number {
  return OVERLOOKED + (1 - OVERLOOKED) / (1 + Math.exp((log - logLimit - HALF_FOUND) / LIMIT_SOFTNESS));
}

/**
 * What is thought of an amount that was expected, on the log scale, to be normal about `logMean`, after a lane that would
 * show it from `logLimit` on showed nothing: mean, sd, and the chance that it would count as visible (from `logVisible`
 * on). A left-censored observation with a soft limit, by sums over even steps.
 */
export function afterMissing(logMean: number, logSd: number, logLimit: number, logVisible: number): AmountBelief {
  let all = 0;
  let total = 0;
  let first = 0;
  let second = 0;
  let visible = 0;
  for (let i = 0; i <= STEPS; i++) {
    const z = REACH * ((2 * i) / STEPS - 1);
    const log = logMean + z * logSd;
    const expected = Math.exp(-0.5 * z * z);
    const weight = expected * missChance(log, logLimit);
    all += expected;
    total += weight;
    first += weight * log;
    second += weight * log * log;
    visible += weight / (1 + Math.exp(-(log - logVisible) / VISIBLE_SOFTNESS));
  }
  const mean = first / total;
  return {
    logMean: mean,
    logSd: Math.sqrt(Math.max(0.01, second / total - mean * mean)),
    visible: (visible / total) * stillThere(total / all),
  };
}

/** Chance that what was missed is there after all, given how often an amount as expected would be missed. */
function stillThere(miss: number): number {
  return ((1 - ENDED) * miss) / ((1 - ENDED) * miss + ENDED);
}
