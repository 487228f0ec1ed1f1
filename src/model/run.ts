import type { Policy } from "./elution.ts";
import type { FrontSide, Light } from "./photo.ts";
import type { RunBench } from "./runBench.ts";

/** A lane as the run file names it. */
export interface LaneName {
  readonly label: string;
  /** Fraction number, or null for a reference lane. */
  readonly fraction: number | null;
}

export interface RunPhoto {
  readonly file: string;
  readonly light: Light | null;
  readonly stain: string | null;
  /** Where the solvent front points in this photo; left out: as in all photos of the run. */
  readonly up?: FrontSide;
  /** Line of the run file that names it, for messages. */
  readonly line?: number;
}

/** One physical plate as the run file lists it. */
export interface RunPlate {
  readonly photos: readonly RunPhoto[];
  /** Left to right; null: not said. */
  readonly lanes: readonly LaneName[] | null;
  /** Line of the run file that names the lanes, for messages. */
  readonly lanesLine?: number;
  /** Heights given by the user, fractions of the plate's height from the top; null: to be found. */
  readonly origin: number | null;
  readonly front: number | null;
  /** What it ran in: nothing said, one eluent for all lanes, or one for each. */
  readonly eluents?: readonly string[];
}

/** `run.yaml`, checked and spelled out. */
export interface RunFile {
  readonly run: string | null;
  readonly fractionCount: number | null;
  readonly volumeMl: number | null;
  /** Where the solvent front points in photos that do not say so themselves; left out: to be seen. */
  readonly up?: FrontSide;
  /** Null where the file lists no plates. */
  readonly plates: readonly RunPlate[] | null;
  /** Rack, tube log, column, product; left out where a run file is made up by a program. */
  readonly bench?: RunBench;
}

/** What the chemist sets for a reading. */
export interface ReadSettings {
  readonly policy: Policy;
  /** A component id or an Rf ("A", "0.35"); null: no preference. */
  readonly want: string | null;
  /** Where the solvent front points in every photo, whatever the run file says; left out: as it says, or to be seen. */
  readonly up?: FrontSide;
}
