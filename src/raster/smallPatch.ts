import { type FourPoints, type Homography, homographyFrom, rectangle, type Xy } from "./homography.ts";
import type { Picture, Plane } from "./picture.ts";
import { makePlane } from "./picture.ts";

/** Samples on one pixel of the patch, in each direction. */
const FINE = 3;

/**
 * A quadrilateral straightened to a small picture: red, green and blue, sRGB codes in real numbers.
 * Each pixel is the mean of 3 x 3 samples, enough against aliasing where it stands for a few pixels of the photo.
 * @param long pixels of the longer side
 * @param inset how far each corner moves towards the opposite one first, as a share of the way: nothing from beyond the
 *   rim blurs in
 * @returns null where the corners span no quadrilateral
 */
export function smallPatch(
  picture: Picture,
  quad: FourPoints,
  long: number,
  inset: number,
): readonly [Plane, Plane, Plane] | null {
  const side = (i: number, j: number) => Math.hypot(quad[i][0] - quad[j][0], quad[i][1] - quad[j][1]);
  const across = (side(0, 1) + side(3, 2)) / 2;
  const down = (side(0, 3) + side(1, 2)) / 2;
  const scale = Math.min(1, long / Math.max(across, down));
  const width = Math.max(24, Math.round(across * scale));
  const height = Math.max(24, Math.round(down * scale));
  const h = homographyFrom(rectangle(width * FINE, height * FINE), movedIn(quad, inset));
  if (!h) return null;
  const planes = [makePlane(width, height), makePlane(width, height), makePlane(width, height)] as const;
  for (let y = 0; y < height; y++) patchRow(picture, h, y, planes);
  return planes;
}

function patchRow(picture: Picture, h: Homography, y: number, planes: readonly [Plane, Plane, Plane]): void {
  const { data, width: pw } = picture;
  const lastX = pw - 1;
  const lastY = picture.height - 1;
  const width = planes[0].width;
  const [h0, h1, h2, h3, h4, h5, h6, h7, h8] = h;
  const share = 1 / (FINE * FINE);
  for (let x = 0, o = y * width; x < width; x++, o++) {
    let r = 0;
    let g = 0;
    let b = 0;
    for (let j = 0; j < FINE; j++) {
      const v = y * FINE + j + 0.5;
      for (let i = 0; i < FINE; i++) {
        const u = x * FINE + i + 0.5;
        const k = 1 / (h6 * u + h7 * v + h8);
        const sx = Math.max(0, Math.min(lastX, (h0 * u + h1 * v + h2) * k)) | 0;
        const sy = Math.max(0, Math.min(lastY, (h3 * u + h4 * v + h5) * k)) | 0;
        const p = 3 * (sy * pw + sx);
        r += data[p];
        g += data[p + 1];
        b += data[p + 2];
      }
    }
    planes[0].data[o] = r * share;
    planes[1].data[o] = g * share;
    planes[2].data[o] = b * share;
  }
}

function movedIn(quad: FourPoints, share: number): FourPoints {
  const at = (i: number): Xy => {
    const [x, y] = quad[i];
    const [u, v] = quad[(i + 2) & 3];
    return [x + share * (u - x), y + share * (v - y)];
  };
  return [at(0), at(1), at(2), at(3)];
}
