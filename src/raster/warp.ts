import { type FourPoints, type Homography, homographyFrom, rectangle } from "./homography.ts";
import { LINEAR_OF_CODE, linearToSrgb } from "./linear.ts";
import type { Picture, Plane } from "./picture.ts";
import { makePlane } from "./picture.ts";
import { workingRoom } from "./workingRoom.ts";

/** Straightened linear light, with a note per pixel on channels that could not be trusted. */
export interface LinearPatch {
  /** Linear light, 0..1. */
  readonly r: Plane;
  readonly g: Plane;
  readonly b: Plane;
  /** Bit mask over all contributing source pixels: 1, 2, 4 a channel (r, g, b) at 250 or above; 8, 16, 32 at 2 or below. */
  readonly clipped: Uint8Array;
}

/** Bit 1 for a code at 250 or above, bit 8 for one at 2 or below; shifted by one for green, by two for blue. */
const LIMIT = Uint8Array.from({ length: 256 }, (_, code) => (code >= 250 ? 1 : code <= 2 ? 8 : 0));

/**
 * Cuts a quadrilateral out of a picture and straightens it, in linear light. Corner coordinates count from the outer
 * corner of the first pixel (a pixel's centre lies at .5). Bilinear where the source is about as coarse as the target;
 * where it is finer, whole blocks of source pixels are averaged first, so that nothing aliases.
 * Outside the picture its border pixels repeat.
 * @param corners top-left, top-right, bottom-right, bottom-left of the patch, in source pixels
 * @throws RangeError where the corners are no quadrilateral
 */
export function warpLinear(picture: Picture, corners: FourPoints, width: number, height: number): LinearPatch {
  const clipped = new Uint8Array(width * height);
  const [r, g, b] = [makePlane(width, height), makePlane(width, height), makePlane(width, height)];
  return warpInto(picture, corners, { r, g, b, clipped });
}

function warpInto(picture: Picture, corners: FourPoints, patch: LinearPatch): LinearPatch {
  const { width, height } = patch.r;
  const factor = blockFactor(corners, width, height);
  const h = homographyFrom(rectangle(width, height), corners);
  if (!h) throw new RangeError("The four corners do not span a quadrilateral.");
  if (factor === 1) sampleCodes(picture, h, patch);
  else sampleBlocks(blockSource(picture, corners, factor), h, patch);
  return patch;
}

const rooms = [workingRoom(), workingRoom(), workingRoom()] as const;

/** The same as `warpLinear`, encoded again as 8-bit sRGB: for showing. */
export function warpPicture(picture: Picture, corners: FourPoints, width: number, height: number): Picture {
  const [r, g, b] = rooms.map((room) => ({ width, height, data: room(width * height) }));
  warpInto(picture, corners, { r, g, b, clipped: new Uint8Array(width * height) });
  const data = new Uint8Array(width * height * 3);
  for (let i = 0, o = 0; i < r.data.length; i++) {
    data[o++] = ENCODED[(r.data[i] * ENCODED_STEPS + 0.5) | 0];
    data[o++] = ENCODED[(g.data[i] * ENCODED_STEPS + 0.5) | 0];
    data[o++] = ENCODED[(b.data[i] * ENCODED_STEPS + 0.5) | 0];
  }
  return { width, height, data };
}

const ENCODED_STEPS = 8192;
const ENCODED = Uint8Array.from({ length: ENCODED_STEPS + 1 }, (_, i) =>
  Math.round(linearToSrgb(i / ENCODED_STEPS) * 255),
);

/** A linear, masked copy of the part of a picture that a patch needs; (x0, y0) is its corner, `step` its pixel size. */
interface Source {
  readonly width: number;
  readonly height: number;
  readonly x0: number;
  readonly y0: number;
  readonly step: number;
  /** r, g, b interleaved */
  readonly light: Float32Array;
  readonly mask: Uint8Array;
}

