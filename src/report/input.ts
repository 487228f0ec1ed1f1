import type { Light, Policy, Result } from "../model/index.ts";

/** A JPEG, ready for a data URI. */
export interface JpegPicture {
  /** Pixels. */
  readonly width: number;
  readonly height: number;
  readonly jpegBase64: string;
}

/** A plate with its perspective undone: front up, the whole plate and nothing else, as one photo shows it. */
export interface StraightenedPlate extends JpegPicture {
  /** `ResultPlate.id`. */
  readonly plate: string;
  /** `ResultPhoto.file`. */
  readonly photo: string;
  readonly light: Light;
  /** Name of the stain, where there was one. */
  readonly stain?: string | null;
}

/** A whole photo, upright and shrunk; the overlay is scaled to fit. */
export interface ShrunkPhoto extends JpegPicture {
  /** `ResultPhoto.file`. */
  readonly file: string;
}

/** What the report says besides the result. Times are taken at the edge and come in as text. */
export interface ReportNotes {
  /** When the photos were read, as it is to be printed; null leaves it out, and the report depends on the photos alone. */
  readonly readOn: string | null;
  /** Version of the program. */
  readonly version: string | null;
  /** True where the plates are invented (demo). */
  readonly demo: boolean;
  /** The policy that made the suggestion. */
  readonly policy: Policy | null;
  /** Component or Rf that is wanted. */
  readonly want: string | null;
}

/** All that the report is made of. */
export interface ReportInput {
  /** With the pools that count: those divided by hand where there are any. */
  readonly result: Result;
  /** The same as it was suggested; left out where nothing was divided by hand. */
  readonly suggested?: Result;
  readonly straightened: readonly StraightenedPlate[];
  readonly photos: readonly ShrunkPhoto[];
  readonly notes: ReportNotes;
}
