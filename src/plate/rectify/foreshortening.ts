import type { Quad } from "../../model/index.ts";
import { type Homography, homographyFrom, rectangle } from "../../raster/homography.ts";

/**
 * How a camera shows a unit square as `quad`, lengths in long sides of the picture from its middle.
 * @param quad corners in pixels of the whole picture (not of a crop)
 * @returns null where the corners span no quadrilateral
 */
export function unitSquareTo(quad: Quad, width: number, height: number): Homography | null {
  const long = Math.max(width, height);
  const centred = quad.map(([x, y]) => [(x - width / 2) / long, (y - height / 2) / long]) as unknown as Quad;
  return homographyFrom(rectangle(1, 1), centred);
}

/** Height over width of the true rectangle, if the camera's focal length is the root of `focal2`. */
export function aspectAt([h11, h12, , h21, h22, , h31, h32]: Homography, focal2: number): number {
  // The images of the rectangle's two directions, K [r1 r2 t]; their third parts are the pull of perspective.
  const across = (h11 * h11 + h21 * h21) / focal2 + h31 * h31;
  const down = (h12 * h12 + h22 * h22) / focal2 + h32 * h32;
  return Math.sqrt(down / across);
}
