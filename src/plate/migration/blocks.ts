import { selectAt } from "../../math/select.ts";
import type { Plane } from "../../raster/picture.ts";

/** Vertical profiles of a plate cut into upright stripes: profile b at row y is data[b * height + y]. */
export interface Stripes {
  readonly count: number;
  readonly height: number;
  readonly data: Float32Array;
}

/** Means over `count` stripes of equal width, leaving `margin` (fraction of the width) at both sides. */
export function stripesOf(plane: Plane, count: number, margin: number): Stripes {
  const { width, height } = plane;
  const data = new Float32Array(count * height);
  for (let b = 0; b < count; b++) {
    const x0 = Math.round(width * (margin + ((1 - 2 * margin) * b) / count));
    const x1 = Math.max(x0 + 1, Math.round(width * (margin + ((1 - 2 * margin) * (b + 1)) / count)));
    for (let y = 0; y < height; y++) {
      let s = 0;
      for (let x = x0, o = y * width; x < x1; x++) s += plane.data[o + x];
      data[b * height + y] = s / (x1 - x0);
    }
  }
  return { count, height, data };
}

/** Centre of stripe b as a fraction of the plate's width. */
export function stripeCentre(b: number, count: number, margin: number): number {
  return margin + ((1 - 2 * margin) * (b + 0.5)) / count;
}

/** How far a row stands out from the rows `reach` above and below: min of both differences. Signed: a valley is negative. */
export function ridge(stripes: Stripes, reach: number): Stripes {
  const { count, height } = stripes;
  const data = new Float32Array(stripes.data.length);
  for (let b = 0; b < count; b++) {
    const o = b * height;
    for (let y = 0; y < height; y++) {
      const v = stripes.data[o + y];
      const up = stripes.data[o + Math.max(y - reach, 0)];
      const down = stripes.data[o + Math.min(y + reach, height - 1)];
      const a = v - up;
      const c = v - down;
      data[o + y] = a > 0 && c > 0 ? Math.min(a, c) : a < 0 && c < 0 ? Math.max(a, c) : 0;
    }
  }
  return { count, height, data };
}

/** Mean of `reach` rows below less mean of `reach` rows above: positive where it is darker below (wetted layer). */
export function stepDown(stripes: Stripes, reach: number): Stripes {
  const { count, height } = stripes;
  const data = new Float32Array(stripes.data.length);
  const sums = new Float64Array(height + 1);
  for (let b = 0; b < count; b++) {
    const o = b * height;
    for (let y = 0; y < height; y++) sums[y + 1] = sums[y] + stripes.data[o + y];
    for (let y = 0; y < height; y++) {
      const y0 = Math.max(0, y - reach);
      const y1 = Math.min(height, y + reach);
      if (y - y0 < 2 || y1 - y < 2) continue;
      data[o + y] = (sums[y1] - sums[y]) / (y1 - y) - (sums[y] - sums[y0]) / (y - y0);
    }
  }
  return { count, height, data };
}

/** Robust spread of all stripes together (1.4826 times the median absolute value), never 0. */
export function spreadOf(stripes: Stripes): number {
  const sample = new Float32Array(Math.ceil(stripes.data.length / 3));
  let n = 0;
  for (let i = 0; i < stripes.data.length; i += 3) if (stripes.data[i] !== 0) sample[n++] = Math.abs(stripes.data[i]);
  return 1e-6 + (n === 0 ? 0 : 1.4826 * selectAt(sample.subarray(0, n), n >> 1));
}
