import { singleRoom } from "../../math/room.ts";
import { boxBlurInto } from "../../raster/blur.ts";
import type { Plane } from "../../raster/picture.ts";
import { detrendInto } from "../../raster/trend.ts";
import { type Blob, blobsOf, quarterTurned } from "./blobs.ts";
import { medianSize } from "./medianSize.ts";

/** Pencil strokes and all else that is narrow on a small straightened plate, in widths of the ground's own noise. */
export interface Strokes {
  readonly width: number;
  readonly height: number;
  /** How far a pixel is darker than its near surroundings, in the channel that shows it best. */
  readonly strokes: Float32Array;
}

/** All that stands on it. */
export interface Signs extends Strokes {
  readonly soft: Soft;
}

/** Spots, bands and tones, for which a picture of half the size does. */
export interface Soft {
  readonly width: number;
  readonly height: number;
  /** How far a pixel stands out, darker or brighter, from its wide surroundings. */
  readonly spots: Float32Array;
  /** How much darker (positive) a pixel is than its wide surroundings, mean of the channels. */
  readonly shade: Float32Array;
  /** Patches of spots. */
  readonly blobs: readonly Blob[];
}

/** The outermost part of the plate, a share of its longer side, is chipped, shaded or not quite the plate: nothing is seen there. */
export const RIM = 0.02;
/** Every such pixel counts for the usual size of the noise: of strokes, and at half the size. */
const STEP = { narrow: 3, soft: 1 };

type Channels = readonly [Plane, Plane, Plane];

const [fineRoom, broadRoom] = [singleRoom(), singleRoom()];

/**
 * Signs on a plate, from its red, green and blue in sRGB codes, good until the next plate is looked at.
 * @returns besides, the strokes at half the size: what is broad shows as such there alone
 */
export function readSigns(patch: Channels): { readonly signs: Signs; readonly broad: Strokes } {
  const half = halved(patch);
  return { signs: { ...strokesOn(patch, fineRoom), soft: softOn(half) }, broad: strokesOn(half, broadRoom) };
}

const evenRooms = [singleRoom(), singleRoom(), singleRoom()] as const;

/** The channels less their trends, good until it is called again. */
function detrended(patch: Channels): Channels {
  const even = (c: 0 | 1 | 2): Plane => {
    const { width, height, data } = patch[c];
    const out = evenRooms[c](data.length);
    detrendInto(patch[c], out);
    return { width, height, data: out };
  };
  return [even(0), even(1), even(2)];
}

const meanRooms = [singleRoom(), singleRoom(), singleRoom()] as const;
const wideRooms = [singleRoom(), singleRoom(), singleRoom()] as const;
const betweenRoom = singleRoom();

/** Means of (2 r + 1) x (2 r + 1) pixels of each channel, in the rooms for means. */
function meansOf(planes: Channels, r: number): Float32Array[] {
  return planes.map((plane, c) => {
    const means = meanRooms[c](plane.data.length);
    boxBlurInto(plane, r, r, means);
    return means;
  });
}

// The bits of positive real numbers sort as the numbers do, and those of negative ones are negative integers. Which is the largest is
// found without a branch: over noise a processor would guess every other one wrong.
const three = new Float32Array(3);
const threeBits = new Int32Array(three.buffer);
/** All bits but the sign. */
const SIZE = 0x7fffffff;

/** The larger of two integers of which none is negative. */
function larger(a: number, b: number): number {
  return a - ((a - b) & ((a - b) >> 31));
}

function notLess0(a: number): number {
  return a & ~(a >> 31);
}

/** Narrow marks: darker than the mean of 7 x 7 pixels. */
function strokesOn(planes: Channels, room: (length: number) => Float32Array): Strokes {
  const { width, height } = planes[0];
  const strokes = room(width * height).fill(0);
  const bits = bitsOf(strokes);
  const near = meansOf(planes, 3);
  const [red, green, blue] = planes.map(({ data }, c): Against => {
    return { fine: data, coarse: near[c], spread: Math.max(0.4, 1.48 * medianSize(data, near[c], STEP.narrow)) };
  });
  const rim = Math.round(RIM * Math.max(width, height));
  for (let y = rim; y < height - rim; y++) strokesInRow(red, green, blue, y * width + rim, (y + 1) * width - rim, bits);
  return { width, height, strokes };
}

function bitsOf(values: Float32Array): Int32Array {
  return new Int32Array(values.buffer, values.byteOffset, values.length);
}

/** A channel, finer and coarser, and how far the two usually differ. */
interface Against {
  readonly fine: Float32Array;
  readonly coarse: Float32Array;
  readonly spread: number;
}

// Functions of their own for a row of pixels each: the engine compiles those early.

function strokesInRow(
  { fine: r, coarse: nearR, spread: spreadR }: Against,
  { fine: g, coarse: nearG, spread: spreadG }: Against,
  { fine: b, coarse: nearB, spread: spreadB }: Against,
  from: number,
  end: number,
  bits: Int32Array,
): void {
  for (let i = from; i < end; i++) {
    three[0] = Math.fround(nearR[i] - r[i]) / spreadR;
    three[1] = Math.fround(nearG[i] - g[i]) / spreadG;
    three[2] = Math.fround(nearB[i] - b[i]) / spreadB;
    bits[i] = larger(larger(notLess0(threeBits[0]), notLess0(threeBits[1])), notLess0(threeBits[2]));
  }
}

