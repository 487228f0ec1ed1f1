import type {
  Decisions,
  ElutionReading,
  ExpectedBand,
  Finding,
  PlateReading,
  Result,
  RunFile,
} from "../model/index.ts";
import type { GroupReading, JpegBytes, PhotoGroup, StraightenedPicture } from "./group.ts";

export interface RunInput {
  /** Names of the photos in the folder, in the order in which their lanes run on. */
  readonly files: readonly string[];
  readonly run: RunFile | null;
  /** What a person decided; left out: nothing. */
  readonly decisions?: Decisions;
  /** Where a plan expects the components; left out: nobody planned. */
  readonly expected?: readonly ExpectedBand[];
  /** Doubts that arose before reading. */
  readonly findings: readonly Finding[];
}

/** Reads the groups, in any order and in as many threads as there are; answers in the order of the groups. */
export type ReadGroups = (groups: readonly PhotoGroup[]) => Promise<readonly GroupReading[]>;

/** The groups of a run as they were read at last, and what became of each. */
export interface GroupsRead {
  readonly groups: readonly PhotoGroup[];
  readonly readings: readonly GroupReading[];
}

/** A run read: the result, and what it was made of. */
export interface RunReading {
  readonly result: Result;
  readonly plates: readonly PlateReading[];
  readonly elution: ElutionReading;
  /** Where pictures were asked for. */
  readonly straightened: readonly (StraightenedPicture & { readonly plate: string })[];
  readonly photos: readonly (JpegBytes & { readonly file: string })[];
  readonly crashes: readonly string[];
}
