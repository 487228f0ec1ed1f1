import { singleRoom } from "../math/room.ts";
import { memoryFor, ROOM, vectorCode } from "../math/simd/index.ts";
import { type FourPoints, homographyFrom, rectangle, type Xy } from "./homography.ts";
import { layPixels, partWithin } from "./part.ts";
import type { Picture, Plane } from "./picture.ts";

/** Samples on one pixel of the patch, in each direction: as many as the vector code takes. */
const FINE = 3;

const rooms = [singleRoom(), singleRoom(), singleRoom()] as const;

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
  const [x0, y0, x1, y1] = partWithin(picture, corners, 1);
  const size = 4 * width * height;
  const out = ROOM + 8 * 13;
  const sums = out + 3 * size;
  const pixels = sums + 8 * (width + 1);
  const memory = memoryFor(pixels + 3 * (x1 - x0) * (y1 - y0) + 1 - ROOM);
  new Float64Array(memory.buffer, ROOM, 13).set([...h, x0, y0, x1 - 1, y1 - 1]);
  layPixels(new Uint8Array(memory.buffer), picture, [x0, y0, x1, y1], pixels);
  vectorCode().sampleSmall(pixels, x1 - x0, ROOM, width, height, out, sums);
  const plane = (c: number): Plane => {
    const data = rooms[c](width * height);
    data.set(memory.subarray((out + c * size) / 4, (out + (c + 1) * size) / 4));
    return { width, height, data };
  };
  return [plane(0), plane(1), plane(2)];
}

function movedIn(quad: FourPoints, share: number): FourPoints {
  const at = (i: number): Xy => {
    const [x, y] = quad[i];
    const [u, v] = quad[(i + 2) & 3];
    return [x + share * (u - x), y + share * (v - y)];
  };
  return [at(0), at(1), at(2), at(3)];
}
