import { type FourPoints, type Homography, homographyFrom, rectangle, type Xy } from "./homography.ts";
import type { Picture, Plane } from "./picture.ts";
import { makePlane } from "./picture.ts";

/** Samples on one pixel of the patch, in each direction. */
const FINE = 3;
const PLACES = FINE * FINE;

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
  const places = new Int32Array(width * PLACES);
  const place = inside ? placesInside : placesInRow;
  for (let y = 0; y < height; y++) {
    for (let row = 0; row < FINE; row++) place(picture, h, y * FINE + row, places, row * FINE);
    meansAt(picture.data, places, red, green, blue, y * width);
  }
  return planes;
}

// Functions of their own for a row each: the engine compiles those early.

/** Where in the picture's data the samples of a row lie: the first few of each pixel's places, from place `first` on. */
function placesInRow(picture: Picture, h: Homography, row: number, places: Int32Array, first: number): void {
  const { width, height } = picture;
  const v = row + 0.5;
  const [h0, h3, h6] = [h[0], h[3], h[6]];
  const [a, b, c] = [h[1] * v + h[2], h[4] * v + h[5], h[7] * v + h[8]];
  let u = 0.5;
  for (let pixel = first; pixel < places.length; pixel += PLACES) {
    for (let i = pixel; i < pixel + FINE; i++, u += 1) {
      const k = 1 / (h6 * u + c);
      const x = Math.max(0, Math.min(width - 1, ((h0 * u + a) * k) | 0));
      const y = Math.max(0, Math.min(height - 1, ((h3 * u + b) * k) | 0));
      places[i] = 3 * (y * width + x);
    }
  }
}

/** The same where none lies beyond the picture: the usual case, and the quick one. */
function placesInside({ width }: Picture, h: Homography, row: number, places: Int32Array, first: number): void {
  const v = row + 0.5;
  const [h0, h3, h6] = [h[0], h[3], h[6]];
  const [a, b, c] = [h[1] * v + h[2], h[4] * v + h[5], h[7] * v + h[8]];
  // Local names: the engine reads them faster than a module's.
  const fine = FINE;
  const all = PLACES;
  let u = 0.5;
  for (let pixel = first; pixel < places.length; pixel += all) {
    for (let i = pixel; i < pixel + fine; i++, u += 1) {
      const k = 1 / (h6 * u + c);
      places[i] = 3 * (Math.imul(((h3 * u + b) * k) | 0, width) + (((h0 * u + a) * k) | 0));
    }
  }
}

/** Means of the codes at each pixel's places, into a row that begins at `o`. */
function meansAt(
  data: Uint8Array,
  places: Int32Array,
  red: Float32Array,
  green: Float32Array,
  blue: Float32Array,
  o: number,
): void {
  const all = PLACES;
  const share = 1 / PLACES;
  for (let i = 0, pixel = o; i < places.length; pixel++) {
    let r = 0;
    let g = 0;
    let b = 0;
    for (const end = i + all; i < end; i++) {
      const p = places[i];
      r += data[p];
      g += data[p + 1];
      b += data[p + 2];
    }
    red[pixel] = r * share;
    green[pixel] = g * share;
    blue[pixel] = b * share;
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
