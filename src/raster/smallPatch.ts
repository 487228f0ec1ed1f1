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
  const [red, green, blue] = planes.map(({ data }) => data);
  const inside = corners.every(([x, y]) => x >= 0 && y >= 0 && x < picture.width && y < picture.height);
  const places = new Int32Array(width * FINE);
  for (let row = 0; row < height * FINE; row++) {
    placesInRow(picture, h, row, inside, places);
    addSamples(picture.data, places, red, green, blue, Math.floor(row / FINE) * width);
  }
  for (const { data } of planes) for (let i = 0; i < data.length; i++) data[i] *= 1 / (FINE * FINE);
  return planes;
}

// Functions of their own for a row each: the engine compiles those early.

/**
 * Where in the picture's data the samples of a row lie.
 * @param inside whether none lies beyond the picture
 */
function placesInRow(picture: Picture, h: Homography, row: number, inside: boolean, places: Int32Array): void {
  const { width } = picture;
  const lastX = width - 1;
  const lastY = picture.height - 1;
  const v = row + 0.5;
  const [h0, h3, h6] = [h[0], h[3], h[6]];
  const [a, b, c] = [h[1] * v + h[2], h[4] * v + h[5], h[7] * v + h[8]];
  for (let i = 0; i < places.length; i++) {
    const u = i + 0.5;
    const k = 1 / (h6 * u + c);
    let x = ((h0 * u + a) * k) | 0;
    let y = ((h3 * u + b) * k) | 0;
    if (!inside) {
      x = Math.max(0, Math.min(lastX, x));
      y = Math.max(0, Math.min(lastY, y));
    }
    places[i] = 3 * (Math.imul(y, width) + x);
  }
}

/** Adds a row of samples to the pixels, from `first` on, that they belong to. Sums of codes are whole numbers, exact in the planes. */
function addSamples(
  data: Uint8Array,
  places: Int32Array,
  red: Float32Array,
  green: Float32Array,
  blue: Float32Array,
  first: number,
): void {
  for (let i = 0, o = first; i < places.length; i += FINE, o++) {
    const p = places[i];
    const q = places[i + 1];
    const s = places[i + 2];
    red[o] += data[p] + data[q] + data[s];
    green[o] += data[p + 1] + data[q + 1] + data[s + 1];
    blue[o] += data[p + 2] + data[q + 2] + data[s + 2];
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
