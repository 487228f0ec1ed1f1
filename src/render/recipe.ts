import type { Light } from "../model/photo.ts";
import type { BenchKind, FrontMark, Level, OriginMark } from "./levels.ts";

/** Linear red, green, blue. */
export type Colour = readonly [number, number, number];

export type Stain = "kmno4" | "pma" | "anisaldehyde" | "iodine";
export const STAINS: readonly Stain[] = ["kmno4", "pma", "anisaldehyde", "iodine"];

/** How one substance shows. Strengths: 1 is usual, 0 invisible. */
export interface Response {
  /** Absorption at 254 nm. */
  readonly quench: number;
  /** Own glow at 254 nm (colour times strength), or null. */
  readonly glow: Colour | null;
  /** Emission at 365 nm (colour times strength), or null. */
  readonly emission: Colour | null;
  /** Strength and colour of the spot after each stain. */
  readonly stain: Readonly<Record<Stain, { readonly strength: number; readonly colour: Colour }>>;
  /** Colour in plain white light, or null. */
  readonly dye: { readonly strength: number; readonly colour: Colour } | null;
}

/** Exponentially modified Gaussian in tube numbers: centre, sd (> 0) and mean delay (> 0). */
export interface EmgPeak {
  readonly mu: number;
  readonly sigma: number;
  readonly tau: number;
}

export interface Substance {
  readonly id: string;
  readonly rf: number;
  /** Elution in tube numbers, or null where it stays on the column. */
  readonly peak: EmgPeak | null;
  /** Amount on the column; the main product has 1. */
  readonly load: number;
  readonly response: Response;
}

/** Straight or bent line across a plate: y(u) = y + tilt (u - 0.5) + bow (2u - 1)^2, all mm; u 0 left edge, 1 right. */
export interface CrossLine {
  readonly y: number;
  readonly tilt: number;
  readonly bow: number;
}

export function crossLineAt(line: CrossLine, u: number): number {
  const c = 2 * u - 1;
  return line.y + line.tilt * (u - 0.5) + line.bow * c * c;
}

/** One spot on the layer; mm, y downwards from the plate's top edge. */
export interface SpotRecipe {
  readonly substance: string | null;
  /** Amount brought onto the layer. */
  readonly amount: number;
  readonly rf: number;
  /** Mode of the spot. */
  readonly x: number;
  readonly y: number;
  readonly sigmaX: number;
  /** Towards the front and towards the origin. */
  readonly sigmaUp: number;
  readonly sigmaDown: number;
  /** Share of the peak height carried by an exponential tail towards the origin, and its length. */
  readonly tail: number;
  readonly tailLength: number;
  /** Lag of the flanks, mm per mm squared: crescents. */
  readonly bend: number;
  /** dx per dy of the lane where the spot sits. */
  readonly lean: number;
}

export interface LaneRecipe {
  readonly index: number;
  readonly label: string;
  readonly fraction: number | null;
  /** At the origin. */
  readonly x: number;
  readonly originY: number;
  readonly frontY: number;
  readonly spots: readonly SpotRecipe[];
}

/** Pencil stroke: a polyline in mm. */
export interface Stroke {
  readonly points: readonly (readonly [number, number])[];
  readonly width: number;
  /** Optical density of the graphite. */
  readonly density: number;
}

export interface LayerRecipe {
  readonly grain: number;
  readonly grainSize: number;
  readonly blotch: number;
  readonly stainBlotch: number;
  /** Relative sd of a spot's density from place to place. */
  readonly patchy: number;
  /** Largest density that quenching can reach. */
  readonly darkest: number;
  readonly phosphor: Colour;
  /** Relative change of the wetted layer, of the line at its upper end, and the width of that line (mm). */
  readonly wet: number;
  readonly wetLine: number;
  readonly wetWidth: number;
  readonly scratches: readonly Stroke[];
  /** Soft stains of the layer: ellipses with a relative change. */
  readonly smudges: readonly {
    readonly x: number;
    readonly y: number;
    readonly rx: number;
    readonly ry: number;
    readonly change: number;
  }[];
  readonly dust: readonly { readonly x: number; readonly y: number; readonly r: number; readonly bright: number }[];
  readonly chips: readonly { readonly corner: 0 | 1 | 2 | 3; readonly a: number; readonly b: number }[];
  /** Width of bare support at the edge, mm, about which it varies. */
  readonly ragged: number;
  readonly seed: number;
}

