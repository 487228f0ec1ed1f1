import { makePlane, type Plane } from "./picture.ts";

/** Means over blocks of factor x factor pixels; a rest at the right or lower border that fills no block is left out. */
export function blockMeans(plane: Plane, factor: number): Plane {
  const width = Math.floor(plane.width / factor);
  const height = Math.floor(plane.height / factor);
  const out = makePlane(width, height);
  for (let y = 0; y < height; y++) meansOfRow(plane, factor, y, width, out.data);
  return out;
}

/** One row of blocks; a function of its own, which the engine compiles early. */
function meansOfRow(
  { data, width: across }: Plane,
  factor: number,
  y: number,
  width: number,
  means: Float32Array,
): void {
  const norm = 1 / (factor * factor);
  const start = y * factor * across;
  for (let x = 0, o = y * width; x < width; x++, o++) {
    let mean = 0;
    for (let dy = 0, row = start + x * factor; dy < factor; dy++, row += across) {
      let s = 0;
      for (let i = row; i < row + factor; i++) s += data[i];
      mean = Math.fround(mean + s);
    }
    means[o] = mean * norm;
  }
}
