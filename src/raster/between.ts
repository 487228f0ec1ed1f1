import type { Plane } from "./picture.ts";

function between(data: Float32Array, width: number, height: number, x: number, y: number): number {
  const u = Math.floor(x);
  const v = Math.floor(y);
  if (u < 0 || v < 0 || u >= width - 1 || v >= height - 1) return 0;
  const i = v * width + u;
  const a = x - u;
  const b = y - v;
  return (1 - b) * ((1 - a) * data[i] + a * data[i + 1]) + b * ((1 - a) * data[i + width] + a * data[i + width + 1]);
}

/** The plane between its pixels (bilinear), whose middles lie at whole numbers here; 0 outside. */
export function valueBetween({ width, height, data }: Plane, x: number, y: number): number {
  return between(data, width, height, x, y);
}

/** The same at equal steps from (x, y): `out[k]` is what lies k steps of (dx, dy) on, from k = `first` on. */
export function valuesBetween(
  { width, height, data }: Plane,
  x: number,
  y: number,
  dx: number,
  dy: number,
  first: number,
  out: Float32Array,
): void {
  for (let k = first; k < out.length; k++) out[k] = between(data, width, height, x + k * dx, y + k * dy);
}
