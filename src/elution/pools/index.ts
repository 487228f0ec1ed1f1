import type { FractionVerdict, LaneRef, Policy, PolicyOutcome, Pool } from "../../model/index.ts";
import { expectedAmount, showsChance, type TubeBelief } from "../belief.ts";
import type { Judgement } from "../judge.ts";
import { emptyLabel, mixedLabel, type Weights } from "../loss.ts";
import { stateOf, type TubeOdds } from "../odds.ts";
import { componentId } from "../words.ts";
import { confidenceOf, noSurerThanSpotted } from "./confidence.ts";
import { type Draws, drawAmounts, purityOf } from "./draws.ts";
import { kindOf, outcomes, poolsUnder, type Stretch } from "./policies.ts";
import { poolReason, tubeReason } from "./reasons.ts";

export interface PoolOptions {
  readonly policy: Policy;
  readonly volumeMl: number | null;
  /** Index of the wanted component, or null. */
  readonly want: number | null;
  readonly weights: Weights;
  /** Common Rf of each component. */
  readonly rf: readonly number[];
  /** Chance of each tube (index 0: tube 1) that its plate was misread. */
  readonly misread: readonly number[];
}

export interface Decided {
  readonly fractions: readonly FractionVerdict[];
  readonly pools: readonly Pool[];
  readonly policies: readonly PolicyOutcome[];
}

/** Shares under this are not named as part of a pool or composition. */
const NAMED_SHARE = 0.02;
/** A clean pool that may hold less than this of its component deserves a word on what may be there unseen. */
const DOUBTFUL_PURITY = 0.9;
/** 95 % point of the standard normal. */
const Z95 = 1.645;

/**
 * The decision: the pools of smallest expected loss over neighbouring tubes, with purity, confidence and reasons.
 * See docs/methods/pools.md.
 */
export function decidePools(tubes: readonly TubeBelief[], judged: Judgement, options: PoolOptions): Decided {
  const { odds, plain } = judged;
  const components = options.weights.length;
  const draws = drawAmounts(tubes, components);
  const stretches = poolsUnder(options.policy, judged, options.weights);
  const fractions: FractionVerdict[] = [];
  const pools = stretches.map((stretch, i) => {
    const id = String(i + 1);
    const members = tubes.slice(stretch.from, stretch.to + 1);
    const seen = members.map((tube) => tube.seen);
    const confidences = noSurerThanSpotted(
      seen.map((shown, k) => {
        const t = stretch.from + k;
        return confidenceOf(labelChance(plain[t], stretch.label), shown, options.misread[t]);
      }),
      seen,
    );
    members.forEach((tube, k) => {
      fractions.push(verdict(tube, odds[stretch.from + k], stretch, id, confidences[k]));
    });
    return poolOf(id, stretch, tubes, odds, draws, confidences, options);
  });
  return { fractions, pools, policies: outcomes(judged, options.weights, draws, options.want) };
}

/** Posterior chance that a tube is what the label says. */
export function labelChance(odds: TubeOdds, label: number): number {
  const n = odds.clean.length;
  return label === mixedLabel(n) ? odds.mixed : label === emptyLabel(n) ? odds.empty : odds.clean[label];
}

function verdict(
  tube: TubeBelief,
  odds: TubeOdds,
  stretch: Stretch,
  pool: string,
  confidence: number,
): FractionVerdict {
  const components = odds.clean.length;
  const { state, main } = stateOf(odds);
  const kind = kindOf(stretch.label, components);
  return {
    number: tube.number,
    seen: tube.seen,
    composition: state === "empty" ? {} : composition(tube, state, main),
    state,
    odds: { clean: odds.clean.reduce((s, p) => s + p, 0), mixed: odds.mixed, empty: odds.empty },
    pool,
    confidence,
    reason: tubeReason(tube, odds, kind, stretch.label < components ? stretch.label : main, confidence),
    evidence: tube.evidence,
  };
}

