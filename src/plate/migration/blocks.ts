import { singleRoom } from "../../math/room.ts";
import { selectAt } from "../../math/select.ts";
import type { Plane } from "../../raster/picture.ts";

/** Gives room for so many values. */
type Room = (length: number) => Float32Array;

const keptRoom: Room = (length) => new Float32Array(length);

/** Vertical profiles of a plate cut into upright stripes: profile b at row y is data[b * height + y]. */
export interface Stripes {
  readonly count: number;
  readonly height: number;
  readonly data: Float32Array;
}

/**
 * Means over `count` stripes of equal width, leaving `margin` (fraction of the width) at both sides.
 * @param room gives the room for them; left out: they are to be kept
 */
export function stripesOf(plane: Plane, count: number, margin: number, room: Room = keptRoom): Stripes {
  const { width, height, data: pixels } = plane;
  const data = room(count * height);
  const starts = new Int32Array(count);
  const ends = new Int32Array(count);
  for (let b = 0; b < count; b++) {
    starts[b] = Math.round(width * (margin + ((1 - 2 * margin) * b) / count));
    ends[b] = Math.max(starts[b] + 1, Math.round(width * (margin + ((1 - 2 * margin) * (b + 1)) / count)));
  }
  // Each sum waits for the one before it: four rows at a time keep the processor busy meanwhile.
  const together = height - (height % 4);
  for (let y = 0; y < together; y += 4) meansOfFourRows(pixels, width, starts, ends, data, y, height);
  for (let y = together; y < height; y++) meansOfRow(pixels, y * width, starts, ends, data, y, height);
  return { count, height, data };
}

// Functions of their own for a row each, or four: the engine compiles those early.

function meansOfFourRows(
  pixels: Float32Array,
  width: number,
  starts: Int32Array,
  ends: Int32Array,
  out: Float32Array,
  y: number,
  height: number,
): void {
  const o = y * width;
  for (let b = 0; b < starts.length; b++) {
    let s0 = 0;
    let s1 = 0;
    let s2 = 0;
    let s3 = 0;
    for (let i = o + starts[b], end = o + ends[b]; i < end; i++) {
      s0 += pixels[i];
      s1 += pixels[i + width];
      s2 += pixels[i + 2 * width];
      s3 += pixels[i + 3 * width];
    }
    const n = ends[b] - starts[b];
    const k = b * height + y;
    out[k] = s0 / n;
    out[k + 1] = s1 / n;
    out[k + 2] = s2 / n;
    out[k + 3] = s3 / n;
  }
}

/** Means of one row of pixels in each stripe. */
function meansOfRow(
  pixels: Float32Array,
  o: number,
  starts: Int32Array,
  ends: Int32Array,
  out: Float32Array,
  y: number,
  height: number,
): void {
  for (let b = 0; b < starts.length; b++) {
    let s = 0;
    for (let i = o + starts[b], end = o + ends[b]; i < end; i++) s += pixels[i];
    out[b * height + y] = s / (ends[b] - starts[b]);
  }
}

/** Centre of stripe b as a fraction of the plate's width. */
export function stripeCentre(b: number, count: number, margin: number): number {
  return margin + ((1 - 2 * margin) * (b + 0.5)) / count;
}

/** The same with valleys for ridges. */
export function negative({ count, height, data }: Stripes): Stripes {
  const turned = new Float32Array(data.length);
  for (let i = 0; i < data.length; i++) turned[i] = -data[i];
  return { count, height, data: turned };
}

/** How far a row stands out from the rows `reach` above and below: min of both differences. Signed: a valley is negative. */
export function ridge(stripes: Stripes, reach: number): Stripes {
  const { count, height, data } = stripes;
  const out = new Float32Array(data.length);
  for (let b = 0; b < count; b++) ridgesOf(data, b * height, height, reach, out);
  return { count, height, data: out };
}

function ridgesOf(data: Float32Array, o: number, height: number, reach: number, out: Float32Array): void {
  for (let y = 0; y < height; y++) out[o + y] = ridgeAt(data, o, y, height, reach);
}

/**
 * The ridge of one row of the stripe that begins at `o`: by how much it stands out of the nearer of both rows, if of both to one side.
 * Comparisons choose addresses and factors rather than ways: over noise a processor would guess every other way wrong.
 */
export function ridgeAt(data: Float32Array, o: number, y: number, height: number, reach: number): number {
  const v = data[o + y];
  const up = o + (y < reach ? 0 : y - reach);
  const down = o + (y + reach < height ? y + reach : height - 1);
  const a = v - data[up];
  const b = v - data[down];
  const near = up + Math.imul(down - up, Number(Math.abs(b) < Math.abs(a)));
  // Nothing is added so that nothing is never less than nothing.
  return (v - data[near]) * Number(a * b > 0) + 0;
}

/**
 * Mean of `reach` rows below less mean of `reach` rows above: positive where it is darker below (wetted layer).
 * @param room gives the room for them; left out: they are to be kept
 */
export function stepDown(stripes: Stripes, reach: number, room: Room = keptRoom): Stripes {
  const { count, height } = stripes;
  const data = room(stripes.data.length).fill(0);
  const sums = new Float64Array(height + 1);
  for (let b = 0; b < count; b++) {
    const o = b * height;
    for (let y = 0; y < height; y++) sums[y + 1] = sums[y] + stripes.data[o + y];
    stepsOf(sums, height, reach, data, o);
  }
  return { count, height, data };
}

function stepsOf(sums: Float64Array, height: number, reach: number, out: Float32Array, o: number): void {
  for (let y = 0; y < height; y++) {
    const y0 = Math.max(0, y - reach);
    const y1 = Math.min(height, y + reach);
    if (y - y0 < 2 || y1 - y < 2) continue;
    out[o + y] = (sums[y1] - sums[y]) / (y1 - y) - (sums[y] - sums[y0]) / (y - y0);
  }
}

/** Of so many responses one is looked at for their spread. */
const EVERY = 3;
const sampleRoom = singleRoom();

/** Robust spread of all stripes together (1.4826 times the median absolute value), never 0. */
export function spreadOf({ data }: Stripes): number {
  const sample = sampleRoom(Math.ceil(data.length / EVERY) + 1);
  let n = 0;
  for (let i = 0; i < data.length; i += EVERY) {
    sample[n] = Math.abs(data[i]);
    n += Number(data[i] !== 0);
  }
  return spreadFrom(sample.subarray(0, n));
}

/** `spreadOf(ridge(stripes, reach))`, without the ridges that it does not look at. */
export function spreadOfRidge({ count, height, data }: Stripes, reach: number): number {
  const sample = sampleRoom(Math.ceil(data.length / EVERY) + 1);
  let n = 0;
  for (let b = 0, y = 0; b < count; b++, y -= height) {
    n = ridgeSizes(data, b * height, y, height, reach, sample, n);
    while (y < height) y += EVERY;
  }
  return spreadFrom(sample.subarray(0, n));
}

/** Every third ridge of a stripe from row `first` on, as far as it is one, added to `sizes`; returns how many these are then. */
function ridgeSizes(
  data: Float32Array,
  o: number,
  first: number,
  height: number,
  reach: number,
  sizes: Float32Array,
  n: number,
): number {
  for (let y = first; y < height; y += EVERY) {
    const v = ridgeAt(data, o, y, height, reach);
    sizes[n] = Math.abs(v);
    n += Number(v !== 0);
  }
  return n;
}

function spreadFrom(sizes: Float32Array): number {
  return 1e-6 + (sizes.length === 0 ? 0 : 1.4826 * selectAt(sizes, sizes.length >> 1));
}
