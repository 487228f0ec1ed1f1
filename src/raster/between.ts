import type { Plane } from "./picture.ts";

/** The plane between its pixels (bilinear), whose middles lie at whole numbers here; 0 outside. */
export function valueBetween({ width, height, data }: Plane, x: number, y: number): number {
  const [u, v] = [Math.floor(x), Math.floor(y)];
  if (u < 0 || v < 0 || u >= width - 1 || v >= height - 1) return 0;
  const i = v * width + u;
  const [a, b] = [x - u, y - v];
  return (1 - b) * ((1 - a) * data[i] + a * data[i + 1]) + b * ((1 - a) * data[i + width] + a * data[i + width + 1]);
}
