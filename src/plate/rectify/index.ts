export { plateAspect } from "./aspect.ts";
export { mayBeOnePlate, mayStandAlike, type ShapeRange, shapeRange } from "./shape.ts";

import type { Quad } from "../../model/index.ts";
import type { Picture } from "../../raster/picture.ts";
import { type LinearPatch, warpLinear, warpPicture } from "../../raster/warp.ts";

/**
 * The plate seen straight on, as 8-bit sRGB: for showing.
 * @param quad corners of the plate in pixels of `picture`; the first becomes the top left
 * @throws RangeError where the quad's corners do not span a quadrilateral
 */
export function straighten(picture: Picture, quad: Quad, width: number, height: number): Picture {
  return warpPicture(picture, quad, width, height);
}

/**
 * The plate seen straight on, in linear light (0..1): for measuring.
 * Good until the next plate is straightened. `clipped` tells, per pixel, which channels touched their limits in any source pixel that went into it.
 * @param quad corners of the plate in pixels of `picture`; the first becomes the top left
 * @throws RangeError where the quad's corners do not span a quadrilateral
 */
export function rectifyLinear(picture: Picture, quad: Quad, width: number, height: number): LinearPatch {
  return warpLinear(picture, quad, width, height);
}
