import { type FourPoints, type Homography, homographyFrom, rectangle, type Xy } from "./homography.ts";
import type { Picture, Plane } from "./picture.ts";
import { workingRoom } from "./workingRoom.ts";

/** Samples on one pixel of the patch, in each direction. */
const FINE = 3;

const rooms = [workingRoom(), workingRoom(), workingRoom()] as const;

/**
 * A quadrilateral straightened to a small picture: red, green and blue, sRGB codes in real numbers.
 * Each pixel is the mean of 3 x 3 samples, enough against aliasing where it stands for a few pixels of the photo.
 * @param long pixels of the longer side
 * @param inset how far each corner moves towards the opposite one first, as a share of the way: nothing from beyond the
 *   rim blurs in
 * @returns good until the next patch is asked for; null where the corners span no quadrilateral
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
  const [red, green, blue] = rooms.map((room) => room(width * height));
  // A pixel of the last column has no next one to be read along with.
  const inside = corners.every(([x, y]) => x >= 0 && y >= 0 && x < picture.width - 1 && y < picture.height);
  const add = inside ? addWithin : addRow;
  const codes = new DataView(picture.data.buffer, picture.data.byteOffset, picture.data.byteLength);
  const redBlue = new Int32Array(width);
  const greens = new Int32Array(width);
  for (let y = 0; y < height; y++) {
    redBlue.fill(0);
    greens.fill(0);
    for (let row = y * FINE; row < (y + 1) * FINE; row++) add(picture, codes, h, row + 0.5, redBlue, greens);
    meansOf(redBlue, greens, red, green, blue, y * width);
  }
  return [
    { width, height, data: red },
    { width, height, data: green },
    { width, height, data: blue },
  ];
}

// Functions of their own for a row each: the engine compiles those early.

/**
 * Adds the samples of a row to the pixels that they lie on.
 * @param v how far down the row lies, in samples
 * @param redBlue sums of the codes of red, and of blue above 16 bits
 */
function addRow(
  { width, height, data }: Picture,
  _: DataView,
  h: Homography,
  v: number,
  redBlue: Int32Array,
  greens: Int32Array,
): void {
  const [h0, h3, h6] = [h[0], h[3], h[6]];
  const [a, b, c] = [h[1] * v + h[2], h[4] * v + h[5], h[7] * v + h[8]];
  let u = 0.5;
  for (let pixel = 0; pixel < greens.length; pixel++)
    for (let i = 0; i < FINE; i++, u += 1) {
      const k = 1 / (h6 * u + c);
      const x = Math.max(0, Math.min(width - 1, ((h0 * u + a) * k) | 0));
      const y = Math.max(0, Math.min(height - 1, ((h3 * u + b) * k) | 0));
      const place = 3 * (y * width + x);
      redBlue[pixel] += data[place] + (data[place + 2] << 16);
      greens[pixel] += data[place + 1] << 8;
    }
}

/** The same where none lies beyond the picture: the usual case, and the quick one. Red, green and blue are read as one number. */
function addWithin(
  { width }: Picture,
  codes: DataView,
  h: Homography,
  v: number,
  redBlue: Int32Array,
  greens: Int32Array,
): void {
  const [h0, h3, h6] = [h[0], h[3], h[6]];
  const [a, b, c] = [h[1] * v + h[2], h[4] * v + h[5], h[7] * v + h[8]];
  // A local name: the engine reads it faster than a module's.
  const fine = FINE;
  let u = 0.5;
  for (let pixel = 0; pixel < greens.length; pixel++) {
    let both = redBlue[pixel];
    let green = greens[pixel];
    for (let i = 0; i < fine; i++, u += 1) {
      const k = 1 / (h6 * u + c);
      const place = 3 * (Math.imul(((h3 * u + b) * k) | 0, width) + (((h0 * u + a) * k) | 0));
      const rgb = codes.getInt32(place, true);
      both = (both + (rgb & 0xff00ff)) | 0;
      green = (green + (rgb & 0xff00)) | 0;
    }
    redBlue[pixel] = both;
    greens[pixel] = green;
  }
}

/** Means from sums, into a row that begins at `o`. */
function meansOf(
  redBlue: Int32Array,
  greens: Int32Array,
  red: Float32Array,
  green: Float32Array,
  blue: Float32Array,
  o: number,
): void {
  const share = 1 / (FINE * FINE);
  for (let x = 0; x < greens.length; x++) {
    red[o + x] = (redBlue[x] & 0xffff) * share;
    green[o + x] = (greens[x] >> 8) * share;
    blue[o + x] = (redBlue[x] >> 16) * share;
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
