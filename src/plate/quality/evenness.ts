import { LINEAR_OF_CODE } from "../../raster/linear.ts";

const CELLS = 8;

/**
 * Darkest over brightest part of the smooth background, 0..1, in linear light.
 * The layer is cut into 8 x 8 cells; each cell's median is blind to spots that fill less than half of it, and the
 * 5th and 95th of a hundred cells stand for darkest and brightest.
 * @param codes n x n samples of the layer, sRGB codes interleaved
 * @param clipped share of clipped pixels a channel; channels clipped on more than half are left out where one is better
 */
export function evennessOf(codes: Uint8Array, n: number, clipped: readonly number[]): number {
  const usable = [0, 1, 2].filter((c) => clipped[c] < 0.5);
  const channels = usable.length > 0 ? usable : [0, 1, 2];
  const size = Math.floor(n / CELLS);
  const levels: number[] = [];
  for (let cy = 0; cy < CELLS; cy++) {
    for (let cx = 0; cx < CELLS; cx++) {
      const values = new Float64Array(size * size);
      let k = 0;
      for (let y = cy * size; y < (cy + 1) * size; y++) {
        for (let x = cx * size; x < (cx + 1) * size; x++) {
          let light = 0;
          for (const c of channels) light += LINEAR_OF_CODE[codes[3 * (y * n + x) + c]];
          values[k++] = light;
        }
      }
      values.sort();
      levels.push(values[values.length >> 1]);
    }
  }
  levels.sort((a, b) => a - b);
  const at = (share: number) => levels[Math.round(share * (levels.length - 1))];
  const bright = at(0.95);
  return bright > 0 ? at(0.05) / bright : 1;
}
