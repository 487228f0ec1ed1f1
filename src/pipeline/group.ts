import type {
  Contradiction,
  Finding,
  FrontSide,
  LaneName,
  Light,
  LinePlaces,
  PhotoQuality,
  PlateKey,
  PlateMending,
  PlateReading,
} from "../model/index.ts";
import type { Look } from "../plate/register/index.ts";
import type { Standing, Turn } from "../plate/upright/index.ts";

/** A photo to be read, with what the run file says of it. */
export interface GroupPhoto {
  readonly file: string;
  /** Null: to be recognised. */
  readonly light: Light | null;
  readonly stain: string | null;
  /** Where the solvent front points in it; left out: to be seen. */
  readonly up?: FrontSide;
}

/** A physical plate as somebody listed it. */
export interface PlateRequest {
  /** Index in the run file's list of plates. */
  readonly listed: number;
  readonly laneNames: readonly LaneName[] | null;
  readonly lanesLine: number | null;
  /** Mean fraction number of its lanes over the highest of the run, 0..1; left out: no lane is a fraction. */
  readonly late?: number;
  readonly origin: number | null;
  readonly front: number | null;
  /** What it ran in: one eluent for all lanes, or one for each; left out: as the others. */
  readonly eluents?: readonly string[];
  /** Which of the group's photos show it, and as which plate from the left (0 = leftmost). */
  readonly shownBy: readonly { readonly photo: number; readonly place: number }[];
}

/**
 * Photos that must be read together, because they show the same plates. Groups are independent of each other, so they
 * can be read side by side. Plain data: crosses threads.
 */
export interface PhotoGroup {
  readonly photos: readonly GroupPhoto[];
  /** Null: nobody said what the photos show; each plate found is one. */
  readonly plates: readonly PlateRequest[] | null;
  /** Where the solvent front points in all of the photos, whatever is said of each; left out: as is said of each. */
  readonly up?: FrontSide;
  /** True where nobody listed the plates, and the run has others: each plate's look is kept, for another photo may show it too. */
  readonly looks?: boolean;
  /** True where the photos were put together by what stands out on their plates; left out: by the run file or by their names. */
  readonly alike?: boolean;
  /** Where the other plates of the run speak for lines of plates of this group; left out: nowhere. */
  readonly byOthers?: readonly LinesByOthers[];
  /** What a person mended of plates of the run, these or others; left out: nothing. */
  readonly mendings?: readonly PlateMending[];
}

/** Heights of origin and front of a plate that the other plates of the run speak for. */
export interface LinesByOthers {
  readonly plate: PlateKey;
  readonly origin: number;
  readonly front: number;
}

/** A JPEG for report and review. */
export interface JpegBytes {
  readonly width: number;
  readonly height: number;
  readonly bytes: Uint8Array;
}

/** What became of one photo. */
export interface PhotoReading {
  readonly file: string;
  /** Null where it was read. */
  readonly reason: string | null;
  readonly light: Light;
  readonly quality: PhotoQuality | null;
  /** Size of the upright original; 0 where it could not be decoded. */
  readonly width: number;
  readonly height: number;
  /** The photo shrunk, where pictures were asked for. */
  readonly picture: JpegBytes | null;
}

export interface StraightenedPicture extends JpegBytes {
  readonly file: string;
  readonly light: Light;
  readonly stain: string | null;
}

/** How a plate seems to stand in a photo, and how it was turned. */
export interface PlateWay {
  readonly file: string;
  readonly standing: Standing;
  readonly turn: Turn;
}

/** What became of one plate. */
export interface GroupPlate {
  /** Index in the run file's list of plates; null where nobody listed it. */
  readonly listed: number | null;
  readonly laneNames: readonly LaneName[] | null;
  readonly lanesLine: number | null;
  /** What it ran in: one eluent for all lanes, or one for each; empty: as the others. */
  readonly eluents: readonly string[];
  /** Its id and the names of its lanes are given when the whole run is known. */
  readonly reading: PlateReading;
  readonly key: PlateKey;
  /** Where its lines may be, as far as it shows itself. */
  readonly places: LinePlaces;
  readonly findings: readonly Finding[];
  /** What stands out on it, as it stands, where that was asked for. */
  readonly look?: Look;
  readonly straightened: readonly StraightenedPicture[];
  /** What a person mended of it, worked into the reading but for names of single lanes. */
  readonly mending: PlateMending | null;
  /** Mendings that this reading has nothing for. */
  readonly unmet: readonly Contradiction[];
}

export interface GroupReading {
  /** In the order of `PhotoGroup.photos`. */
  readonly photos: readonly PhotoReading[];
  readonly plates: readonly GroupPlate[];
  readonly findings: readonly Finding[];
  /** How the plates of photos stand of which nobody said so; left out: none. */
  readonly ways?: readonly PlateWay[];
  /** Inner errors, for those who look for a fault in the program. */
  readonly crashes: readonly string[];
}
