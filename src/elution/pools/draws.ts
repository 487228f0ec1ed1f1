import { normalDeviate, seededRandom } from "../../math/random.ts";
import type { Interval } from "../../model/index.ts";
import { type Belief, RESPONSE_LOG_SD, type TubeBelief } from "../belief.ts";

const DRAWS = 240;

/** Amounts as they may truly be, one response per substance and draw. */
export interface Draws {
  readonly components: number;
  /** Draw by draw; in each tube by tube, component by component. */
  readonly amounts: readonly Float64Array[];
}

/** Draws from what is believed. Seeded: the same beliefs give the same draws. */
export function drawAmounts(tubes: readonly TubeBelief[], components: number): Draws {
  const uniform = seededRandom(20240229);
  const beliefs = tubes.flatMap((tube) => tube.components);
  const response = new Float64Array(components);
  const amounts = Array.from({ length: DRAWS }, () => {
    for (let k = 0; k < components; k++) response[k] = RESPONSE_LOG_SD * normalDeviate(uniform);
    return drawn(beliefs, response, uniform);
  });
  return { components, amounts };
}

function drawn(beliefs: readonly Belief[], response: Float64Array, uniform: () => number): Float64Array {
  const amounts = new Float64Array(beliefs.length);
  for (let i = 0; i < amounts.length; i++) {
    const belief = beliefs[i];
    const amount = uniform() < belief.chance ? belief.spot : belief.rest;
    amounts[i] = Math.exp(amount.logMean + amount.logSd * normalDeviate(uniform) + response[i % response.length]);
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
export function purityOf({ components, amounts }: Draws, from: number, to: number, main: number | null): Interval {
  const values: number[] = [];
  const sums = new Float64Array(components);
  for (const draw of amounts) {
    sumUp(draw, from, to, sums);
    const total = sums.reduce((s, a) => s + a, 0);
    if (total > 0) values.push((main === null ? Math.max(...sums) : sums[main]) / total);
  }
  return interval(values);
}

/** What a draw has of each component in tubes `from` … `to`. */
function sumUp(draw: Float64Array, from: number, to: number, sums: Float64Array): void {
  const components = sums.length;
  for (let k = 0; k < components; k++) {
    sums[k] = 0;
    for (let i = from * components + k; i <= to * components + k; i += components) sums[k] += draw[i];
  }
}
