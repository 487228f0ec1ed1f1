import type { ComponentMending, Contradiction, PlateMending } from "./decision.ts";
import type { Advice, ElutionProfile, Interval, PolicyOutcome, TubeState } from "./elution.ts";
import type { Light, Point } from "./photo.ts";
import type { LineSource } from "./plate.ts";
import type { ReadSettings } from "./run.ts";

export const RESULT_SCHEMA = "platepool.result/1";

export interface ResultPhoto {
  readonly file: string;
  readonly status: "read" | "rejected";
  readonly reason: string | null;
  readonly light: Light;
  readonly plate: string | null;
  readonly plates: readonly string[];
  /** Size of the upright original in pixels; 0 where it could not be decoded. */
  readonly width: number;
  readonly height: number;
  readonly quality: {
    readonly blur_px: number;
    readonly clipped: readonly [number, number, number];
    readonly evenness: number;
    readonly plate_px: number;
    readonly cut_off: boolean;
    readonly advice: string | null;
  } | null;
  /** Corners of each plate as this photo shows it (same order as `plates`). */
  readonly corners: readonly (readonly Point[])[];
}

export interface ResultLine {
  readonly y: number;
  readonly source: LineSource;
  readonly tilt: number;
  readonly bow: number;
}

export interface ResultSpot {
  readonly rf: number;
  readonly rf_sd: number;
  readonly amount: number;
  readonly amount_sd: number;
  readonly component: string | null;
  /** Probability that a spot is there, in this lane and at this Rf: the plate's lines and lanes included. */
  readonly confidence: number;
  readonly flags: readonly string[];
  readonly lights: readonly Light[];
  /** Plate fractions. */
  readonly x: number;
  readonly y: number;
  readonly width_rf: number;
  readonly width_x: number;
  readonly tailing: number;
}

export interface ResultLane {
  readonly index: number;
  readonly label: string;
  readonly fraction: number | null;
  readonly x: number;
  readonly drift: number;
  readonly spots: readonly ResultSpot[];
}

export interface ResultPlate {
  readonly id: string;
  readonly photos: readonly string[];
  readonly corners: readonly Point[] | null;
  readonly aspect: number;
  readonly origin: ResultLine;
  readonly front: ResultLine;
  readonly lanes: readonly ResultLane[];
}

export interface ResultComponent {
  readonly id: string;
  readonly rf: number;
  readonly rf_sd: number;
  readonly first: number | null;
  readonly last: number | null;
  readonly in_reference: boolean;
}

export interface ResultFraction {
  readonly number: number;
  readonly seen: boolean;
  readonly composition: Readonly<Record<string, number>>;
  readonly state: TubeState;
  readonly odds: Readonly<Record<TubeState, number>>;
  readonly pool: string | null;
  readonly confidence: number;
  readonly reason: string | null;
}

export interface ResultPool {
  readonly id: string;
  readonly fractions: readonly number[];
  readonly kind: TubeState;
  readonly components: readonly string[];
  readonly purity: Interval;
  readonly confidence: number;
  readonly volume_ml: number | null;
  readonly reason: string;
}

export interface ResultWarning {
  readonly code: string;
  readonly message: string;
  readonly photo: string | null;
  readonly fraction: number | null;
}

/** A pool as the person has it, judged by this reading. */
export interface ResultDecidedPool {
  /** Name the person knows it by. */
  readonly id: string;
  readonly fractions: readonly number[];
  readonly kind: TubeState;
  readonly components: readonly string[];
  readonly purity: Interval;
  /** Share of all of its main component that is in it. */
  readonly recovery: Interval;
  readonly confidence: number;
  readonly volume_ml: number | null;
  readonly accepted: boolean;
  readonly reason: string;
}

/** What the person decided, apart from what is suggested. */
export interface ResultDecisions {
  /** Id of the journal's last line that went into this reading. */
  readonly last: number;
  /** What was mended of the reading; it is worked into everything else in the result. */
  readonly mendings: { readonly plates: readonly PlateMending[]; readonly components: readonly ComponentMending[] };
  /** Null where the tubes were never divided by hand: the suggestion stands. */
  readonly pools: readonly ResultDecidedPool[] | null;
  /** Tubes of the reading that no decided pool holds. */
  readonly undecided: readonly number[];
  readonly contradictions: readonly Contradiction[];
}

/** `platepool.result/1`: what one reading of a run folder says. Fields may be added; none renamed or dropped. */
export interface Result {
  readonly schema: typeof RESULT_SCHEMA;
  readonly run: string | null;
  /** What the reading was set to; left out by versions that did not tell. */
  readonly settings?: ReadSettings;
  readonly photos: readonly ResultPhoto[];
  readonly plates: readonly ResultPlate[];
  readonly components: readonly ResultComponent[];
  readonly fractions: readonly ResultFraction[];
  readonly pools: readonly ResultPool[];
  readonly profiles: readonly ElutionProfile[];
  readonly policies: readonly PolicyOutcome[];
  readonly advice: readonly Advice[];
  readonly warnings: readonly ResultWarning[];
  /** Left out where nothing was decided. */
  readonly decisions?: ResultDecisions;
}
