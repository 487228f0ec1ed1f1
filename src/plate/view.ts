import type { Light } from "../model/index.ts";
import type { Patch } from "../raster/components.ts";
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
  /** Light of the bare layer, coarse, where the channels are emission (365 nm). */
  readonly bare?: readonly [Plane, Plane, Plane];
  /** The mix of channels with the best contrast to noise, on the scale of the channel that shows spots best; strokes taken out. */
  readonly mix: Plane;
  /** A second mix for spots of the other sign (glowing where others are dark), with its own noise; null where there are none. */
  readonly counter: { readonly plane: Plane; readonly noise: number } | null;
  /** Grey signal of what is too thin to be a spot: pencil, scratches, dust. 0 elsewhere. */
  readonly strokes: Plane;
  /** What noise alone makes of `strokes`: one standard deviation. */
  readonly strokeNoise: number;
  /** Unweighted mean of the usable channels: pencil and wet front are grey. */
  readonly grey: Plane;
  /** Robust standard deviation of `mix` over the ground, at the scale of a small spot. */
  readonly noise: number;
  /** 1 where a spot shows so strongly that the camera was at its limit: no more than a lower bound; null where that is nowhere. */
  readonly saturated: Plane | null;
  /** Share of each channel's ground that is not clipped, 0..1. */
  readonly usable: readonly [number, number, number];
}

/** Rows of crosses, or of ticks that stand on figures, where a front and where an origin may be. */
export interface CrossRows {
  readonly front: readonly MarkRow[];
  readonly origin: readonly MarkRow[];
}

/** Small pencil marks standing in one row: ticks, crosses, dots or figures. */
export interface MarkRow {
  readonly marks: readonly Patch[];
  /** Row of the marks' middles at the plate's middle, in pixels. */
  readonly y: number;
  /** Rise of the row from the left edge to the right one, in pixels (downwards positive). */
  readonly tilt: number;
  /** Mean height of a mark in pixels. */
  readonly size: number;
  /** True where the marks are alike (ticks), false where they differ like figures do. */
  readonly alike: boolean;
  /** True where the marks are so blurred that they were looked for on a coarser picture. */
  readonly broad?: boolean;
}
