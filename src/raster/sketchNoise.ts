import type { Sketch } from "./shrink.ts";

/**
 * Standard deviation of the pixel noise of a sketch, codes: the median over small blocks of the mean absolute response
 * to the difference of two Laplacians, which is blind to planes and straight edges
 * (J. Immerkaer, Computer Vision and Image Understanding 1996, 64, 300). At least 0.05.
 */
export function sketchNoise(sketch: Sketch): number {
  const { width: w, height: h } = sketch;
  let worst = 0;
  for (const c of [sketch.r, sketch.g, sketch.b]) {
    const means: number[] = [];
    for (let y = 1; y + 8 < h; y += 16)
      for (let x = 1; x + 8 < w; x += 16) means.push(laplacians(c, w, y * w + x) / 64);
    const median = means.length > 0 ? Float64Array.from(means).sort()[means.length >> 1] : 0;
    worst = Math.max(worst, (Math.sqrt(Math.PI / 2) / 6) * median);
  }
  return Math.max(0.05, worst);
}

/**
 * Sum of the sizes of the response over 8 x 8 pixels from place `o` on. The difference of two Laplacians is the second difference across
 * of the second difference down.
 */
function laplacians(c: Float32Array, w: number, o: number): number {
  let sum = 0;
  for (let row = o; row < o + 8 * w; row += w) {
    let before = c[row - w - 1] - 2 * c[row - 1] + c[row + w - 1];
    let here = c[row - w] - 2 * c[row] + c[row + w];
    for (let i = row + 1; i <= row + 8; i++) {
      const after = c[i - w] - 2 * c[i] + c[i + w];
      sum += Math.abs(before - 2 * here + after);
      before = here;
      here = after;
    }
  }
  return sum;
}
