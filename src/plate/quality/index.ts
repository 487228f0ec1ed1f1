import type { PhotoQuality, Quad } from "../../model/index.ts";
import type { Picture } from "../../raster/picture.ts";
import { gridSamples } from "../../raster/regions.ts";
import { advise } from "./advise.ts";
import { edgeRise } from "./blur.ts";
import { evennessOf } from "./evenness.ts";

const GRID = 96;

/**
 * How good a photo of one plate is for reading, and the one most useful thing to do better.
 * @param picture the photo, perhaps smaller than the original
 * @param quad the plate's corners in pixels of `picture`
 * @param scale pixels of the original on one pixel of `picture`, in each direction
 */
export function judgeQuality(picture: Picture, quad: Quad, scale: number): PhotoQuality {
  const codes = gridSamples(picture, quad, GRID, 0.02);
  const clipped = [0, 1, 2].map((c) => {
    let count = 0;
    for (let p = c; p < codes.length; p += 3) if (codes[p] >= 250) count++;
    return count / (GRID * GRID);
  }) as [number, number, number];
  const side = (i: number, j: number) => Math.hypot(quad[i][0] - quad[j][0], quad[i][1] - quad[j][1]);
  const measured = {
    blurPx: edgeRise(picture, quad) * scale,
    clipped,
    evenness: evennessOf(codes, GRID, clipped),
    platePx: ((side(0, 1) + side(3, 2)) / 2) * scale,
    cutOff: touchesFrame(quad, picture.width, picture.height),
  };
  return { ...measured, advice: advise(measured, codes) };
}

/** A side that runs along the frame while not all do: the frame cuts the plate off there. */
function touchesFrame(quad: Quad, width: number, height: number): boolean {
  const slack = 0.004 * Math.max(width, height) + 1;
  let along = 0;
  for (let i = 0; i < 4; i++) {
    const a = quad[i];
    const b = quad[(i + 1) & 3];
    const both = (test: (p: readonly [number, number]) => boolean) => test(a) && test(b);
    if (
      both((p) => p[0] <= slack) ||
      both((p) => p[1] <= slack) ||
      both((p) => p[0] >= width - slack) ||
      both((p) => p[1] >= height - slack)
    ) {
      along++;
    }
  }
  return along > 0 && along < 4;
}
