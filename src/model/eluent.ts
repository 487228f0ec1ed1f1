import type { Finding } from "./finding.ts";

/** One solvent of an eluent. */
export interface SolventShare {
  /** Lower case, as the trade writes it ("ethyl acetate"). */
  readonly solvent: string;
  /** Volume share, 0..1. */
  readonly share: number;
}

/** A mobile phase; the shares sum to 1. */
export interface Eluent {
  /** As it was typed. */
  readonly text: string;
  /** Weakest first where the order of strength is known, else as typed. */
  readonly parts: readonly SolventShare[];
}

export interface ScoutSpot {
  readonly rf: number;
  readonly rfSd: number;
  /** Full width at half height, in Rf. */
  readonly widthRf: number;
  /** Back half over front half of the width; 1 is even. */
  readonly tailing: number;
  /** Relative amount, >= 0. */
  readonly amount: number;
}

export interface ScoutLane {
  readonly plate: string;
  readonly lane: number;
  readonly label: string;
  readonly spots: readonly ScoutSpot[];
}

/** All lanes that ran in one eluent. */
export interface ScoutTrial {
  readonly eluent: Eluent;
  readonly lanes: readonly ScoutLane[];
}

/** One component in one eluent. */
export interface TrialSpot {
  /** A, B, C ... from the fastest down; the same letter is the same substance in every eluent. */
  readonly component: string;
  readonly rf: number;
  readonly rfSd: number;
  readonly widthRf: number;
  readonly tailing: number;
  /** Share of this component in all the trial shows, 0..1. */
  readonly share: number;
  /** Hold-up volumes of the column until it is off, 1/Rf. */
  readonly columnVolumes: number;
}

/** Two neighbours on a plate or a column; `fast` has the higher Rf. */
export interface PairFigures {
  readonly fast: string;
  readonly slow: string;
  readonly deltaRf: number;
  /** On the plate, Ph. Eur. 2.2.46. */
  readonly resolution: number;
  /** Between the two on the column, in hold-up volumes. */
  readonly columnVolumes: number;
  /** Expected on the column (1: four standard deviations apart). */
  readonly columnResolution: number;
}

export interface TrialAssessment {
  readonly eluent: Eluent;
  readonly plates: readonly string[];
  /** Fastest first. */
  readonly spots: readonly TrialSpot[];
  /** Closest pair of all. */
  readonly closest: PairFigures | null;
  /** Closest pair that the wanted component is part of. */
  readonly wantedPair: PairFigures | null;
  readonly workable: boolean;
  /** Higher is better, >= 0; only for ranking. */
  readonly score: number;
  /** 1 is the best. */
  readonly rank: number;
  readonly reason: string;
}

/** What to try next, with what to expect there. */
export interface NextEluent {
  readonly direction: "stronger" | "weaker";
  /** The eluent already tried that it starts from. */
  readonly from: Eluent;
  readonly strong: string;
  readonly weak: string;
  /** Volume share of the stronger solvent: now, proposed, and the range in which the models disagree. */
  readonly shareNow: number;
  readonly share: number;
  readonly shareLow: number;
  readonly shareHigh: number;
  readonly expected: readonly { readonly component: string; readonly rf: number }[];
  /** True where several compositions of this pair of solvents were tried, false where a rule of thumb stands in. */
  readonly measured: boolean;
  readonly reason: string;
}

/** Start in one eluent, change to a stronger one when the fast components are off. */
export interface StepSuggestion {
  readonly first: Eluent;
  readonly second: string;
  /** Where to change, in hold-up volumes from the start. */
  readonly changeAtColumnVolumes: number;
  readonly staysPut: readonly string[];
  readonly expected: readonly { readonly component: string; readonly rf: number }[];
  readonly reason: string;
}

export interface ScoutComponent {
  readonly id: string;
  /** Name of the reference lane that shows it, or null. */
  readonly name: string | null;
}

/** Scouting plates, compared. */
export interface EluentRanking {
  readonly components: readonly ScoutComponent[];
  /** Id of the wanted component; null where nothing was seen. */
  readonly wanted: string | null;
  /** Best first. */
  readonly trials: readonly TrialAssessment[];
  readonly next: readonly NextEluent[];
  readonly step: StepSuggestion | null;
  readonly findings: readonly Finding[];
}
