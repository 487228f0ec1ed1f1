import type { Light, Quad } from "../../model/index.ts";
import type { Picture } from "../../raster/picture.ts";
import { APART, choosePlates, type HoldsLayer } from "./choose.ts";
import { overlapShare } from "./geometry.ts";
import type { Judged } from "./judge.ts";
import { enlarge, look, sketchScale } from "./sketchView.ts";

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
 * Looks for small plates in a picture full of other lines (a page, a ruler, a tool, wood), whose short sides none of its plainest lines
 * are: in nine overlapping parts, each looked at for itself. What shows best is taken, and then what does not overlap it.
 * @param count how many to look for
 * @param coarser how many times as coarse a part is looked at as is usual: grain and wood hide a rim less so
 * @param fits tells whether an outline, in pixels of the picture, may be the plate's
 * @param holds what tells whether a candidate of a part holds a layer
 * @returns the plainest first; empty: none shows plainly
 */
export function closeUps(
  picture: Picture,
  count: number,
  coarser: readonly number[],
  fits: (quad: Quad) => boolean,
  holds: (part: Picture, scale: number) => HoldsLayer,
  light: Light | null,
): CloseUp[] {
  const [width, height] = [picture.width >> 1, picture.height >> 1];
  const found: CloseUp[] = [];
  for (let row = 0; row < PARTS; row++)
    for (let column = 0; column < PARTS; column++) {
      const [x, y] = [(column * width) >> 1, (row * height) >> 1];
      const part = cutOut(picture, x, y, width, height);
      const inPicture = (quad: Quad) => fits(moved(quad, x, y));
      for (const scale of coarser.map((times) => times * sketchScale(part))) {
        const { judged } = look(part, scale, inPicture);
        const plates = choosePlates(judged, count, holds(part, scale), light).filter(isPlain);
        found.push(...plates.map((plate): CloseUp => ({ part, corner: [x, y], scale, plate })));
      }
    }
  const apart: CloseUp[] = [];
  for (const one of found.sort((a, b) => b.plate.score - a.plate.score)) {
    if (apart.length >= count) break;
    if (apart.every((other) => overlapShare(placed(one), placed(other)) <= APART)) apart.push(one);
  }
  return apart;
}

function isPlain({ score, sides }: Judged): boolean {
  return score >= PLAIN.score && sides.every(({ framed, coherence }) => !framed && coherence >= PLAIN.coherence);
}

/** Where it lies in the picture. */
function placed({ plate, scale, corner }: CloseUp): Quad {
  return moved(enlarge(plate.quad, scale), ...corner);
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
