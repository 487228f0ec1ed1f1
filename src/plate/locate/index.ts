import type { Finding, Point, Quad, StageResult } from "../../model/index.ts";
import { findEdgels, sketchNoise } from "../../raster/edgels.ts";
import type { Picture } from "../../raster/picture.ts";
import { shrink } from "../../raster/shrink.ts";
import { judgeCandidates } from "./judge.ts";
import { borderLines, findLines } from "./lines.ts";
import { candidateQuads } from "./quads.ts";
import { refineQuad } from "./refine.ts";

/** A plate in a photo. */
export interface LocatedPlate {
  /** Top-left, top-right, bottom-right, bottom-left as the photo shows the plate, in pixels of the picture. */
  readonly quad: Quad;
  /** 0..1: how sure it is that this is a plate and that these are its corners. */
  readonly confidence: number;
  /** True where the picture is all plate (a scan, a crop). */
  readonly wholeFrame: boolean;
  /** True where the frame cuts the plate off; the quad then ends at the frame. */
  readonly cutOff: boolean;
}

export interface LocateOptions {
  /** How many plates the photo shows, or null where nobody said. */
  readonly count: number | null;
}

const SKETCH_SIDE = 450;

/**
 * Finds the plates in a photo, left to right.
 * @param picture the photo, upright, at most about 2000 pixels on its long side
 */
export function locatePlates(picture: Picture, _options: LocateOptions): StageResult<readonly LocatedPlate[]> {
  const scale = Math.max(1, Math.round(Math.max(picture.width, picture.height) / SKETCH_SIDE));
  const sketch = shrink(picture, scale);
  const noise = sketchNoise(sketch);
  const edgels = findEdgels(sketch, noise);
  const lines = [...findLines(edgels, sketch.width, sketch.height, 44), ...borderLines(sketch.width, sketch.height)];
  const candidates = candidateQuads(lines, sketch.width, sketch.height, 60);
  const judged = judgeCandidates(sketch, candidates, noise);
  const best = judged[0];
  if (!best || best.score < 0.2) return { value: [], findings: [noPlate()] };
  const rough = best.candidate.quad.map(([x, y]): Point => [x * scale, y * scale]) as unknown as Quad;
  const fixed = best.candidate.sides.map((side) => side.border);
  const quad = refineQuad(picture, refineQuad(picture, rough, 3 * scale, fixed), 1.5 * scale, fixed);
  const plate = { quad, confidence: Math.min(1, best.score), wholeFrame: false, cutOff: fixed.some(Boolean) };
  return { value: [plate], findings: [] };
}

function noPlate(): Finding {
  return {
    code: "no-plate",
    message: "No TLC plate was found in this photo.",
    remedy: "Photograph the plate alone, flat, from straight above, so that all four edges show against the bench.",
    where: {},
  };
}
