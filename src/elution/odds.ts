import { normalCdf } from "../math/normal.ts";
import type { TubeState } from "../model/index.ts";
import { type Belief, RESPONSE_LOG_SD } from "./belief.ts";

/** A tube is clean where one component makes up at least this share of what shows (contract, common practice). */
export const CLEAN_SHARE = 0.95;
/** Components below this chance in a tube are left out of its odds; at most this many are kept. */
const LEAST_CHANCE = 0.004;
const MOST_COMPONENTS = 8;

/** How likely a tube is to be each thing it can be; sums to 1. */
export interface TubeOdds {
  /** [component] clean in that component. */
  readonly clean: readonly number[];
  readonly mixed: number;
  readonly empty: number;
  /** [component] expected share in what shows, given that anything does; sums to 1 or to 0. */
  readonly share: readonly number[];
}

/**
 * Posterior odds of a tube: sums over every set of components that may show in it; within a set, the chance that one of
 * them makes up 95 % follows from the normal approximation of the log ratio of the others to it, the unknown response of
 * each substance included.
 */
export function tubeOdds(components: readonly Belief[]): TubeOdds {
  const kept = components
    .map((_, k) => k)
    .filter((k) => components[k].chance > LEAST_CHANCE)
    .sort((a, b) => components[b].chance - components[a].chance || a - b)
    .slice(0, MOST_COMPONENTS);
  const clean = new Array<number>(components.length).fill(0);
  const share = new Array<number>(components.length).fill(0);
  let mixed = 0;
  let empty = 1;
  for (const k of kept) empty *= 1 - components[k].chance;
  for (let set = 1; set < 1 << kept.length; set++) {
    let weight = 1;
    const members: number[] = [];
    kept.forEach((k, bit) => {
      if (set & (1 << bit)) {
        members.push(k);
        weight *= components[k].chance;
      } else weight *= 1 - components[k].chance;
    });
    if (weight < 1e-6) continue;
    let left = weight;
    const amounts = members.map((k) => Math.exp(components[k].logMean));
    const total = amounts.reduce((s, a) => s + a, 0);
    members.forEach((k, i) => {
      share[k] += (weight * amounts[i]) / total;
      const p = members.length === 1 ? 1 : cleanChance(components, members, amounts, i);
      clean[k] += weight * p;
      left -= weight * p;
    });
    mixed += Math.max(0, left);
  }
  const sum = clean.reduce((s, p) => s + p, 0) + mixed + empty;
  const shown = share.reduce((s, p) => s + p, 0);
  return {
    clean: clean.map((p) => p / sum),
    mixed: mixed / sum,
    empty: empty / sum,
    share: share.map((p) => (shown > 0 ? p / shown : 0)),
  };
}

/** Chance that member `i` makes up at least 95 % of a set of components. */
function cleanChance(
  components: readonly Belief[],
  members: readonly number[],
  amounts: readonly number[],
  i: number,
): number {
  let others = 0;
  for (let j = 0; j < members.length; j++) if (j !== i) others += amounts[j];
  let variance = components[members[i]].logSd ** 2 + RESPONSE_LOG_SD ** 2;
  members.forEach((k, j) => {
    if (j !== i) variance += (amounts[j] / others) ** 2 * (components[k].logSd ** 2 + RESPONSE_LOG_SD ** 2);
  });
  const limit = Math.log((1 - CLEAN_SHARE) / CLEAN_SHARE);
  return normalCdf((limit - Math.log(others / amounts[i])) / Math.sqrt(variance));
}

/** The most probable state and, where clean, the component. */
export function stateOf(odds: TubeOdds): { state: TubeState; main: number | null } {
  const main = odds.clean.length > 0 ? odds.clean.indexOf(Math.max(...odds.clean)) : -1;
  const clean = odds.clean.reduce((s, p) => s + p, 0);
  if (odds.empty >= clean && odds.empty >= odds.mixed) return { state: "empty", main: null };
  return clean >= odds.mixed ? { state: "clean", main } : { state: "mixed", main: null };
}
