import type { Quad } from "../../model/index.ts";
import { aspectAt, unitSquareTo } from "./foreshortening.ts";

/** Focal length of an everyday phone camera over the long side of its picture (26 mm on a 36 mm frame). */
const USUAL_FOCAL = 0.75;
const FOCAL_RANGE = [0.45, 3] as const;

/**
 * Height over width of the true rectangle that a camera shows as `quad`.
 * Single view metrology (Zhang and He, "Whiteboard scanning and image enhancement", Digital Signal Processing 2007,
 * 17, 414): with the principal point at the middle of the picture and square pixels, the two vanishing points give the
 * focal length, and that the aspect. Where the sides run too parallel to tell, the usual focal length of a phone
 * stands in; the aspect then hardly depends on it.
 * @param quad corners in pixels of the whole picture (not of a crop)
 * @param width of the picture in pixels
 * @param height of the picture in pixels
 */
export function plateAspect(quad: Quad, width: number, height: number): number {
  const h = unitSquareTo(quad, width, height);
  if (!h) return sideAspect(quad);
  const [h11, h12, , h21, h22, , h31, h32] = h;
  const dot = h11 * h12 + h21 * h22;
  const focal2 = Math.abs(h31 * h32) > 0.01 ? -dot / (h31 * h32) : Number.NaN;
  const known = focal2 > FOCAL_RANGE[0] ** 2 && focal2 < FOCAL_RANGE[1] ** 2;
  return aspectAt(h, known ? focal2 : USUAL_FOCAL ** 2);
}

function sideAspect(quad: Quad): number {
  const side = (i: number, j: number) => Math.hypot(quad[i][0] - quad[j][0], quad[i][1] - quad[j][1]);
  return (side(0, 3) + side(1, 2)) / Math.max(side(0, 1) + side(3, 2), 1e-9);
}
