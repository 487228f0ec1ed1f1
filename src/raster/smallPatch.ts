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
  const corners = movedIn(quad, inset);
  const h = homographyFrom(rectangle(width * FINE, height * FINE), corners);
  if (!h) return null;
  const planes = [makePlane(width, height), makePlane(width, height), makePlane(width, height)] as const;
  const inside = corners.every(([x, y]) => x >= 0 && y >= 0 && x < picture.width && y < picture.height);
  for (let row = 0; row < height * FINE; row++) addSamples(picture, h, row, inside, planes);
  for (const { data } of planes) for (let i = 0; i < data.length; i++) data[i] *= 1 / (FINE * FINE);
  return planes;
}

/**
 * Adds one row of samples to the pixels that they belong to. Sums of codes are whole numbers, exact in the planes.
 * @param inside whether no sample lies beyond the picture
 */
function addSamples(
  picture: Picture,
  h: Homography,
  row: number,
  inside: boolean,
  [red, green, blue]: readonly [Plane, Plane, Plane],
): void {
  const { data, width: pw } = picture;
  const lastX = pw - 1;
  const lastY = picture.height - 1;
  const { width } = red;
  const v = row + 0.5;
  const [h0, h3, h6] = [h[0], h[3], h[6]];
  const [a, b, c] = [h[1] * v + h[2], h[4] * v + h[5], h[7] * v + h[8]];
  const first = Math.floor(row / FINE) * width;
  const [reds, greens, blues] = [red.data, green.data, blue.data];
  let u = -0.5;
  for (let o = first, end = first + width; o < end; o++) {
    let r = 0;
    let g = 0;
    let bl = 0;
    for (let i = 0; i < FINE; i++) {
      u += 1;
      const k = 1 / (h6 * u + c);
      let sx = ((h0 * u + a) * k) | 0;
      let sy = ((h3 * u + b) * k) | 0;
      if (!inside) {
        sx = Math.max(0, Math.min(lastX, sx));
        sy = Math.max(0, Math.min(lastY, sy));
      }
      const p = 3 * (sy * pw + sx);
      r = (r + data[p]) | 0;
      g = (g + data[p + 1]) | 0;
      bl = (bl + data[p + 2]) | 0;
    }
    reds[o] += r;
    greens[o] += g;
    blues[o] += bl;
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
