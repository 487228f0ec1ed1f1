import type { LaneRef } from "../model/index.ts";

/** What one spot is taken for: probability for each component alone, and for each together with the next lower one. */
export interface SpotMeaning {
  /** Index in `Lane.spots`. */
  readonly spot: number;
  readonly alone: readonly number[];
  readonly joint: readonly number[];
}

export interface LaneGrouping {
  readonly ref: LaneRef;
  /** Index of the plate in the order given. */
  readonly plate: number;
  readonly label: string;
  readonly tube: number | null;
  readonly spots: readonly SpotMeaning[];
  /** Rf of each component on this plate at this lane, falling. */
  readonly places: readonly number[];
  /** Probability of each component to show here, judged from the other lanes alone. */
  readonly expected: readonly number[];
  /** Probability of each component to be run together with a neighbour's spot and so to go unnoticed, were it here. */
  readonly hidden: readonly number[];
}

/** Substances behind the spots of a run; components in the order of falling Rf. */
export interface Grouping {
  readonly rf: readonly number[];
  readonly rfSd: readonly number[];
  readonly lanes: readonly LaneGrouping[];
}
