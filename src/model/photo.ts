/** The light a plate was photographed under. A stained or coloured plate is `white`. */
export type Light = "uv254" | "uv365" | "white";

export const LIGHTS: readonly Light[] = ["uv254", "uv365", "white"];

/** x to the right, y downwards, origin at the top left. Unit: pixels or plate fractions, as the holder says. */
export type Point = readonly [x: number, y: number];

/** Top-left, top-right, bottom-right, bottom-left of the plate as it stands (front up). */
export type Quad = readonly [Point, Point, Point, Point];

/** Where the solvent front points in a photo. */
export const FRONT_SIDES = ["up", "left", "down", "right"] as const;
export type FrontSide = (typeof FRONT_SIDES)[number];

/** How good a photo is for reading, and the one most useful thing to do better. */
export interface PhotoQuality {
  /** Pixels that an edge takes to rise from 10 to 90 %, in pixels of the original; smaller is sharper. */
  readonly blurPx: number;
  /** Share of layer pixels clipped (at 250 of 255 or above) in red, green and blue, 0..1. */
  readonly clipped: readonly [number, number, number];
  /** Darkest over brightest part of the smooth background, 0..1; 1 is perfectly even. */
  readonly evenness: number;
  /** Width of the plate in original pixels. */
  readonly platePx: number;
  /** True where the frame cuts the plate off. */
  readonly cutOff: boolean;
  /** One sentence of advice, or null where the photo is good. */
  readonly advice: string | null;
}
