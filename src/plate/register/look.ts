import type { Quad } from "../../model/index.ts";
import { boxBlur } from "../../raster/blur.ts";
import { homographyFrom, rectangle } from "../../raster/homography.ts";
import { makePlane, type Picture, type Plane } from "../../raster/picture.ts";
import { warpLinear } from "../../raster/warp.ts";

/** What stands out on a plate, whatever its sign and light: spots, pencil, scratches. 0 where nothing does. */
export type Look = Plane;

type Size = Pick<Plane, "width" | "height">;

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
export function lookSize(quad: Quad): Size {
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
export function lookAtOutline(picture: Picture, quad: Quad, { width, height }: Size): Look {
  const seen = standingOut(picture, quad, width, height);
  clearRim(seen, Math.round(RIM * Math.max(width, height)));
  return boxBlur(boxBlur(seen, 1, 1), 1, 1);
}

function standingOut(picture: Picture, quad: Quad, width: number, height: number): Plane {
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
  return most;
}

/** Pixels of the longer side of a whole photo that is looked over: a plate that fills a third of it is looked at as by itself. */
const SURVEY_SIDE = 900;

/**
 * What stands out in a whole photo, so that many outlines can be looked at, each a little less well than by itself.
 * @returns the look at an outline, of the size wanted; null where its corners span no quadrilateral
 */
export function surveyOf(picture: Picture): (quad: Quad, size: Size) => Look | null {
  const scale = Math.min(1, SURVEY_SIDE / Math.max(picture.width, picture.height));
  const [width, height] = [Math.round(picture.width * scale), Math.round(picture.height * scale)];
  const seen = standingOut(picture, rectangle(picture.width, picture.height), width, height);
  const { data } = boxBlur(boxBlur(seen, 1, 1), 1, 1);
  return (quad, size) => {
    const h = homographyFrom(rectangle(size.width, size.height), quad);
    if (!h) return null;
    const look = makePlane(size.width, size.height);
    for (let y = 0; y < size.height; y++)
      for (let x = 0; x < size.width; x++) {
        const [u, v] = [x + 0.5, y + 0.5];
        const w = scale / (h[6] * u + h[7] * v + 1);
        const px = Math.floor((h[0] * u + h[1] * v + h[2]) * w);
        const py = Math.floor((h[3] * u + h[4] * v + h[5]) * w);
        if (px >= 0 && py >= 0 && px < width && py < height) look.data[y * size.width + x] = data[py * width + px];
      }
    clearRim(look, Math.round(RIM * Math.max(size.width, size.height)));
    return look;
  };
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

/** Of every so many values, so that large planes cost no more than small ones. */
const MEDIAN_OF = 20_000;

function medianOf(values: Float32Array): number {
  const step = Math.max(1, Math.floor(values.length / MEDIAN_OF));
  const some = values.filter((_, i) => i % step === 0).sort();
  return some[some.length >> 1];
}
