import { selectAt } from "../math/select.ts";
import { boxBlur } from "./blur.ts";
import type { Plane } from "./picture.ts";
import { detrend } from "./trend.ts";

/** What stands out from an even ground, fine and soft apart; the radii suit patches of about 200 pixels. */
export interface Relief {
  /** Median code of the plane. */
  readonly level: number;
  /** Difference from the mean of 7 x 7 pixels: narrow marks. */
  readonly fine: Float32Array;
  /** Difference of the mean of 5 x 5 pixels from a wide mean: soft blobs. */
  readonly coarse: Float32Array;
  /** Usual size of `fine`, about its standard deviation where nothing is drawn; at least 0.4 codes. */
  readonly fineSpread: number;
  /** Usual size of `coarse`, a little above its standard deviation where nothing is; at least 0.25 codes. */
  readonly coarseSpread: number;
}

/** Takes the smooth light off a plane of codes and parts what is left by size. */
export function reliefOf(raw: Plane): Relief {
  const plane = detrend(raw);
  const near = boxBlur(plane, 3, 3);
  const wide = boxBlur(boxBlur(plane, 22, 22), 16, 16);
  const soft = boxBlur(plane, 2, 2);
  const n = plane.data.length;
  const fine = new Float32Array(n);
  const coarse = new Float32Array(n);
  for (let i = 0; i < n; i++) {
    fine[i] = plane.data[i] - near.data[i];
    coarse[i] = soft.data[i] - wide.data[i];
  }
  return {
    level: median(raw.data, 1),
    fine,
    coarse,
    fineSpread: Math.max(0.4, 1.48 * median(fine, 3)),
    coarseSpread: Math.max(0.25, 1.6 * median(coarse, 3)),
  };
}

/** Median of the sizes of every `step`th value. */
function median(values: Float32Array, step: number): number {
  const some = new Float32Array(Math.ceil(values.length / step));
  for (let i = 0, k = 0; i < some.length; i++, k += step) some[i] = values[k] < 0 ? -values[k] : values[k];
  return selectAt(some, some.length >> 1);
}
