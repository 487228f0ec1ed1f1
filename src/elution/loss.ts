import { cheapestSegmentation, type Segmentation } from "../math/segmentation.ts";
import type { Policy } from "../model/index.ts";
import { stateOf, type TubeOdds } from "./odds.ts";

/** What a wrong place costs, in tubes: 1 is a clean tube run again with the mixed ones. */
export interface Loss {
  /** A mixed tube in a clean pool. */
  readonly mixedInClean: number;
  /** A clean tube in a clean pool of another component. */
  readonly otherInClean: number;
  /** A tube with nothing in it in a clean or mixed pool. */
  readonly emptyKept: number;
  /** A clean tube in a mixed pool. */
  readonly cleanInMixed: number;
  /** A clean tube thrown away. */
  readonly cleanLost: number;
  /** A mixed tube thrown away. */
  readonly mixedLost: number;
  /** One flask more. */
  readonly flask: number;
  /** Neighbours without a component in common in one mixed pool. */
  readonly strangers: number;
}

/** The stated loss of each policy: common practice put into figures, no source. */
export const LOSSES: Readonly<Record<Policy, Loss>> = {
  purity: {
    mixedInClean: 8,
    otherInClean: 8,
    emptyKept: 0.5,
    cleanInMixed: 0.8,
    cleanLost: 2.5,
    mixedLost: 1.5,
    flask: 0.05,
    strangers: 1,
  },
  balance: {
    mixedInClean: 3.5,
    otherInClean: 4,
    emptyKept: 0.8,
    cleanInMixed: 1,
    cleanLost: 2,
    mixedLost: 1.5,
    flask: 0.05,
    strangers: 1,
  },
  recovery: {
    mixedInClean: 1,
    otherInClean: 3,
    emptyKept: 0.5,
    cleanInMixed: 1.5,
    cleanLost: 3,
    mixedLost: 2.5,
    flask: 0.05,
    strangers: 1,
  },
};

/** Weight of each component in the loss: more for the wanted one. */
export type Weights = readonly number[];

/** Labels of pools: 0 … n-1 clean in that component, n mixed, n+1 empty. */
export function mixedLabel(components: number): number {
  return components;
}

export function emptyLabel(components: number): number {
  return components + 1;
}

/** Expected loss of putting a tube into a pool of the given label. */
export function placeLoss(odds: TubeOdds, label: number, loss: Loss, weights: Weights): number {
  const n = odds.clean.length;
  let sum = 0;
  const mixedWeight = odds.share.reduce((s, p, k) => s + p * weights[k], 0) || 1;
  if (label < n) {
    sum += odds.mixed * loss.mixedInClean * Math.max(weights[label], mixedWeight) + odds.empty * loss.emptyKept;
    odds.clean.forEach((p, k) => {
      if (k !== label) sum += p * loss.otherInClean * Math.max(weights[k], weights[label]);
    });
    return sum;
  }
  const each = label === mixedLabel(n) ? loss.cleanInMixed : loss.cleanLost;
  odds.clean.forEach((p, k) => {
    sum += p * each * weights[k];
  });
  return sum + (label === mixedLabel(n) ? odds.empty * loss.emptyKept : odds.mixed * loss.mixedLost * mixedWeight);
}

/** Share that two tubes have in common: sum over components of the smaller share. */
export function overlap(a: TubeOdds, b: TubeOdds): number {
  return a.share.reduce((s, p, k) => s + Math.min(p, b.share[k]), 0);
}

/** Expected loss of every tube in every kind of pool: [tube][label]. */
export type LossTable = readonly Float64Array[];

export function lossRow(odds: TubeOdds, loss: Loss, weights: Weights): Float64Array {
  return Float64Array.from({ length: odds.clean.length + 2 }, (_, label) => placeLoss(odds, label, loss, weights));
}

/**
 * The pools of smallest expected loss over neighbouring tubes.
 * @param table expected losses, one row a tube
 * @param barred tells that a tube may not go into a pool of that label, whatever the loss
 */
export function cheapestPools(
  odds: readonly TubeOdds[],
  table: LossTable,
  loss: Loss,
  barred: (tube: number, label: number) => boolean = () => false,
): Segmentation {
  const n = odds[0]?.clean.length ?? 0;
  return cheapestSegmentation(
    odds.length,
    n + 2,
    (t, label) => (barred(t, label) ? Number.POSITIVE_INFINITY : table[t][label]),
    loss.flask,
    (t, label) => (label === mixedLabel(n) && overlap(odds[t - 1], odds[t]) < 0.02 ? loss.strangers : 0),
  );
}

/** Keeps tubes whose own most probable state is mixed, or clean in another component, out of clean pools. */
export function barredBy(odds: readonly TubeOdds[]): (tube: number, label: number) => boolean {
  const states = odds.map(stateOf);
  return (t, label) =>
    label < odds[t].clean.length &&
    (states[t].state === "mixed" || (states[t].state === "clean" && states[t].main !== label));
}
