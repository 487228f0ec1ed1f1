import { normalCdf } from "../math/normal.ts";
import type { TubeState } from "../model/index.ts";
import { type AmountBelief, type Belief, RESPONSE_LOG_SD } from "./belief.ts";

/** A tube is clean where one component makes up at least this share (contract, common practice). */
export const CLEAN_SHARE = 0.95;
/** Components whose spot is this unlikely, or likely, count as not shown, or shown; at most so many are left open. */
const SETTLED = 0.004;
const MOST_OPEN = 7;

/** How likely a tube is to be each thing it can be; sums to 1. */
export interface TubeOdds {
  /** [component] clean in that component. */
  readonly clean: readonly number[];
  readonly mixed: number;
  readonly empty: number;
  /** [component] expected share in what is there, given that anything shows; sums to 1 or to 0. */
  readonly share: readonly number[];
}

/**
 * Posterior odds of a tube: sums over which components have a spot and which have only what may be there unseen. The
 * tube is empty where none of them counts as visible; else the chance that one makes up 95 % follows from the normal
 * approximation of the log ratio of the others to it, the unknown response of each substance included.
 */
export function tubeOdds(components: readonly Belief[]): TubeOdds {
  const n = components.length;
  const clean = new Array<number>(n).fill(0);
  const share = new Array<number>(n).fill(0);
  const open = components
    .map((_, k) => k)
    .filter((k) => components[k].chance > SETTLED && components[k].chance < 1 - SETTLED)
    .sort((a, b) => Math.abs(components[a].chance - 0.5) - Math.abs(components[b].chance - 0.5) || a - b)
    .slice(0, MOST_OPEN);
  const now = components.map((b) => (b.chance > 0.5 ? b.spot : b.rest));
  let mixed = 0;
  let empty = 0;
  for (let set = 0; set < 1 << open.length; set++) {
    let weight = 1;
    open.forEach((k, bit) => {
      const there = (set & (1 << bit)) !== 0;
      now[k] = there ? components[k].spot : components[k].rest;
      weight *= there ? components[k].chance : 1 - components[k].chance;
    });
    if (weight < 1e-5) continue;
    const nothing = now.reduce((p, a) => p * (1 - a.visible), 1);
    empty += weight * nothing;
    const shown = weight * (1 - nothing);
    const amounts = now.map((a) => Math.exp(a.logMean));
    const total = amounts.reduce((s, a) => s + a, 0);
    let left = shown;
    for (let k = 0; k < n; k++) {
      share[k] += (shown * amounts[k]) / total;
      if (amounts[k] < 0.2 * total) continue;
      const p = Math.min(left, shown * cleanChance(now, amounts, total, k));
      clean[k] += p;
      left -= p;
    }
    mixed += left;
  }
  const sum = clean.reduce((s, p) => s + p, 0) + mixed + empty;
  if (!(sum > 0) || n === 0) return { clean, mixed: 0, empty: 1, share };
  const there = share.reduce((s, p) => s + p, 0);
  return {
    clean: clean.map((p) => p / sum),
    mixed: mixed / sum,
    empty: empty / sum,
    share: share.map((p) => (there > 0 ? p / there : 0)),
  };
}

/**
 * Chance that component `k` makes up at least 95 % of the amounts given. The sum of the others is taken as log-normal
 * with the mean and variance of the sum (Fenton 1960, from memory).
 */
function cleanChance(now: readonly AmountBelief[], amounts: readonly number[], total: number, k: number): number {
  if (total - amounts[k] < 1e-3 * amounts[k]) return 1;
  let mean = 0;
  let variance = 0;
  now.forEach((a, j) => {
    if (j === k) return;
    const s2 = a.logSd ** 2 + RESPONSE_LOG_SD ** 2;
    const m = amounts[j] * Math.exp(0.5 * s2);
    mean += m;
    variance += m * m * Math.expm1(s2);
  });
  const othersVar = Math.log1p(variance / (mean * mean));
  const othersLog = Math.log(mean) - 0.5 * othersVar;
  const own = now[k];
  const sd = Math.sqrt(othersVar + own.logSd ** 2 + RESPONSE_LOG_SD ** 2);
  return normalCdf((Math.log((1 - CLEAN_SHARE) / CLEAN_SHARE) - (othersLog - own.logMean)) / sd);
}

/** The most probable state and, where clean, the component. */
export function stateOf(odds: TubeOdds): { state: TubeState; main: number | null } {
  const main = odds.clean.length > 0 ? odds.clean.indexOf(Math.max(...odds.clean)) : -1;
  const clean = odds.clean.reduce((s, p) => s + p, 0);
  if (odds.empty >= clean && odds.empty >= odds.mixed) return { state: "empty", main: null };
  return clean >= odds.mixed ? { state: "clean", main } : { state: "mixed", main: null };
}
