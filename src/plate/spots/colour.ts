import type { SignalMap } from "../view.ts";

/**
 * Mean signal of red, green and blue around a spot's centre: its hue, for telling substances apart.
 * @param x centre, fraction of the plate's width
 * @param y centre, fraction of the plate's height
 * @param rx half the window across, fraction of the width
 * @param ry half the window along, fraction of the height
 */
export function colourAt(map: SignalMap, x: number, y: number, rx: number, ry: number): [number, number, number] {
  const { width, height } = map;
  const x0 = Math.max(0, Math.floor((x - rx) * width));
  const x1 = Math.min(width - 1, Math.ceil((x + rx) * width));
  const y0 = Math.max(0, Math.floor((y - ry) * height));
  const y1 = Math.min(height - 1, Math.ceil((y + ry) * height));
  const sum: [number, number, number] = [0, 0, 0];
  let n = 0;
  for (let row = y0; row <= y1; row++)
    for (let column = x0; column <= x1; column++) {
      n++;
      for (let c = 0; c < 3; c++) sum[c] += map.channels[c].data[row * width + column];
    }
  return sum.map((s) => s / Math.max(n, 1)) as [number, number, number];
}

/** What the bare layer shows at a place of the plate (fractions); null where that is not known. */
export function bareAt({ bare }: SignalMap, x: number, y: number): [number, number, number] | null {
  if (!bare) return null;
  const { width, height } = bare[0];
  const column = Math.max(0, Math.min(width - 1, Math.floor(x * width)));
  const row = Math.max(0, Math.min(height - 1, Math.floor(y * height)));
  return bare.map(({ data }) => Math.max(0, data[row * width + column])) as [number, number, number];
}
