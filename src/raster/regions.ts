import { type FourPoints, type Homography, homographyFrom, rectangle } from "./homography.ts";
import type { Picture } from "./picture.ts";

/**
 * sRGB codes (r, g, b interleaved, n x n samples row by row) at the nearest pixels of an even grid over a quadrilateral.
 * @param margin how far the grid stays from the sides, as a fraction of them; negative reaches outside
 * @throws RangeError where the corners are no quadrilateral
 */
export function gridSamples(picture: Picture, corners: FourPoints, n: number, margin: number): Uint8Array {
  const h = homographyFrom(rectangle(1, 1), corners);
  if (!h) throw new RangeError("The four corners do not span a quadrilateral.");
  const out = new Uint8Array(n * n * 3);
  for (let j = 0, o = 0; j < n; j++) {
    const v = margin + (1 - 2 * margin) * ((j + 0.5) / n);
    for (let i = 0; i < n; i++, o += 3) {
      const p = 3 * nearest(picture, h, margin + (1 - 2 * margin) * ((i + 0.5) / n), v);
      out[o] = picture.data[p];
      out[o + 1] = picture.data[p + 1];
      out[o + 2] = picture.data[p + 2];
    }
  }
  return out;
}

/**
 * sRGB codes at n places a side just outside a quadrilateral (`margin` > 0, as a fraction of its sides);
 * places beyond the frame are left out.
 */
export function rimSamples(picture: Picture, corners: FourPoints, n: number, margin: number): Uint8Array {
  const h = homographyFrom(rectangle(1, 1), corners);
  if (!h) throw new RangeError("The four corners do not span a quadrilateral.");
  const codes: number[] = [];
  for (let i = 0; i < n; i++) {
    const t = (i + 0.5) / n;
    for (const [u, v] of [
      [t, -margin],
      [t, 1 + margin],
      [-margin, t],
      [1 + margin, t],
    ]) {
      const w = h[6] * u + h[7] * v + h[8];
      const x = Math.floor((h[0] * u + h[1] * v + h[2]) / w);
      const y = Math.floor((h[3] * u + h[4] * v + h[5]) / w);
      if (x < 0 || y < 0 || x >= picture.width || y >= picture.height) continue;
      const p = 3 * (y * picture.width + x);
      codes.push(picture.data[p], picture.data[p + 1], picture.data[p + 2]);
    }
  }
  return Uint8Array.from(codes);
}

function nearest(picture: Picture, h: Homography, u: number, v: number): number {
  const w = h[6] * u + h[7] * v + h[8];
  const x = Math.floor((h[0] * u + h[1] * v + h[2]) / w);
  const y = Math.floor((h[3] * u + h[4] * v + h[5]) / w);
  return Math.max(0, Math.min(picture.height - 1, y)) * picture.width + Math.max(0, Math.min(picture.width - 1, x));
}
