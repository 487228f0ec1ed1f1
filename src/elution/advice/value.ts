import { type AmountBelief, type Belief, type TubeBelief, VISIBLE_SOFTNESS } from "../belief.ts";
import { barredBy, cheapestPools, type Loss, type LossTable, lossRow, type Weights } from "../loss.ts";
import { type TubeOdds, tubeOdds } from "../odds.ts";

/** How often a second, stronger spot tells the truth. */
export const SECOND_LOOK = 0.95;
/** Outcomes less likely than this are not worth following up. */
const LEAST = 0.01;

/** The decision as it stands, and what it is expected to cost. */
export interface Standing {
  readonly odds: readonly TubeOdds[];
  readonly table: LossTable;
  readonly loss: Loss;
  readonly weights: Weights;
  /** Label of the pool of each tube, as in `loss.ts`. */
  readonly labels: readonly number[];
  readonly cost: number;
}

export function standing(odds: readonly TubeOdds[], loss: Loss, weights: Weights): Standing {
  const table = odds.map((o) => lossRow(o, loss, weights));
  const { segments, cost } = cheapestPools(odds, table, loss, barredBy(odds));
  const labels = segments.flatMap((s) => new Array<number>(s.to - s.from + 1).fill(s.label));
  return { odds, table, loss, weights, labels, cost };
}

/** Cost of the best pools with the odds of some tubes replaced. */
function costWith(now: Standing, replaced: ReadonlyMap<number, TubeOdds>): number {
  const odds = now.odds.map((o, t) => replaced.get(t) ?? o);
  const table = now.table.map((row, t) => {
    const other = replaced.get(t);
    return other ? lossRow(other, now.loss, now.weights) : row;
  });
  return cheapestPools(odds, table, now.loss, barredBy(odds)).cost;
}

function towards(odds: TubeOdds, outcome: number): TubeOdds {
  const n = odds.clean.length;
  const to = (p: number, label: number) => (1 - SECOND_LOOK) * p + (label === outcome ? SECOND_LOOK : 0);
  return { ...odds, clean: odds.clean.map(to), mixed: to(odds.mixed, n), empty: to(odds.empty, n + 1) };
}

/**
 * Expected fall in loss from a second look at one tube: over what it may show, the best pools after seeing it against the
 * best pools now (value of information: Raiffa and Schlaifer 1961, from memory).
 */
export function lookValue(now: Standing, tube: number): number {
  const odds = now.odds[tube];
  const outcomes = [...odds.clean, odds.mixed, odds.empty];
  let expected = 0;
  let followed = 0;
  outcomes.forEach((p, outcome) => {
    if (p < LEAST) return;
    followed += p;
    expected += p * costWith(now, new Map([[tube, towards(odds, outcome)]]));
  });
  return followed > 0 ? Math.max(0, now.cost - expected / followed) : 0;
}

/** Points of a standard normal (Gauss and Hermite, three) with their weights, and how well a good light tells an amount (log). */
const POINTS: readonly (readonly [at: number, weight: number])[] = [
  [-Math.sqrt(3), 1 / 6],
  [0, 2 / 3],
  [Math.sqrt(3), 1 / 6],
];
const LOOKED_AT_SD = 0.2;

/**
 * Expected fall in loss from learning, for some tubes one by one, how much of component `k` is in them by a light that
 * shows it from amount `limit` on: what the pools of now would cost then, against the best ones.
 */
export function componentValue(
  now: Standing,
  tubes: readonly TubeBelief[],
  which: readonly number[],
  k: number,
  limit: number,
): number {
  let sum = 0;
  for (const t of which) {
    const { components } = tubes[t];
    const { chance, spot, rest } = components[k];
    if (chance > 1 - LEAST) continue;
    for (const [amount, likely] of [[spot, chance] as const, [rest, 1 - chance] as const]) {
      for (const [at, weight] of POINTS) {
        const logMean = amount.logMean + at * amount.logSd;
        const visible = 1 / (1 + Math.exp((Math.log(limit) - logMean) / VISIBLE_SOFTNESS));
        const found = { logMean, logSd: LOOKED_AT_SD, visible };
        const known = { chance: 1, spot: found, rest: found };
        const odds = tubeOdds(components.map((b, i): Belief => (i === k ? known : b)));
        const kept = now.cost + lossRow(odds, now.loss, now.weights)[now.labels[t]] - now.table[t][now.labels[t]];
        sum += likely * weight * Math.max(0, kept - costWith(now, new Map([[t, odds]])));
      }
    }
  }
  return sum;
}

/**
 * Expected fall in loss from learning whether components `k` and `k + 1` are one substance: were they one, the pools of
 * now would cost more than the best ones.
 */
export function kinshipValue(now: Standing, tubes: readonly TubeBelief[], k: number, one: number): number {
  const merged = tubes.map((tube) =>
    tubeOdds(tube.components.map((b, i) => (i === k ? both(b, tube.components[k + 1]) : i === k + 1 ? NOTHING : b))),
  );
  const table = merged.map((o) => lossRow(o, now.loss, now.weights));
  const best = cheapestPools(merged, table, now.loss, barredBy(merged)).cost;
  const segments = cheapestPools(now.odds, now.table, now.loss, barredBy(now.odds)).segments;
  let kept = 0;
  for (const s of segments) {
    kept += now.loss.flask;
    for (let t = s.from; t <= s.to; t++) kept += table[t][s.label === k + 1 ? k : s.label];
  }
  return one * Math.max(0, kept - best);
}

const NO_AMOUNT: AmountBelief = { logMean: Math.log(1e-12), logSd: 0.1, visible: 0 };
const NOTHING: Belief = { chance: 0, spot: NO_AMOUNT, rest: NO_AMOUNT };

/** Two beliefs as one of their sum. */
function both(a: Belief, b: Belief): Belief {
  const chance = 1 - (1 - a.chance) * (1 - b.chance);
  const spot = a.chance * Math.exp(a.spot.logMean) + b.chance * Math.exp(b.spot.logMean);
  const rest = Math.exp(a.rest.logMean) + Math.exp(b.rest.logMean);
  const larger = a.chance * Math.exp(a.spot.logMean) > b.chance * Math.exp(b.spot.logMean) ? a : b;
  return {
    chance,
    spot: { ...larger.spot, logMean: Math.log(Math.max(1e-12, spot / Math.max(chance, 1e-6))) },
    rest: { ...larger.rest, logMean: Math.log(rest), visible: Math.max(a.rest.visible, b.rest.visible) },
  };
}
