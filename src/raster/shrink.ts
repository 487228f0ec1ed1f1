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
 * @param room gives as many numbers as are asked for, to make the sketch in
 */
export function shrink(picture: Picture, scale: number, room: (length: number) => Float32Array): Sketch {
  const width = Math.max(1, Math.floor(picture.width / scale));
  const height = Math.max(1, Math.floor(picture.height / scale));
  const count = width * height;
  const codes = room(3 * count);
  const [r, g, b] = [0, 1, 2].map((c) => codes.subarray(c * count, (c + 1) * count));
  const sketch = { width, height, r, g, b, scale };
  const words = scale === 4 ? wordsOf(picture) : null;
  for (let y = 0; y < height; y++) {
    if (words) averageFours(words, picture.width, sketch, y);
    else averageRow(picture, sketch, y);
  }
  return sketch;
}

/** Whether the processor keeps the lowest byte of a word first. */
const LOW_FIRST = new Uint8Array(Uint32Array.of(1).buffer)[0] === 1;

/** Four codes at a time, where rows begin at whole words: as photos are, most of the time. */
function wordsOf({ width, height, data }: Picture): Uint32Array | null {
  if (!LOW_FIRST || width < 4 || height < 4 || width % 4 !== 0 || data.byteOffset % 4 !== 0) return null;
  return new Uint32Array(data.buffer, data.byteOffset, Math.floor(data.length / 4));
}

/** Every other one of the four codes in a word. */
const EVEN = 0x00ff00ff;

/**
 * `averageRow` for blocks of 4 x 4 pixels: a row of a block is three words, r g b r, g b r g, b r g b. Two codes of a word are added up
 * at once, each in its half of a number.
 */
function averageFours(words: Uint32Array, across: number, { width, r, g, b }: Sketch, y: number): void {
  const stride = (across * 3) / 4;
  for (let x = 0, o = y * width, i = 4 * y * stride; x < width; x++, o++, i += 3) {
    const rb = evenSum(words, i, stride);
    const gr = oddSum(words, i, stride);
    const g2r = evenSum(words, i + 1, stride);
    const bg = oddSum(words, i + 1, stride);
    const br = evenSum(words, i + 2, stride);
    const gb = oddSum(words, i + 2, stride);
    // A word's codes from the lowest bits on: r g b r, then g b r g, then b r g b.
    r[o] = ((rb & 0xffff) + (gr >>> 16) + (g2r >>> 16) + (gb & 0xffff)) / 16;
    g[o] = ((gr & 0xffff) + (g2r & 0xffff) + (bg >>> 16) + (br >>> 16)) / 16;
    b[o] = ((rb >>> 16) + (bg & 0xffff) + (br & 0xffff) + (gb >>> 16)) / 16;
  }
}

/** The first and the third codes of four words below one another. */
function evenSum(words: Uint32Array, i: number, stride: number): number {
  const even = EVEN;
  return (
    (words[i] & even) + (words[i + stride] & even) + (words[i + 2 * stride] & even) + (words[i + 3 * stride] & even)
  );
}

/** The second and the fourth. */
function oddSum(words: Uint32Array, i: number, stride: number): number {
  const even = EVEN;
  return (
    ((words[i] >>> 8) & even) +
    ((words[i + stride] >>> 8) & even) +
    ((words[i + 2 * stride] >>> 8) & even) +
    ((words[i + 3 * stride] >>> 8) & even)
  );
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
