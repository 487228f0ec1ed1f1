import { singleRoom } from "../../math/room.ts";
import type { Point, Quad } from "../../model/index.ts";
import { findEdgels } from "../../raster/edgels.ts";
import { rectangle } from "../../raster/homography.ts";
import type { Picture } from "../../raster/picture.ts";
import { shrink } from "../../raster/shrink.ts";
import { sketchNoise } from "../../raster/sketchNoise.ts";
import { type InsideEvidence, judgeInside } from "./inside.ts";
import { type Judged, judgeCandidates } from "./judge.ts";
import { borderLines, findLines } from "./lines.ts";
import { candidateQuads } from "./quads.ts";

/** A photo looked at in one sketch: the candidates are in the sketch's pixels, best first. */
export interface View {
  /** Size of the sketch, pixels. */
  readonly width: number;
  readonly height: number;
  /** How much of it all is one smooth layer. */
  readonly whole: InsideEvidence;
  /** Pixels of the photo on one of the sketch. */
  readonly scale: number;
  readonly judged: readonly Judged[];
}

const SKETCH_SIDE = 450;
const MOST_LINES = 44;
const MOST_QUADS = 200;

/** Pixels of the picture on one of its sketch. */
export function sketchScale({ width, height }: Picture): number {
  return Math.max(1, Math.round(Math.max(width, height) / SKETCH_SIDE));
}

const sketchRoom = singleRoom();

/** The candidates that a picture shows in one sketch. */
export function look(picture: Picture, scale: number, fits: (quad: Quad) => boolean): View {
  const sketch = shrink(picture, scale, sketchRoom);
  const noise = sketchNoise(sketch);
  const { width, height } = sketch;
  const lines = [...findLines(findEdgels(sketch, noise), width, height, MOST_LINES), ...borderLines(width, height)];
  const wanted = (quad: Quad) => fits(enlarge(quad, scale));
  const judged = judgeCandidates(sketch, candidateQuads(lines, width, height, MOST_QUADS, wanted), noise);
  const whole = judgeInside(sketch, rectangle(width, height), noise);
  return { width, height, whole, scale, judged };
}

/** Corners in pixels of the picture. */
export function enlarge(quad: Quad, scale: number): Quad {
  return quad.map(([x, y]): Point => [x * scale, y * scale]) as unknown as Quad;
}
