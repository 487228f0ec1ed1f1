import type { LaneRef } from "../model/index.ts";

/** An amount known on the log scale, and whether it would count as visible. */
export interface AmountBelief {
  readonly logMean: number;
  readonly logSd: number;
  /** Probability that so much counts as visible (3 % contrast, contrast-to-noise 6). */
  readonly visible: number;
}

/** What is thought of one component in one tube: a spot stands for it with some chance; if none does, little of it or none is there. */
export interface Belief {
  /** Probability that a spot stands for it (or that it hides in another's spot, or would show where nobody spotted). */
  readonly chance: number;
  /** Amount if so. */
  readonly spot: AmountBelief;
  /** Amount if not: what the other tubes lead one to expect, less what would have been found. */
  readonly rest: AmountBelief;
}

export interface TubeBelief {
  readonly number: number;
  readonly seen: boolean;
  /** One entry per component. */
  readonly components: readonly Belief[];
  readonly evidence: readonly LaneRef[];
  /** Spotted, but no component shows in its lanes. */
  readonly silent: boolean;
  /** Probability that the lane was named but never spotted. */
  readonly forgotten: number;
  /** Spots in its lanes are more likely those of the lane beside, which claims them, too. */
  readonly claimed: boolean;
}

/** Probability that the component shows in the tube. */
export function showsChance(belief: Belief): number {
  return belief.chance * belief.spot.visible + (1 - belief.chance) * belief.rest.visible;
}

/** Expected amount, by medians. */
export function expectedAmount(belief: Belief): number {
  return belief.chance * Math.exp(belief.spot.logMean) + (1 - belief.chance) * Math.exp(belief.rest.logMean);
}

/**
 * How unequal the answers of two substances of equal amount are: sd of the log response of each. Equal spots need not
 * be equal amounts (common practice, no source for the figure).
 */
export const RESPONSE_LOG_SD = 0.35;

/** How sharp the line is from which an amount counts as visible (log). */
export const VISIBLE_SOFTNESS = 0.4;
