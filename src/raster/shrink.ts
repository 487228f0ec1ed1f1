import type { Picture } from "./picture.ts";

/** Small colour picture in real numbers: sRGB codes 0..255, three planes, row-major, origin top left. */
export interface Sketch {
  readonly width: number;
  readonly height: number;
  readonly r: Float32Array;
  readonly g: Float32Array;
  readonly b: Float32Array;
  /** Pixels of the original on one pixel of the sketch, in each direction. */
  readonly scale: number;
}

/**
 * Averages blocks of scale x scale pixels; a rest at the right and bottom that fills no block is left out.
 * Averages keep fractions of a code, so that faint steps survive in dark pictures.
 */
export function shrink(picture: Picture, scale: number): Sketch {
  const width = Math.max(1, Math.floor(picture.width / scale));
  const height = Math.max(1, Math.floor(picture.height / scale));
  const count = width * height;
  const r = new Float32Array(count);
  const g = new Float32Array(count);
  const b = new Float32Array(count);
  const sketch = { width, height, r, g, b, scale };
  for (let y = 0; y < height; y++) averageRow(picture, sketch, y);
  return sketch;
}

/** One row of the sketch; a function of its own, which the engine compiles early. */
function averageRow(picture: Picture, { width, scale, r, g, b }: Sketch, y: number): void {
  const { data } = picture;
  const stride = picture.width * 3;
  const rows = Math.min(scale, picture.height);
  const span = Math.min(scale, picture.width) * 3;
  const share = 1 / (rows * Math.min(scale, picture.width));
  for (let x = 0, o = y * width; x < width; x++, o++) {
    let sr = 0;
    let sg = 0;
    let sb = 0;
    let start = y * scale * stride + x * scale * 3;
    for (let row = 0; row < rows; row++, start += stride) {
      for (let p = start, end = start + span; p < end; p += 3) {
        sr = (sr + data[p]) | 0;
        sg = (sg + data[p + 1]) | 0;
        sb = (sb + data[p + 2]) | 0;
      }
    }
    r[o] = sr * share;
    g[o] = sg * share;
    b[o] = sb * share;
  }
}
