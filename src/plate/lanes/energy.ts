import { boxBlur } from "../../raster/blur.ts";
import { makePlane, type Plane } from "../../raster/picture.ts";
import type { SignalMap } from "../view.ts";

/** Signal above this many noise widths counts no more: one heavy spot must not outvote ten faint ones. */
const CEILING = 6;

/**
 * Where spots are, all photos of a plate together: per pixel the signal in noise widths, with what every lane shares
 * (front band, pencil lines, tilted ground) taken off row by row, clamped to 0..6.
 */
export function spotEnergy(maps: readonly SignalMap[]): Plane {
  const { width, height } = maps[0];
  const out = makePlane(width, height);
  const rx = Math.max(1, Math.round(width / 160));
  for (const map of maps) {
    const smooth = boxBlur(boxBlur(map.mix, rx, rx), rx, rx);
    const row = new Float32Array(width);
    for (let y = 0; y < height; y++) {
      const o = y * width;
      row.set(smooth.data.subarray(o, o + width));
      row.sort();
      const base = Math.max(row[Math.floor(width * 0.3)], 0);
      for (let x = 0; x < width; x++) {
        const z = (smooth.data[o + x] - base) / map.noise - 1.5;
        if (z > 0) out.data[o + x] = Math.max(out.data[o + x], Math.min(z, CEILING));
      }
    }
  }
  return out;
}

/**
 * Energy per column of a sheared plate: lanes that lean by `shear` (sideways way over way up, plate pixels) become
 * upright. Rows from y0 to y1 count; the pivot is y1.
 */
export function columnEnergy(energy: Plane, y0: number, y1: number, shear: number): Float64Array {
  const { width } = energy;
  const sums = new Float64Array(width);
  for (let y = y0; y < y1; y += 2) {
    const shift = Math.round(shear * (y1 - y));
    const o = y * width;
    const from = Math.max(0, -shift);
    const to = Math.min(width, width - shift);
    for (let x = from; x < to; x++) sums[x] += energy.data[o + x + shift];
  }
  return sums;
}