/** Shares of the components more likely to show than not (the likeliest in any case; the largest two where mixed); sums to 1. */
function composition(tube: TubeBelief, state: string, main: number | null): Record<string, number> {
  const ranked = tube.components
    .map((b, k) => ({ k, chance: b.chance, amount: Math.exp((b.chance > 0.5 ? b.spot : b.rest).logMean) }))
    .sort((a, b) => b.amount - a.amount || a.k - b.k);
  const least = state === "mixed" ? 2 : 1;
  const kept = ranked.filter((c, i) => c.chance > 0.5 || i < least || c.k === main);
  const total = kept.reduce((s, c) => s + c.amount, 0);
  const named = kept.filter((c) => c.amount / total > 0.001);
  const sum = named.reduce((s, c) => s + c.amount, 0);
  return Object.fromEntries(named.sort((a, b) => a.k - b.k).map((c) => [componentId(c.k), c.amount / sum]));
}

function poolOf(
  id: string,
  stretch: Stretch,
  tubes: readonly TubeBelief[],
  odds: readonly TubeOdds[],
  draws: Draws,
  confidences: readonly number[],
  options: PoolOptions,
): Pool {
  const members = tubes.slice(stretch.from, stretch.to + 1);
  const numbers = members.map((t) => t.number);
  const kind = kindOf(stretch.label, options.weights.length);
  const held = componentsOf(stretch, tubes, odds);
  const purity =
    kind === "empty"
      ? { low: 0, mid: 0, high: 0 }
      : purityOf(draws, stretch.from, stretch.to, kind === "clean" ? stretch.label : null);
  const unseen = members.filter((t) => !t.seen).map((t) => t.number);
  const silent = kind === "empty" ? [] : members.filter((t) => t.seen && t.silent).map((t) => t.number);
  return {
    id,
    fractions: numbers,
    kind,
    components: held.map(componentId),
    purity,
    confidence: confidences.reduce((s, c) => s + c, 0) / confidences.length,
    volumeMl: options.volumeMl === null ? null : options.volumeMl * numbers.length,
    reason: poolReason(kind, numbers, held, options.rf, purity, {
      unseen,
      silent,
      hidden: kind === "clean" && purity.low < DOUBTFUL_PURITY ? mostHidden(members, stretch.label) : null,
    }),
    evidence: distinct(members.flatMap((t) => t.evidence)),
  };
}

/** The component of which most may be, at the 95 % point, in tubes that do not show it, `own` left out; null where what shows is more. */
function mostHidden(members: readonly TubeBelief[], own: number): number | null {
  const sums = members[0].components.map(() => 0);
  let shown = 0;
  for (const { components } of members) {
    components.forEach((b, k) => {
      if (k === own) return;
      if (showsChance(b) > 0.5) shown += expectedAmount(b);
      else sums[k] += Math.exp(b.rest.logMean + Z95 * b.rest.logSd);
    });
  }
  const most = sums.indexOf(Math.max(...sums));
  return sums[most] > shown ? most : null;
}

/** Components a pool holds, most first: the one of a clean pool; those with a share worth naming of a mixed one. */
function componentsOf(stretch: Stretch, tubes: readonly TubeBelief[], odds: readonly TubeOdds[]): number[] {
  const n = odds[0].clean.length;
  if (stretch.label < n) return [stretch.label];
  if (stretch.label === emptyLabel(n)) return [];
  const sums = new Array<number>(n).fill(0);
  for (let t = stretch.from; t <= stretch.to; t++) {
    tubes[t].components.forEach((b, k) => {
      sums[k] += expectedAmount(b);
    });
  }
  const total = sums.reduce((s, a) => s + a, 0);
  const named = sums.map((a, k) => ({ a, k })).filter(({ a }) => a > NAMED_SHARE * total);
  if (named.length > 0) return named.sort((x, y) => y.a - x.a || x.k - y.k).map(({ k }) => k);
  const share = odds[stretch.from].share;
  return share
    .map((s, k) => ({ s, k }))
    .filter(({ s }) => s > 0.1)
    .map(({ k }) => k);
}

function distinct(refs: readonly LaneRef[]): LaneRef[] {
  const seen = new Set<string>();
  return refs.filter((r) => {
    const key = `${r.plate}/${r.lane}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