const [spotsRoom, shadeRoom] = [singleRoom(), singleRoom()];

/** Soft blobs, at half the size: the mean of 3 x 3 pixels against a wide one. */
function softOn(half: Channels): Soft {
  const { width, height } = half[0];
  const planes = detrended(half);
  const spots = spotsRoom(width * height).fill(0);
  const bits = bitsOf(spots);
  const shade = shadeRoom(width * height).fill(0);
  const [soft, wide] = [meansOf(planes, 1), planes.map(wideMeans)];
  const [red, green, blue] = soft.map((fine, c): Against => {
    return { fine, coarse: wide[c], spread: Math.max(0.25, 1.6 * medianSize(fine, wide[c], STEP.soft)) };
  });
  const rim = Math.round(RIM * Math.max(width, height));
  for (let y = rim; y < height - rim; y++)
    spotsInRow(red, green, blue, y * width + rim, (y + 1) * width - rim, bits, shade);
  return { width, height, spots, shade, blobs: blobsOf(spots, width, height) };
}

function spotsInRow(
  { fine: softR, coarse: wideR, spread: spreadR }: Against,
  { fine: softG, coarse: wideG, spread: spreadG }: Against,
  { fine: softB, coarse: wideB, spread: spreadB }: Against,
  from: number,
  end: number,
  bits: Int32Array,
  shade: Float32Array,
): void {
  for (let i = from; i < end; i++) {
    const red = Math.fround(wideR[i] - softR[i]) / spreadR;
    const green = Math.fround(wideG[i] - softG[i]) / spreadG;
    const blue = Math.fround(wideB[i] - softB[i]) / spreadB;
    three[0] = red;
    three[1] = green;
    three[2] = blue;
    bits[i] = larger(larger(threeBits[0] & SIZE, threeBits[1] & SIZE), threeBits[2] & SIZE);
    shade[i] = Math.fround(Math.fround(red / 3) + green / 3) + blue / 3;
  }
}

function wideMeans(plane: Plane, c: number): Float32Array {
  const { width, height, data } = plane;
  const between = betweenRoom(data.length);
  const wide = wideRooms[c](data.length);
  boxBlurInto(plane, 11, 11, between);
  boxBlurInto({ width, height, data: between }, 8, 8, wide);
  return wide;
}

const halfRooms = [singleRoom(), singleRoom(), singleRoom()] as const;

/** A picture at half its size: what is broad in it becomes narrow enough for a stroke. */
function halved(patch: Channels): Channels {
  const half = (c: 0 | 1 | 2): Plane => {
    const [width, height] = [patch[c].width >> 1, patch[c].height >> 1];
    const small = halfRooms[c](width * height);
    for (let y = 0; y < height; y++)
      halveRow(patch[c].data, 2 * y * patch[c].width, patch[c].width, small, y * width, width);
    return { width, height, data: small };
  };
  return [half(0), half(1), half(2)];
}

/** Means of two pixels of the row that begins at `i` and of the two below, into `count` values from `o` on. */
function halveRow(data: Float32Array, i: number, width: number, out: Float32Array, o: number, count: number): void {
  for (const end = o + count; o < end; o++, i += 2)
    out[o] = (data[i] + data[i + 1] + data[i + width] + data[i + width + 1]) / 4;
}

/** Pixels of a square that is turned at once: its rows and columns both stay at hand. */
const TILE = 16;

/** The same signs turned clockwise by a quarter. */
export function quarterTurn({ width, height, strokes, soft }: Signs): Signs {
  return {
    width: height,
    height: width,
    strokes: spun(strokes, width, height),
    soft: {
      width: soft.height,
      height: soft.width,
      spots: spun(soft.spots, soft.width, soft.height),
      shade: spun(soft.shade, soft.width, soft.height),
      blobs: quarterTurned(soft.blobs, soft.height),
    },
  };
}

/** Square by square, so that its rows and its columns are both at hand. */
function spun(from: Float32Array, width: number, height: number): Float32Array {
  const to = new Float32Array(from.length);
  for (let y0 = 0; y0 < height; y0 += TILE) {
    const rows = Math.min(TILE, height - y0);
    for (let x0 = 0; x0 < width; x0 += TILE) {
      const end = Math.min(width, x0 + TILE);
      for (let x = x0; x < end; x++) spinColumn(from, y0 * width + x, width, to, (x + 1) * height - 1 - y0, rows);
    }
  }
  return to;
}

/** The same signs upside down, in the same memory: `signs` is used up. */
export function halfTurnInPlace({ width, height, strokes, soft }: Signs): Signs {
  return {
    width,
    height,
    strokes: strokes.reverse(),
    soft: {
      ...soft,
      spots: soft.spots.reverse(),
      shade: soft.shade.reverse(),
      blobs: quarterTurned(quarterTurned(soft.blobs, soft.height), soft.width),
    },
  };
}

function spinColumn(from: Float32Array, i: number, width: number, to: Float32Array, o: number, rows: number): void {
  for (let k = 0; k < rows; k++, o--, i += width) to[o] = from[i];
}
