import { singleRoom } from "../math/room.ts";
import { selectAt } from "../math/select.ts";
import { boxBlurInto } from "./blur.ts";
import type { Plane } from "./picture.ts";
import { detrendInto } from "./trend.ts";

/** What stands out from an even ground, fine and soft apart. */
export interface Relief {
  /** Median code of the plane. */
  readonly level: number;
  /** Usual size of `fine`, about its standard deviation where nothing is drawn; at least 0.4 codes. */
  readonly fineSpread: number;
  /** Usual size of `coarse`, a little above its standard deviation where nothing is; at least 0.25 codes. */
  readonly coarseSpread: number;
}

const [evenRoom, wideRoom, betweenRoom, sizesRoom] = Array.from({ length: 4 }, singleRoom);

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

/** Median of the sizes of every `step`th value. */
function median(values: Float32Array, step: number): number {
  const some = sizesRoom(Math.ceil(values.length / step));
  sizesOf(values, step, some);
  return selectAt(some, some.length >> 1);
}

// Loops of their own: what stands beside them would be thrown away, compiled, each time that they end.

function takeOff(a: Float32Array, b: Float32Array, out: Float32Array): void {
  for (let i = 0; i < out.length; i++) out[i] = a[i] - b[i];
}

function sizesOf(values: Float32Array, step: number, sizes: Float32Array): void {
  for (let i = 0, k = 0; i < sizes.length; i++, k += step) sizes[i] = Math.abs(values[k]);
}