/** How many source pixels, in each direction, fall on one target pixel: 1 up to about 1.5. */
function blockFactor(corners: FourPoints, width: number, height: number): number {
  const side = (i: number, j: number) => Math.hypot(corners[i][0] - corners[j][0], corners[i][1] - corners[j][1]);
  const across = (side(0, 1) + side(3, 2)) / 2 / width;
  const down = (side(0, 3) + side(1, 2)) / 2 / height;
  return Math.max(1, Math.round(Math.min(across, down)));
}

function box(picture: Picture, corners: FourPoints, margin: number): [number, number, number, number] {
  const xs = corners.map((c) => c[0]);
  const ys = corners.map((c) => c[1]);
  const clamp = (v: number, top: number) => Math.max(0, Math.min(top, v));
  const x0 = clamp(Math.floor(Math.min(...xs)) - margin, picture.width - 1);
  const y0 = clamp(Math.floor(Math.min(...ys)) - margin, picture.height - 1);
  const x1 = clamp(Math.ceil(Math.max(...xs)) + margin, picture.width);
  const y1 = clamp(Math.ceil(Math.max(...ys)) + margin, picture.height);
  return [x0, y0, Math.max(x1, x0 + 1), Math.max(y1, y0 + 1)];
}

const lightRoom = workingRoom();

function blockSource(picture: Picture, corners: FourPoints, step: number): Source {
  const [x0, y0, x1, y1] = box(picture, corners, 2 * step);
  const width = Math.ceil((x1 - x0) / step);
  const height = Math.ceil((y1 - y0) / step);
  const light = lightRoom(width * height * 3);
  const mask = new Uint8Array(width * height);
  const source = { width, height, x0, y0, step, light, mask };
  for (let y = 0; y < height; y++) averageRow(picture, source, y);
  return source;
}

/** Linear light of each 8-bit code again: in double precision the engine need not convert what it adds up. */
const LINEAR = Float64Array.from(LINEAR_OF_CODE);

/** Means of one row of blocks, and which of their pixels are clipped. */
function averageRow(picture: Picture, { width, x0, y0, step, light, mask }: Source, y: number): void {
  const { data, width: across } = picture;
  // Local names: the engine reads them faster than a module's.
  const linear = LINEAR;
  const limit = LIMIT;
  const yStart = y0 + y * step;
  const yEnd = Math.min(yStart + step, picture.height);
  for (let x = 0, m = y * width, o = 3 * m; x < width; x++, m++, o += 3) {
    const xStart = x0 + x * step;
    const xEnd = Math.min(xStart + step, across);
    let r = 0;
    let g = 0;
    let b = 0;
    let bits = 0;
    for (let yy = yStart; yy < yEnd; yy++) {
      for (let p = (yy * across + xStart) * 3, end = (yy * across + xEnd) * 3; p < end; p += 3) {
        const cr = data[p];
        const cg = data[p + 1];
        const cb = data[p + 2];
        r += linear[cr];
        g += linear[cg];
        b += linear[cb];
        bits |= limit[cr] | (limit[cg] << 1) | (limit[cb] << 2);
      }
    }
    const share = 1 / ((yEnd - yStart) * (xEnd - xStart));
    light[o] = r * share;
    light[o + 1] = g * share;
    light[o + 2] = b * share;
    mask[m] = bits;
  }
}

/** Bilinear in the 8-bit picture itself: the usual case, and the quick one. */
function sampleCodes(picture: Picture, h: Homography, patch: LinearPatch): void {
  for (let y = 0; y < patch.r.height; y++) sampleCodeRow(picture, h, patch, y);
}

