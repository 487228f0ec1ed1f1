import type { LaneRef } from "../model/index.ts";

/** What one spot is taken for: probability for each component alone, and for each together with the next lower one. */
export interface SpotMeaning {
  /** Index in `Lane.spots`. */
  readonly spot: number;
  readonly alone: readonly number[];
  readonly joint: readonly number[];
  /** Chance that it is the spot of each component in another lane, which claims it, too. */
  readonly elsewhere: readonly number[];
}

/** A spot of a neighbouring component so near that the two would be read as one. */
export interface Hiding {
  /** Index of the neighbour. */
  readonly neighbour: number;
  /** Chance that the two would be read as one. */
  readonly chance: number;
  /** Way from the neighbour's place to the component's own, Rf, either sign. */
  readonly gap: number;
  /** How far the spot lies off the neighbour's place, Rf, and the standard deviation of that. */
  readonly off: number;
  readonly offSd: number;
  /** ln of the spot's width over that of a single spot, and its scatter. */
  readonly excess: number;
  readonly excessSd: number;
  /** Width of a single spot, Rf. */
  readonly single: number;
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
  /** For each component, the neighbour's spot in which it would be lost, were it here; null where it would stand alone. */
  readonly hiding: readonly (Hiding | null)[];
}

/** True for a lane with a spot that more likely belongs to the lane beside it, which claims it, too. */
export function claimedBeside({ spots }: LaneGrouping): boolean {
  return spots.some((s) => s.elsewhere.reduce((sum, p) => sum + p, 0) > 0.5);
}

/** Substances behind the spots of a run; components in the order of falling Rf. */
export interface Grouping {
  readonly rf: readonly number[];
  readonly rfSd: readonly number[];
  readonly lanes: readonly LaneGrouping[];
  /** For each component, the chance that it and the next one are one substance after all; 0 for the last. */
  readonly oneWithNext: readonly number[];
}
