import type { Light, Quad } from "../model/photo.ts";
import type { Level } from "./levels.ts";

export const TRUTH_SCHEMA = "platepool.truth/1";

/** How one photo shows a spot. */
export interface SpotVisibility {
  /** Index in `RunTruth.photos`. */
  readonly photo: number;
  /** Largest relative change of a colour channel at the spot, clipped channels as the camera clips them. */
  readonly contrast: number;
  /** Change of that channel over 1 mm2, over the noise (sensor and layer) of the mean of 1 mm2 of ground. */
  readonly contrastToNoise: number;
}

export interface SpotTruth {
  /** Way of the spot's mode over the way of the front in this lane, both from the origin of this lane. */
  readonly rf: number;
  /** Plate fractions, x from the left, y from the top. */
  readonly x: number;
  readonly y: number;
  /** Null: material left at the origin. */
  readonly component: string | null;
  /** Amount brought onto the layer. */
  readonly amount: number;
  readonly visibility: readonly SpotVisibility[];
  /** Contrast >= 3 % and contrast to noise >= 6 in one photo, and not hidden by a neighbour. */
  readonly mustFind: boolean;
  /** True where a stronger spot of the lane covers it, so that no maximum of its own is left. */
  readonly hidden: boolean;
}

export interface LaneTruth {
  /** 1 is the leftmost. */
  readonly index: number;
  readonly label: string;
  readonly fraction: number | null;
  /** At the origin, plate fraction. */
  readonly x: number;
  readonly spots: readonly SpotTruth[];
}

export interface PlateTruth {
  readonly id: string;
  /** Height over width. */
  readonly aspect: number;
  /** mm */
  readonly width: number;
  readonly height: number;
  /** At the plate's middle, fractions of the height from the top. */
  readonly origin: number;
  readonly front: number;
  readonly originMark: string;
  readonly frontMark: string;
  /** Indices in `RunTruth.photos`. */
  readonly photos: readonly number[];
  readonly lanes: readonly LaneTruth[];
}

export interface PhotoTruth {
  readonly file: string;
  readonly light: Light;
  readonly stain: string | null;
  /** Upright, as the corners count. */
  readonly width: number;
  readonly height: number;
  /** Left to right as they stand on the bench; top-left, top-right, bottom-right, bottom-left, front up, pixels. */
  readonly plates: readonly { readonly plate: string; readonly corners: Quad }[];
}

export interface TubeTruth {
  readonly number: number;
  /** True where a lane carries it. */
  readonly seen: boolean;
  /** Shares of the visible substance by amount. */
  readonly composition: Readonly<Record<string, number>>;
  readonly state: "clean" | "mixed" | "empty";
  /** False where the case is too close to call: main share 0.88..0.98, or a spot near the limit decides. */
  readonly judged: boolean;
}

export interface PoolTruth {
  readonly fractions: readonly number[];
  readonly kind: "clean" | "mixed" | "empty";
}

export interface RunTruth {
  readonly schema: typeof TRUTH_SCHEMA;
  readonly run: string;
  readonly level: Level;
  readonly seed: number;
  readonly photos: readonly PhotoTruth[];
  readonly plates: readonly PlateTruth[];
  readonly components: readonly { readonly id: string; readonly rf: number }[];
  readonly fractions: readonly TubeTruth[];
  readonly pools: readonly PoolTruth[];
}
