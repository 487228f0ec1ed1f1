import type { Quad } from "../../model/index.ts";
import { boxBlur } from "../../raster/blur.ts";
import { makePlane, type Picture, type Plane } from "../../raster/picture.ts";
import { warpLinear } from "../../raster/warp.ts";

/** What stands out on a plate, whatever its sign and light: spots, pencil, scratches. 0 where nothing does. */
export type Look = Plane;

/** Pixels of the longer side: a spot covers about ten. */
const LONG_SIDE = 200;
/** Shares of the longer side: what is near enough to be ground, and the rim, which looks alike on every plate. */
const GROUND = 0.02;
const RIM = 0.04;
/** Standard deviations of the layer from which something stands out, and beyond which no more counts. */
const STANDS_OUT = 1;
const MOST = 4;
/** Relative light that 8-bit codes do not resolve, and what is added to a dark layer's own. */
const CODE = 0.004;
const DARK = 0.01;

/** Width and height, in pixels, of the looks at an outline. */
export function lookSize(quad: Quad): { width: number; height: number } {
  const side = (i: number, j: number) => Math.hypot(quad[i][0] - quad[j][0], quad[i][1] - quad[j][1]);
  const across = side(0, 1) + side(3, 2);
  const down = side(0, 3) + side(1, 2);
  const scale = LONG_SIDE / Math.max(across, down);
  return { width: Math.max(24, Math.round(across * scale)), height: Math.max(24, Math.round(down * scale)) };
}

/**
 * What stands out within an outline: per pixel the largest relative change of a channel against its surroundings, in
 * standard deviations of the layer, whether brighter or darker. A plate keeps it under another light.
 * @param quad corners in pixels of the picture, clockwise
 */
export function lookAtOutline(
  picture: Picture,
  quad: Quad,
  { width, height }: { width: number; height: number },
): Look {
  const { r, g, b } = warpLinear(picture, quad, width, height);
  const most = makePlane(width, height);
  const reach = Math.max(2, Math.round(GROUND * Math.max(width, height)));
  for (const channel of [r, g, b]) {
    const fine = boxBlur(channel, 1, 1);
    const ground = boxBlur(channel, reach, reach);
    const change = fine.data.map((v, i) => Math.abs(v - ground.data[i]) / (ground.data[i] + DARK));
    const spread = 1.48 * medianOf(change) + CODE;
    change.forEach((d, i) => {
      const z = Math.min(MOST, d / spread - STANDS_OUT);
      if (z > most.data[i]) most.data[i] = z;
    });
  }
  clearRim(most, Math.round(RIM * Math.max(width, height)));
  return boxBlur(boxBlur(most, 1, 1), 1, 1);
}

/** Correlation of two looks of one size, -1..1: near 1 where the same things stand out at the same places. */
export function likeness(a: Look, b: Look): number {
  const n = a.data.length;
  const [p, q] = [mean(a), mean(b)];
  let [pq, pp, qq] = [0, 0, 0];
  for (let i = 0; i < n; i++) {
    const [x, y] = [a.data[i] - p, b.data[i] - q];
    pq += x * y;
    pp += x * x;
    qq += y * y;
  }
  return pp > 0 && qq > 0 ? pq / Math.sqrt(pp * qq) : 0;
}

/** The same outline seen from the far side. */
export function halfTurned({ width, height, data }: Look): Look {
  return { width, height, data: data.slice().reverse() };
}

function clearRim({ width, height, data }: Plane, rim: number): void {
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      if (y < rim || y >= height - rim || x < rim || x >= width - rim) data[y * width + x] = 0;
}

function mean({ data }: Plane): number {
  return data.reduce((sum, v) => sum + v, 0) / data.length;
}

function medianOf(values: Float32Array): number {
  return values.slice().sort()[values.length >> 1];
}
