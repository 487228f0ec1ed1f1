import { normalCdf } from "../math/normal.ts";
import type { TubeState } from "../model/index.ts";
import { type Belief, RESPONSE_LOG_SD } from "./belief.ts";

/** A tube is clean where one component makes up at least this share of what is visible (contract, common practice). */
export const CLEAN_SHARE = 0.95;
/** Shares of the main component from which a tube is clean, and up to which it is mixed; between them it is neither. */
interface ShareLines {
  readonly clean: number;
  readonly mixed: number;
}
const ONE_LINE: ShareLines = { clean: CLEAN_SHARE, mixed: CLEAN_SHARE };
/** Beyond these a tube is plainly clean, or mixed; what lies between counts this much. */
const PLAIN_LINES: ShareLines = { clean: 0.98, mixed: 0.88 };
const TOO_CLOSE = 0.1;
/** Components whose sight is this unlikely, or likely, count as not shown, or shown; at most so many are left open. */
const SETTLED = 0.004;
const MOST_OPEN = 7;

/** How likely a tube is to be each thing it can be; sums to 1. */
export interface TubeOdds {
  /** [component] clean in that component. */
  readonly clean: readonly number[];
  readonly mixed: number;
  readonly empty: number;
  /** [component] expected share in what is visible, given that anything is; sums to 1 or to 0. */
  readonly share: readonly number[];
}

/** A component as far as it counts: the chance that it is visible, and how much of it there is if so. */
interface Visible {
  readonly chance: number;
  readonly logMean: number;
  readonly logSd: number;
}

/**
 * Posterior odds of a tube, judged by what is visible (3 % contrast, contrast-to-noise 6): sums over which components
 * are. The tube is empty where none is; else the chance that one makes up 95 % of those that are follows from the normal
 * approximation of the log ratio of the others to it, the unknown response of each substance included.
 */
export function tubeOdds(components: readonly Belief[]): TubeOdds {
  return oddsBy(components.map(visibleOf), ONE_LINE);
}

/**
 * Odds of a tube were it not close to a line. A tube that is clean or mixed by a hair, or empty but for what can just be
 * seen, is neither pooled wrongly nor judged wrongly whatever it is taken for: it counts a tenth of what is plainly so.
 * Plainly clean is one that the main component makes up 98 % of, plainly mixed one of 88 % at most; what is plainly
 * visible, or not, is a factor from the line, so that the odds of either are squared.
 */
export function plainOdds(components: readonly Belief[]): TubeOdds {
  const all = tubeOdds(components);
  const plain = oddsBy(components.map(plainlyVisible), PLAIN_LINES);
  const counted = (any: number, plainly: number) => TOO_CLOSE * any + (1 - TOO_CLOSE) * plainly;
  const clean = all.clean.map((p, k) => counted(p, plain.clean[k]));
  const mixed = counted(all.mixed, plain.mixed);
  const empty = counted(all.empty, plain.empty);
  const sum = clean.reduce((s, p) => s + p, 0) + mixed + empty;
  return { clean: clean.map((p) => p / sum), mixed: mixed / sum, empty: empty / sum, share: all.share };
}

