import { boxBlurInto } from "../../raster/blur.ts";
import { makePlane, type Plane } from "../../raster/picture.ts";
import { detrend } from "../../raster/trend.ts";
import { workingRoom } from "../../raster/workingRoom.ts";
import { type Blob, blobsOf, quarterTurned } from "./blobs.ts";
import { medianSize } from "./medianSize.ts";

/** What stands on a small straightened plate: pencil strokes and soft spots, in widths of the ground's own noise. */
export interface Signs {
  readonly width: number;
  readonly height: number;
  /** How far a pixel is darker than its near surroundings, in the channel that shows it best. */
  readonly strokes: Float32Array;
  /** How far a pixel stands out, darker or brighter, from its wide surroundings. */
  readonly spots: Float32Array;
  /** How much darker (positive) a pixel is than its wide surroundings, mean of the channels. */
  readonly shade: Float32Array;
  /** Patches of spots. */
  readonly blobs: readonly Blob[];
}

/** The strokes alone. */
export type Strokes = Pick<Signs, "width" | "height" | "strokes">;

/** The outermost part of the plate is chipped, shaded or not quite the plate. */
const RIM = 0.02;
/** Every such pixel counts for the usual size of the noise. */
const STEP = 3;

type Channels = readonly [Plane, Plane, Plane];

/** Signs on a plate, from its red, green and blue in sRGB codes. */
export function readSigns(patch: Channels): Signs {
  const { width, height } = patch[0];
  const planes = detrended(patch);
  const strokes = strokesOn(planes);
  const { spots, shade } = spotsOn(planes);
  return { width, height, strokes, spots, shade, blobs: blobsOf(spots, width, height) };
}

/** What of it is narrow, alone. */
export function readStrokes(patch: Channels): Strokes {
  const { width, height } = patch[0];
  return { width, height, strokes: strokesOn(detrended(patch)) };
}

function detrended(patch: Channels): Channels {
  return [detrend(patch[0]), detrend(patch[1]), detrend(patch[2])];
}

const meanRooms = [workingRoom(), workingRoom(), workingRoom()] as const;
const wideRooms = [workingRoom(), workingRoom(), workingRoom()] as const;
const betweenRoom = workingRoom();

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
function strokesOn(planes: Channels): Float32Array {
  const { width, height } = planes[0];
  const strokes = new Float32Array(width * height);
  const bits = new Int32Array(strokes.buffer);
  const [r, g, b] = planes.map(({ data }) => data);
  const [nearR, nearG, nearB] = meansOf(planes, 3);
  const spread = (data: Float32Array, near: Float32Array) => Math.max(0.4, 1.48 * medianSize(data, near, STEP));
  const [spreadR, spreadG, spreadB] = [spread(r, nearR), spread(g, nearG), spread(b, nearB)];
  const rim = Math.round(RIM * Math.max(width, height));
  for (let y = rim; y < height - rim; y++) {
    for (let i = y * width + rim, end = (y + 1) * width - rim; i < end; i++) {
      three[0] = Math.fround(nearR[i] - r[i]) / spreadR;
      three[1] = Math.fround(nearG[i] - g[i]) / spreadG;
      three[2] = Math.fround(nearB[i] - b[i]) / spreadB;
      bits[i] = larger(larger(notLess0(threeBits[0]), notLess0(threeBits[1])), notLess0(threeBits[2]));
    }
  }
  return strokes;
}

/** Soft blobs: the mean of 5 x 5 pixels against a wide one. */
function spotsOn(planes: Channels): { spots: Float32Array; shade: Float32Array } {
  const { width, height } = planes[0];
  const spots = new Float32Array(width * height);
  const bits = new Int32Array(spots.buffer);
  const shade = new Float32Array(width * height);
  const [softR, softG, softB] = meansOf(planes, 2);
  const [wideR, wideG, wideB] = planes.map(wideMeans);
  const spread = (soft: Float32Array, wide: Float32Array) => Math.max(0.25, 1.6 * medianSize(soft, wide, STEP));
  const [spreadR, spreadG, spreadB] = [spread(softR, wideR), spread(softG, wideG), spread(softB, wideB)];
  const rim = Math.round(RIM * Math.max(width, height));
  for (let y = rim; y < height - rim; y++) {
    for (let i = y * width + rim, end = (y + 1) * width - rim; i < end; i++) {
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
  return { spots, shade };
}

function wideMeans(plane: Plane, c: number): Float32Array {
  const { width, height, data } = plane;
  const between = betweenRoom(data.length);
  const wide = wideRooms[c](data.length);
  boxBlurInto(plane, 22, 22, between);
  boxBlurInto({ width, height, data: between }, 16, 16, wide);
  return wide;
}

/** A picture at half its size: what is broad in it becomes narrow enough for a stroke. */
export function halved(patch: Channels): [Plane, Plane, Plane] {
  const half = ({ width, height, data }: Plane): Plane => {
    const small = makePlane(width >> 1, height >> 1);
    for (let y = 0, k = 0; y < small.height; y++)
      for (let x = 0, i = 2 * y * width; x < small.width; x++, k++, i += 2)
        small.data[k] = (data[i] + data[i + 1] + data[i + width] + data[i + width + 1]) / 4;
    return small;
  };
  return [half(patch[0]), half(patch[1]), half(patch[2])];
}

/** Pixels of a square that is turned at once: its rows and columns both stay at hand. */
const TILE = 16;

/** The same signs turned clockwise by a quarter. */
export function quarterTurn({ width, height, strokes, spots, shade, blobs }: Signs): Signs {
  return {
    width: height,
    height: width,
    strokes: spun(strokes, width, height),
    spots: spun(spots, width, height),
    shade: spun(shade, width, height),
    blobs: quarterTurned(blobs, height),
  };
}

/** Square by square, so that its rows and its columns are both at hand. */
function spun(from: Float32Array, width: number, height: number): Float32Array {
  const to = new Float32Array(from.length);
  for (let y0 = 0; y0 < height; y0 += TILE) {
    const rows = Math.min(TILE, height - y0);
    for (let x0 = 0; x0 < width; x0 += TILE) {
      const end = Math.min(width, x0 + TILE);
      for (let x = x0; x < end; x++)
        for (let k = 0, o = (x + 1) * height - 1 - y0, i = y0 * width + x; k < rows; k++, o--, i += width)
          to[o] = from[i];
    }
  }
  return to;
}

/** The same signs upside down, in the same memory: `signs` is used up. */
export function halfTurnInPlace({ width, height, strokes, spots, shade, blobs }: Signs): Signs {
  return {
    width,
    height,
    strokes: strokes.reverse(),
    spots: spots.reverse(),
    shade: shade.reverse(),
    blobs: quarterTurned(quarterTurned(blobs, height), width),
  };
}
