import type { Light, Quad } from "../../model/index.ts";
import type { Picture } from "../../raster/picture.ts";
import { choosePlates, type HoldsLayer } from "./choose.ts";
import type { Judged } from "./judge.ts";
import { look, sketchScale } from "./sketchView.ts";

/** A part of a picture, and a plate in it, in pixels of the part's sketch. */
export interface CloseUp {
  readonly part: Picture;
  /** Upper left corner of the part in the picture. */
  readonly corner: readonly [number, number];
  readonly scale: number;
  readonly plate: Judged;
}

/** Parts a side, each half as large as the picture. */
const PARTS = 3;
/** How plain a plate must be that only a part of the picture shows. */
const PLAIN = { score: 0.5, coherence: 0.85 };

/**
 * Looks for one small plate in a picture full of other lines (a page, a ruler, a tool), whose short sides none of its plainest lines are:
 * in nine overlapping parts, each looked at for itself. What shows best is taken; null: none shows plainly.
 * @param fits tells whether an outline, in pixels of the picture, may be the plate's
 * @param holds what tells whether a candidate of a part holds a layer
 */
export function closeUp(
  picture: Picture,
  fits: (quad: Quad) => boolean,
  holds: (part: Picture, scale: number) => HoldsLayer,
  light: Light | null,
): CloseUp | null {
  const [width, height] = [picture.width >> 1, picture.height >> 1];
  let best: CloseUp | null = null;
  for (let row = 0; row < PARTS; row++)
    for (let column = 0; column < PARTS; column++) {
      const [x, y] = [(column * width) >> 1, (row * height) >> 1];
      const part = cutOut(picture, x, y, width, height);
      const scale = sketchScale(part);
      const inPicture = (quad: Quad) => fits(moved(quad, x, y));
      const { judged } = look(part, scale, inPicture);
      const [plate] = choosePlates(judged, 1, holds(part, scale), light);
      if (!plate || plate.score < Math.max(PLAIN.score, best?.plate.score ?? 0)) continue;
      if (plate.sides.some(({ framed, coherence }) => framed || coherence < PLAIN.coherence)) continue;
      best = { part, corner: [x, y], scale, plate };
    }
  return best;
}

export function moved(quad: Quad, x: number, y: number): Quad {
  return quad.map(([a, b]) => [a + x, b + y]) as unknown as Quad;
}

function cutOut({ width, data }: Picture, x: number, y: number, w: number, h: number): Picture {
  const out = new Uint8Array(3 * w * h);
  for (let row = 0; row < h; row++) {
    const from = 3 * ((y + row) * width + x);
    out.set(data.subarray(from, from + 3 * w), 3 * row * w);
  }
  return { width: w, height: h, data: out };
}