/** What the lines make of a tube; a chance that falls between them is left out. */
function oddsBy(all: readonly Visible[], lines: ShareLines): TubeOdds {
  const n = all.length;
  const clean = new Array<number>(n).fill(0);
  const share = new Array<number>(n).fill(0);
  const open = all
    .map((_, k) => k)
    .filter((k) => all[k].chance > SETTLED && all[k].chance < 1 - SETTLED)
    .sort((a, b) => Math.abs(all[a].chance - 0.5) - Math.abs(all[b].chance - 0.5) || a - b)
    .slice(0, MOST_OPEN);
  const there = all.map((c) => c.chance > 0.5);
  let mixed = 0;
  let empty = 0;
  for (let set = 0; set < 1 << open.length; set++) {
    let weight = 1;
    open.forEach((k, bit) => {
      there[k] = (set & (1 << bit)) !== 0;
      weight *= there[k] ? all[k].chance : 1 - all[k].chance;
    });
    if (weight < 1e-5) continue;
    const shown = all.filter((_, k) => there[k]);
    const amounts = all.map((c, k) => (there[k] ? Math.exp(c.logMean) : 0));
    const total = amounts.reduce((s, a) => s + a, 0);
    if (total <= 0) {
      empty += weight;
      continue;
    }
    let left = weight;
    for (let k = 0; k < n; k++) {
      share[k] += (weight * amounts[k]) / total;
      if (amounts[k] < 0.2 * total) continue;
      const p = weight * cleanChance(all[k], shown, lines.mixed);
      clean[k] += lines.clean === lines.mixed ? Math.min(left, p) : weight * cleanChance(all[k], shown, lines.clean);
      left -= Math.min(left, p);
    }
    mixed += left;
  }
  // Sets too unlikely to be followed leave a little out; so does what falls between the lines, on purpose.
  const sum = lines.clean === lines.mixed ? clean.reduce((s, p) => s + p, 0) + mixed + empty : 1;
  if (!(sum > 0) || n === 0) return { clean, mixed: 0, empty: 1, share };
  const seen = share.reduce((s, p) => s + p, 0);
  return {
    clean: clean.map((p) => p / sum),
    mixed: mixed / sum,
    empty: empty / sum,
    share: share.map((p) => (seen > 0 ? p / seen : 0)),
  };
}

/** A component is visible by its spot, or though none was found; its amount is that of both, each by its chance. */
function visibleOf({ chance, spot, rest }: Belief): Visible {
  const bySpot = chance * spot.visible;
  const byRest = (1 - chance) * rest.visible;
  const share = bySpot / Math.max(1e-12, bySpot + byRest);
  const logMean = share * spot.logMean + (1 - share) * rest.logMean;
  const variance =
    share * (spot.logSd ** 2 + (spot.logMean - logMean) ** 2) +
    (1 - share) * (rest.logSd ** 2 + (rest.logMean - logMean) ** 2);
  return { chance: bySpot + byRest, logMean, logSd: Math.sqrt(variance) };
}

/** The same given that what is there, by its spot or though none was found, is not close to what can just be seen. */
function plainlyVisible({ chance, spot, rest }: Belief): Visible {
  const squared = (p: number) => (p * p) / (p * p + (1 - p) * (1 - p));
  return visibleOf({
    chance,
    spot: { ...spot, visible: squared(spot.visible) },
    rest: { ...rest, visible: squared(rest.visible) },
  });
}

/**
 * Chance that `own` makes up at least the given share of what is shown, itself included. The sum of the others is taken as
 * log-normal with the mean and variance of the sum (Fenton 1960, from memory).
 */
function cleanChance(own: Visible, shown: readonly Visible[], line: number): number {
  let mean = 0;
  let variance = 0;
  for (const other of shown) {
    if (other === own) continue;
    const s2 = other.logSd ** 2 + RESPONSE_LOG_SD ** 2;
    const m = Math.exp(other.logMean + 0.5 * s2);
    mean += m;
    variance += m * m * Math.expm1(s2);
  }
  if (mean < 1e-3 * Math.exp(own.logMean)) return 1;
  const othersVar = Math.log1p(variance / (mean * mean));
  const othersLog = Math.log(mean) - 0.5 * othersVar;
  const sd = Math.sqrt(othersVar + own.logSd ** 2 + RESPONSE_LOG_SD ** 2);
  return normalCdf((Math.log((1 - line) / line) - (othersLog - own.logMean)) / sd);
}

/** The most probable state and, where clean, the component. */
export function stateOf(odds: TubeOdds): { state: TubeState; main: number | null } {
  const main = odds.clean.length > 0 ? odds.clean.indexOf(Math.max(...odds.clean)) : -1;
  const clean = odds.clean.reduce((s, p) => s + p, 0);
  if (odds.empty >= clean && odds.empty >= odds.mixed) return { state: "empty", main: null };
  return clean >= odds.mixed ? { state: "clean", main } : { state: "mixed", main: null };
}
