import { selectAt } from "../math/select.ts";
import { boxBlurInto } from "./blur.ts";
import type { Plane } from "./picture.ts";
import { detrendInto } from "./trend.ts";
import { workingRoom } from "./workingRoom.ts";

/** What stands out from an even ground, fine and soft apart. */
export interface Relief {
  /** Median code of the plane. */
  readonly level: number;
  /** Usual size of `fine`, about its standard deviation where nothing is drawn; at least 0.4 codes. */
  readonly fineSpread: number;
  /** Usual size of `coarse`, a little above its standard deviation where nothing is; at least 0.25 codes. */
  readonly coarseSpread: number;
}

const [evenRoom, wideRoom, betweenRoom, sizesRoom] = Array.from({ length: 4 }, workingRoom);

/**
 * Takes the smooth light off a plane of codes and parts what is left by size; the radii suit patches of about 200 pixels.
 * @param fine for the difference from the mean of 7 x 7 pixels: narrow marks
 * @param coarse for the difference of the mean of 5 x 5 pixels from a wide mean: soft blobs
 */
export function reliefInto(raw: Plane, fine: Float32Array, coarse: Float32Array): Relief {
  const { width, height } = raw;
  const n = raw.data.length;
  const even = { width, height, data: evenRoom(n) };
  const between = { width, height, data: betweenRoom(n) };
  const wide = wideRoom(n);
  detrendInto(raw, even.data);
  boxBlurInto(even, 3, 3, fine);
  boxBlurInto(even, 2, 2, coarse);
  boxBlurInto(even, 22, 22, between.data);
  boxBlurInto(between, 16, 16, wide);
  takeOff(even.data, fine, fine);
  takeOff(coarse, wide, coarse);
  return {
    level: median(raw.data, 1),
    fineSpread: Math.max(0.4, 1.48 * median(fine, 3)),
    coarseSpread: Math.max(0.25, 1.6 * median(coarse, 3)),
  };
}

/** Sizes are counted in steps of this share of a code, up to the largest that two codes differ by, and some more. */
const STEPS = 8;
const COUNTS = 4096;
const counts = new Uint32Array(COUNTS);

/** Median of the sizes of every `step`th value: only those of the step that it is in are put in order. */
function median(values: Float32Array, step: number): number {
  counts.fill(0);
  countSizes(values, step);
  let left = Math.ceil(values.length / step) >> 1;
  let middle = 0;
  while (left >= counts[middle]) left -= counts[middle++];
  const some = sizesRoom(counts[middle]);
  sizesOf(values, step, middle, some);
  return selectAt(some, left);
}

// Loops of their own: what stands beside them would be thrown away, compiled, each time that they end.

function takeOff(a: Float32Array, b: Float32Array, out: Float32Array): void {
  for (let i = 0; i < out.length; i++) out[i] = a[i] - b[i];
}

function countSizes(values: Float32Array, step: number): void {
  const last = COUNTS - 1;
  for (let k = 0; k < values.length; k += step) counts[Math.min(last, (STEPS * Math.abs(values[k])) | 0)]++;
}

/** The sizes that were counted at one place. */
function sizesOf(values: Float32Array, step: number, place: number, sizes: Float32Array): void {
  const last = COUNTS - 1;
  for (let k = 0, i = 0; k < values.length; k += step) {
    const size = Math.abs(values[k]);
    if (Math.min(last, (STEPS * size) | 0) === place) sizes[i++] = size;
  }
}