export interface PlateRecipe {
  readonly id: string;
  /** mm */
  readonly width: number;
  readonly height: number;
  readonly origin: CrossLine;
  readonly front: CrossLine;
  readonly originMark: OriginMark;
  readonly frontMark: FrontMark;
  readonly lanes: readonly LaneRecipe[];
  readonly pencil: readonly Stroke[];
  readonly layer: LayerRecipe;
}

/** Where a plate lies on the bench: its centre (mm) and its turn (radians). */
export interface Placement {
  readonly plate: number;
  readonly x: number;
  readonly y: number;
  readonly turn: number;
}

/** A thing on the bench, mm in bench coordinates. */
export type Thing =
  | {
      readonly kind: "paper";
      readonly x: number;
      readonly y: number;
      readonly w: number;
      readonly h: number;
      readonly turn: number;
    }
  | {
      readonly kind: "ruler";
      readonly x: number;
      readonly y: number;
      readonly w: number;
      readonly h: number;
      readonly turn: number;
    }
  | {
      readonly kind: "pen";
      readonly x: number;
      readonly y: number;
      readonly w: number;
      readonly h: number;
      readonly turn: number;
    }
  | {
      readonly kind: "finger";
      readonly x: number;
      readonly y: number;
      readonly w: number;
      readonly h: number;
      readonly turn: number;
      readonly glove: boolean;
    };

export interface CameraRecipe {
  readonly exposure: number;
  readonly balance: Colour;
  readonly fullWell: number;
  readonly readNoise: number;
  readonly blur: number;
  readonly tone: number;
  readonly sharpen: number;
  readonly seed: number;
}

export interface LampRecipe {
  /** Centre of the light in the frame (0..1), fall-off towards the far end, vignetting towards the corners. */
  readonly x: number;
  readonly y: number;
  readonly fall: number;
  readonly vignette: number;
  /** Streaks of reflected light: a line through (x, y) of the frame, its direction, width (share of the long side), strength. */
  readonly glare: readonly {
    readonly x: number;
    readonly y: number;
    readonly angle: number;
    readonly width: number;
    readonly strength: number;
  }[];
}

export interface PhotoRecipe {
  readonly file: string;
  readonly light: Light;
  readonly stain: Stain | null;
  readonly width: number;
  readonly height: number;
  /** Bench mm to undistorted pixels, row-major 3 x 3. */
  readonly homography: readonly number[];
  /** Radial distortion: undistorted = centre + (p - centre)(1 + k r^2), r in half diagonals. */
  readonly distortion: number;
  readonly plates: readonly Placement[];
  readonly bench: BenchKind;
  readonly benchSeed: number;
  readonly things: readonly Thing[];
  readonly lamp: LampRecipe;
  readonly camera: CameraRecipe;
  readonly jpegQuality: number;
  /** EXIF orientation in which the file is stored: 1, 3, 6 or 8. */
  readonly orientation: 1 | 3 | 6 | 8;
}

/** All that is needed to draw a run and to tell its truth. */
export interface RunRecipe {
  readonly name: string;
  readonly level: Level;
  readonly seed: number;
  readonly tubes: number;
  readonly volumeMl: number;
  readonly substances: readonly Substance[];
  /** Amount of each substance (same order) in each tube, index 0 is tube 1, per unit of main peak height 1. */
  readonly contents: readonly (readonly number[])[];
  readonly plates: readonly PlateRecipe[];
  readonly photos: readonly PhotoRecipe[];
}
