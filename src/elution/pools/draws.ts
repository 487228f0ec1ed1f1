import { normalDeviate, seededRandom } from "../../math/random.ts";
import type { Interval } from "../../model/index.ts";
import { RESPONSE_LOG_SD, type TubeBelief } from "../belief.ts";

const DRAWS = 240;

/** Amounts as they may truly be: [draw][tube][component], one response per substance and draw. */
export type Draws = readonly (readonly Float64Array[])[];

/** Draws from what is believed. Seeded: the same beliefs give the same draws. */
export function drawAmounts(tubes: readonly TubeBelief[], components: number): Draws {
  const uniform = seededRandom(20240229);
  return Array.from({ length: DRAWS }, () => {
    const response = Array.from({ length: components }, () => RESPONSE_LOG_SD * normalDeviate(uniform));
    return tubes.map((tube) => drawTube(tube, response, uniform));
  });
}

function drawTube({ components }: TubeBelief, response: readonly number[], uniform: () => number): Float64Array {
  const amounts = new Float64Array(components.length);
  for (let k = 0; k < amounts.length; k++) {
    const belief = components[k];
    const amount = uniform() < belief.chance ? belief.spot : belief.rest;
    amounts[k] = Math.exp(amount.logMean + amount.logSd * normalDeviate(uniform) + response[k]);
  }
  return amounts;
}

/** 5th, 50th and 95th percentile; (0, 0, 0) of nothing. */
export function interval(values: readonly number[]): Interval {
  if (values.length === 0) return { low: 0, mid: 0, high: 0 };
  const sorted = Float64Array.from(values).sort();
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];
  return { low: at(0.05), mid: at(0.5), high: at(0.95) };
}

/** Share of component `main` (null: of the largest) in all that shows in tubes `from` … `to`, over the draws. */
export function purityOf(draws: Draws, from: number, to: number, main: number | null): Interval {
  const values: number[] = [];
  for (const draw of draws) {
    const sums = new Float64Array(draw[0]?.length ?? 0);
    for (let t = from; t <= to; t++) for (let k = 0; k < sums.length; k++) sums[k] += draw[t][k];
    const total = sums.reduce((s, a) => s + a, 0);
    if (total > 0) values.push((main === null ? Math.max(...sums) : sums[main]) / total);
  }
  return interval(values);
}
