import type { LaneRef } from "../model/index.ts";

/** What is thought of one component in one tube. */
export interface Belief {
  /** Probability that a plate shows it (or would, where nobody spotted the tube). */
  readonly chance: number;
  /** Log amount where it shows, and its sd. */
  readonly logMean: number;
  readonly logSd: number;
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
}

/**
 * How unequal the answers of two substances of equal amount are: sd of the log response of each. Equal spots need not
 * be equal amounts (common practice, no source for the figure).
 */
export const RESPONSE_LOG_SD = 0.35;
