import type { Interval, TubeState } from "./elution.ts";
import type { Quad } from "./photo.ts";

export const JOURNAL_SCHEMA = "platepool.decisions/1";

/** What a pool was thought to hold when it was decided: the letter as it was then, and the Rf that outlives re-lettering. */
export interface HeldComponent {
  readonly component: string;
  readonly rf: number;
}

/** A pool as a person has it. Every tube stands in one pool; its tubes are numbered as they were filled, rising. */
export interface DecidedPool {
  /** Name by which the person knows it, unique in the division; at first the suggestion's id. */
  readonly name: string;
  readonly fractions: readonly number[];
  /** What the plates said of it when it was decided. */
  readonly kind: TubeState;
  readonly holds: readonly HeldComponent[];
  /** True where the person has said yes to it. */
  readonly accepted: boolean;
}

/** What was done to the division, for the history. */
export const DIVISION_DEEDS = ["accept", "reopen", "boundary", "move", "split", "merge", "name"] as const;
export type DivisionDeed = (typeof DIVISION_DEEDS)[number];

/** A physical plate, named so that a new reading finds it again: its photos, and its place from the left in the first. */
export interface PlateKey {
  readonly photos: readonly string[];
  /** 0 is the leftmost plate of the photo. */
  readonly place: number;
}

/** A lane as a person placed and named it. */
export interface GivenLane {
  /** Centre at the origin, fraction of the plate's width. */
  readonly x: number;
  readonly label: string;
  /** Tube, or null for a reference lane. */
  readonly fraction: number | null;
}

/** A spot of a lane: by the lane's x, its Rf, and its height on the plate (fractions), in case origin or front change. */
export interface SpotKey {
  readonly lane: number;
  readonly rf: number;
  readonly y: number;
}

/** A correction of what the program read from the photos. */
export type Mending =
  /** Corners of the plate in one of its photos, in pixels of the upright original, front up. */
  | { readonly what: "corners"; readonly plate: PlateKey; readonly photo: string; readonly corners: Quad }
  /** Height at the plate's middle, fraction from the top. */
  | { readonly what: "origin" | "front"; readonly plate: PlateKey; readonly y: number }
  /** All lanes of the plate as they stand after one was added, moved or struck, left to right. */
  | {
      readonly what: "lanes";
      readonly plate: PlateKey;
      readonly done: "add" | "move" | "strike";
      readonly lanes: readonly GivenLane[];
    }
  /** Which tube (or reference) one lane is; `lane` is the lane as it lies, with its new name. */
  | { readonly what: "lane-name"; readonly plate: PlateKey; readonly lane: GivenLane }
  | { readonly what: "spot-add"; readonly plate: PlateKey; readonly spot: SpotKey }
  | { readonly what: "spot-move"; readonly plate: PlateKey; readonly spot: SpotKey; readonly to: SpotKey }
  | { readonly what: "spot-strike"; readonly plate: PlateKey; readonly spot: SpotKey }
  /** Two components that are one substance, by their Rf on the run's scale. */
  | { readonly what: "components-merge"; readonly rf: readonly [number, number] }
  /** A component that is two: its spots above and below `at`. */
  | { readonly what: "component-split"; readonly rf: number; readonly at: number };

/**
 * What a person wrote into the tube log, of the tubes `from` to `to`. What is left out stays as it was; null: nothing is
 * said of it any more.
 */
export interface TubeEntry {
  readonly from: number;
  readonly to: number;
  readonly volumeMl?: number | null;
  /** From the first of them on. */
  readonly eluent?: string | null;
  /** Receiving flask, from the first of them on. */
  readonly flask?: string | null;
  readonly note?: string | null;
}

/** One thing a person decided. Each stands once and for all; taking one back is an act of its own. */
export type Act =
  /** The whole division of the tubes as it stands after the deed. */
  | { readonly kind: "divide"; readonly done: DivisionDeed; readonly pools: readonly DecidedPool[] }
  | { readonly kind: "mend"; readonly mending: Mending }
  | { readonly kind: "log"; readonly entry: TubeEntry }
  /** Takes back the act `of`, the last that still stands. */
  | { readonly kind: "undo"; readonly of: number }
  /** Takes back the undoing of `of`. */
  | { readonly kind: "redo"; readonly of: number }
  /** All as it stood right after act `to`; 0: before anything was decided. */
  | { readonly kind: "return"; readonly to: number };

/** An act as the journal keeps it. */
export interface JournalLine {
  /** 1, 2, 3 ... in the order in which they were kept. */
  readonly id: number;
  /** ISO 8601. */
  readonly at: string;
  /** Digest of what the reading said of the matter; null where nothing had been read. */
  readonly on: string | null;
  readonly act: Act;
}

/** What a person gave of one plate; null or empty: as read. The last word on each thing counts. */
export interface PlateMending {
  readonly plate: PlateKey;
  readonly corners: readonly { readonly photo: string; readonly corners: Quad }[];
  readonly origin: number | null;
  readonly front: number | null;
  readonly lanes: readonly GivenLane[] | null;
  /** Names of lanes given after `lanes` (or without them). */
  readonly laneNames: readonly GivenLane[];
  /** In the order in which they were done. */
  readonly spots: readonly SpotMending[];
}

export type SpotMending =
  | { readonly what: "spot-add"; readonly spot: SpotKey }
  | { readonly what: "spot-move"; readonly spot: SpotKey; readonly to: SpotKey }
  | { readonly what: "spot-strike"; readonly spot: SpotKey };

export type ComponentMending = Extract<Mending, { what: "components-merge" | "component-split" }>;

/** The division that stands, and the act that made it. */
export interface Division {
  readonly act: number;
  readonly at: string;
  readonly pools: readonly DecidedPool[];
}

/** What the journal comes to: the last word on everything. */
export interface Decisions {
  /** Id of the journal's last line; 0 where there is none. An act made for another last line is told so. */
  readonly last: number;
  /** Null where no pool was decided yet: the suggestion stands. */
  readonly division: Division | null;
  readonly plates: readonly PlateMending[];
  readonly components: readonly ComponentMending[];
  /** What was written into the tube log, in that order; it stands above what the run file says. */
  readonly log: readonly TubeEntry[];
  /** Act that an undo would take back, and that a redo would bring back; null: nothing. */
  readonly undo: number | null;
  readonly redo: number | null;
}

/** Nothing decided. */
export const NO_DECISIONS: Decisions = {
  last: 0,
  division: null,
  plates: [],
  components: [],
  log: [],
  undo: null,
  redo: null,
};

/** What a given pool would be: its kind and worth by the plates. */
export interface JudgedPool {
  readonly kind: TubeState;
  /** Letters of the reading, most first. */
  readonly components: readonly string[];
  /** Share of the main component in all that the plates show, 90 % interval. */
  readonly purity: Interval;
  /** Share of the run's main component of this pool that is in it, 90 % interval. */
  readonly recovery: Interval;
  /** Mean chance that its tubes are of the pool's kind. */
  readonly confidence: number;
  readonly volumeMl: number | null;
}

/** A new reading against a decision. The decision stands; the person is asked. */
export interface Contradiction {
  /** Stable, kebab-case. */
  readonly code: string;
  readonly message: string;
  readonly remedy: string;
  readonly pool: string | null;
  readonly fraction: number | null;
  /** Photo of the plate it is about. */
  readonly photo: string | null;
}
