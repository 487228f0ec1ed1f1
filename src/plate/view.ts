import type { Light } from "../model/index.ts";
import type { Plane } from "../raster/picture.ts";

/** One photo of a plate, perspective undone: linear light of the layer, front up. All planes share one size. */
export interface LinearView {
  readonly light: Light;
  readonly r: Plane;
  readonly g: Plane;
  readonly b: Plane;
  /** Per pixel: bits 1, 2, 4 where red, green, blue is clipped bright; 8, 16, 32 where clipped dark. */
  readonly clipped: Uint8Array;
}

/** What one photo shows against its own ground. */
export interface SignalMap {
  readonly light: Light;
  readonly width: number;
  readonly height: number;
  /** Density (or emission at 365 nm) of red, green and blue; positive where a spot is expected to be. */
  readonly channels: readonly [Plane, Plane, Plane];
  /** The mix of channels with the best contrast to noise, on the scale of the channel that shows spots best; strokes taken out. */
  readonly mix: Plane;
  /** Grey signal of what is too thin to be a spot: pencil, scratches, dust. 0 elsewhere. */
  readonly strokes: Plane;
  /** Unweighted mean of the usable channels: pencil and wet front are grey. */
  readonly grey: Plane;
  /** Robust standard deviation of `mix` over the ground, at the scale of a small spot. */
  readonly noise: number;
  /** Share of each channel's ground that is not clipped, 0..1. */
  readonly usable: readonly [number, number, number];
}
