import { makePlane, type Plane } from "./picture.ts";

/** Means over blocks of factor x factor pixels; a rest at the right or lower border that fills no block is left out. */
export function blockMeans(plane: Plane, factor: number): Plane {
  const width = Math.floor(plane.width / factor);
  const height = Math.floor(plane.height / factor);
  const out = makePlane(width, height);
  const { data } = plane;
  const means = out.data;
  const norm = 1 / (factor * factor);
  for (let y = 0; y < height; y++) {
    const o = y * width;
    for (let dy = 0; dy < factor; dy++) {
      let i = (y * factor + dy) * plane.width;
      for (let x = 0; x < width; x++) {
        let s = 0;
        for (let dx = 0; dx < factor; dx++) s += data[i++];
        means[o + x] += s;
      }
    }
    for (let x = 0; x < width; x++) means[o + x] *= norm;
  }
  return out;
}
