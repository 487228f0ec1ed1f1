import type { LaneRef } from "./plate.ts";

/** A substance behind a set of spots. Ids run A, B, C … from the fastest (highest Rf) down. */
export interface Component {
  readonly id: string;
  /** On the common Rf scale of the run. */
  readonly rf: number;
  readonly rfSd: number;
  /** First and last fraction that shows it; null where only reference lanes do. */
  readonly first: number | null;
  readonly last: number | null;
  /** Seen in a reference lane (crude, co-spot, standard). */
  readonly inReference: boolean;
}

/** Which spot of which lane belongs to which component (null: to none). */
export interface SpotAssignment extends LaneRef {
  /** Index in `Lane.spots`. */
  readonly spot: number;
  readonly component: string | null;
}

/** Amount of one component in one fraction. */
export interface ProfilePoint {
  readonly fraction: number;
  /** Relative amount, >= 0; smoothed or inferred. */
  readonly amount: number;
  readonly sd: number;
  /** What the lanes themselves say, or null where nobody spotted the tube. */
  readonly measured: number | null;
}

export interface ElutionProfile {
  readonly component: string;
  readonly points: readonly ProfilePoint[];
  /** True where a tailed peak was fitted, false where the measured amounts stand as they are. */
  readonly fitted: boolean;
}

export type TubeState = "clean" | "mixed" | "empty";

/** What is thought of one fraction (tube). */
export interface FractionVerdict {
  readonly number: number;
  readonly seen: boolean;
  /** Share of each component in all that is visible; sums to 1, or {} where empty. */
  readonly composition: Readonly<Record<string, number>>;
  readonly state: TubeState;
  /** Posterior probability of each state; sums to 1. */
  readonly odds: Readonly<Record<TubeState, number>>;
  readonly pool: string | null;
  /** Probability that the suggested pool is the right one. */
  readonly confidence: number;
  /** Plain words, or null where there is no doubt worth a sentence. */
  readonly reason: string | null;
  readonly evidence: readonly LaneRef[];
}

export interface Interval {
  readonly low: number;
  readonly mid: number;
  readonly high: number;
}

/** Neighbouring fractions to be combined. */
export interface Pool {
  readonly id: string;
  readonly fractions: readonly number[];
  readonly kind: TubeState;
  readonly components: readonly string[];
  /** Share of the main component in all that the plates show, 90 % interval. */
  readonly purity: Interval;
  readonly confidence: number;
  readonly volumeMl: number | null;
  readonly reason: string;
  readonly evidence: readonly LaneRef[];
}

export const POLICIES = ["purity", "balance", "recovery"] as const;
export type Policy = (typeof POLICIES)[number];

/** What pooling under one policy would give. */
export interface PolicyOutcome {
  readonly policy: Policy;
  readonly pools: readonly { readonly fractions: readonly number[]; readonly kind: TubeState }[];
  readonly purity: Interval;
  readonly recovery: Interval;
}

/** Something to do next, worth the most first. */
export interface Advice {
  readonly code: string;
  readonly message: string;
  readonly fractions: readonly number[];
  /** Expected fall in the stated loss, in tubes' worth. */
  readonly gain: number;
}

/** Where a plan expects a component to come off: weak evidence beside the plates. */
export interface ExpectedBand {
  /** In the eluent that the plates ran in. */
  readonly rf: number;
  /** Tube of its peak, and its width as a standard deviation, tubes. */
  readonly tube: number;
  readonly sd: number;
}

/** All that many plates say together. */
export interface ElutionReading {
  readonly components: readonly Component[];
  readonly assignments: readonly SpotAssignment[];
  readonly profiles: readonly ElutionProfile[];
  readonly fractions: readonly FractionVerdict[];
  readonly pools: readonly Pool[];
  readonly policies: readonly PolicyOutcome[];
  readonly advice: readonly Advice[];
}