function sampleCodeRow(picture: Picture, h: Homography, patch: LinearPatch, y: number): void {
  const { data, width: w } = picture;
  const lastX = w - 1;
  const lastY = picture.height - 1;
  const { width, data: r } = patch.r;
  const g = patch.g.data;
  const b = patch.b.data;
  const { clipped } = patch;
  // Local names: the engine reads them faster than a module's.
  const linear = LINEAR;
  const limit = LIMIT;
  const [h0, h1, h2, h3, h4, h5, h6, h7, h8] = h;
  const yc = y + 0.5;
  const [ya, yb, yk] = [h1 * yc, h4 * yc, h7 * yc];
  for (let x = 0, o = y * width; x < width; x++, o++) {
    const xc = x + 0.5;
    const k = 1 / (h6 * xc + yk + h8);
    const sx = Math.max(0, Math.min(lastX, (h0 * xc + ya + h2) * k - 0.5));
    const sy = Math.max(0, Math.min(lastY, (h3 * xc + yb + h5) * k - 0.5));
    const ix = sx | 0;
    const iy = sy | 0;
    const fx = sx - ix;
    const fy = sy - iy;
    const p = 3 * (iy * w + ix);
    const p3 = ix < lastX ? p + 3 : p;
    const q = iy < lastY ? p + 3 * w : p;
    const q3 = q + p3 - p;
    const w11 = fx * fy;
    const w01 = fy - w11;
    const w10 = fx - w11;
    const w00 = 1 - fx - w01;
    let c00 = data[p];
    let c10 = data[p3];
    let c01 = data[q];
    let c11 = data[q3];
    r[o] = w00 * linear[c00] + w10 * linear[c10] + w01 * linear[c01] + w11 * linear[c11];
    let bits = limit[c00] | limit[c10] | limit[c01] | limit[c11];
    c00 = data[p + 1];
    c10 = data[p3 + 1];
    c01 = data[q + 1];
    c11 = data[q3 + 1];
    g[o] = w00 * linear[c00] + w10 * linear[c10] + w01 * linear[c01] + w11 * linear[c11];
    bits |= (limit[c00] | limit[c10] | limit[c01] | limit[c11]) << 1;
    c00 = data[p + 2];
    c10 = data[p3 + 2];
    c01 = data[q + 2];
    c11 = data[q3 + 2];
    b[o] = w00 * linear[c00] + w10 * linear[c10] + w01 * linear[c01] + w11 * linear[c11];
    clipped[o] = bits | ((limit[c00] | limit[c10] | limit[c01] | limit[c11]) << 2);
  }
}

/** Bilinear between averaged blocks. */
function sampleBlocks(source: Source, h: Homography, patch: LinearPatch): void {
  for (let y = 0; y < patch.r.height; y++) sampleBlockRow(source, h, patch, y);
}

function sampleBlockRow(
  { light, mask, width: w, height: rows, x0, y0, step }: Source,
  h: Homography,
  patch: LinearPatch,
  y: number,
): void {
  const scale = 1 / step;
  const lastX = w - 1;
  const lastY = rows - 1;
  const { width, data: r } = patch.r;
  const g = patch.g.data;
  const b = patch.b.data;
  const { clipped } = patch;
  const [h0, h1, h2, h3, h4, h5, h6, h7, h8] = h;
  const yc = y + 0.5;
  const [ya, yb, yk] = [h1 * yc, h4 * yc, h7 * yc];
  for (let x = 0, o = y * width; x < width; x++, o++) {
    const xc = x + 0.5;
    const k = 1 / (h6 * xc + yk + h8);
    const sx = Math.max(0, Math.min(lastX, ((h0 * xc + ya + h2) * k - x0) * scale - 0.5));
    const sy = Math.max(0, Math.min(lastY, ((h3 * xc + yb + h5) * k - y0) * scale - 0.5));
    const ix = sx | 0;
    const iy = sy | 0;
    const fx = sx - ix;
    const fy = sy - iy;
    const m = iy * w + ix;
    const right = ix < lastX ? 1 : 0;
    const down = iy < lastY ? w : 0;
    const p = 3 * m;
    const p3 = p + 3 * right;
    const q = p + 3 * down;
    const q3 = q + 3 * right;
    const w11 = fx * fy;
    const w01 = fy - w11;
    const w10 = fx - w11;
    const w00 = 1 - fx - w01;
    r[o] = w00 * light[p] + w10 * light[p3] + w01 * light[q] + w11 * light[q3];
    g[o] = w00 * light[p + 1] + w10 * light[p3 + 1] + w01 * light[q + 1] + w11 * light[q3 + 1];
    b[o] = w00 * light[p + 2] + w10 * light[p3 + 2] + w01 * light[q + 2] + w11 * light[q3 + 2];
    clipped[o] = mask[m] | mask[m + right] | mask[m + down] | mask[m + down + right];
  }
}
