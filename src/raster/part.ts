import type { FourPoints } from "./homography.ts";
import type { Picture } from "./picture.ts";

/** A part of a picture: first column and row, and those behind the last. */
export type Part = readonly [x0: number, y0: number, x1: number, y1: number];

/** The part of a picture in which a quadrilateral lies, `margin` pixels wider on each side where the picture goes on. One pixel at the least. */
export function partWithin(picture: Picture, corners: FourPoints, margin: number): Part {
  const xs = corners.map((c) => c[0]);
  const ys = corners.map((c) => c[1]);
  const clamp = (v: number, top: number) => Math.max(0, Math.min(top, v));
  const x0 = clamp(Math.floor(Math.min(...xs)) - margin, picture.width - 1);
  const y0 = clamp(Math.floor(Math.min(...ys)) - margin, picture.height - 1);
  const x1 = clamp(Math.ceil(Math.max(...xs)) + margin, picture.width);
  const y1 = clamp(Math.ceil(Math.max(...ys)) + margin, picture.height);
  return [x0, y0, Math.max(x1, x0 + 1), Math.max(y1, y0 + 1)];
}

/** Lays the pixels of a part down from `at` on, row by row. */
export function layPixels(bytes: Uint8Array, picture: Picture, [x0, y0, x1, y1]: Part, at: number): void {
  const length = 3 * (x1 - x0);
  for (let y = y0, to = at; y < y1; y++, to += length) {
    const from = 3 * (y * picture.width + x0);
    bytes.set(picture.data.subarray(from, from + length), to);
  }
}
