import { memoryFor, ROOM, vectorCode } from "../math/simd/index.ts";
import { type FourPoints, type Homography, homographyFrom, rectangle } from "./homography.ts";
import { LINEAR_OF_CODE, linearToSrgb } from "./linear.ts";
import type { Picture, Plane } from "./picture.ts";
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

const rooms = [workingRoom(), workingRoom(), workingRoom()] as const;

/**
 * Cuts a quadrilateral out of a picture and straightens it, in linear light. Corner coordinates count from the outer
 * corner of the first pixel (a pixel's centre lies at .5). Bilinear where the source is about as coarse as the target;
 * where it is finer, whole blocks of source pixels are averaged first, so that nothing aliases.
 * Outside the picture its border pixels repeat. What is given is good until the next patch is asked for.
 * @param corners top-left, top-right, bottom-right, bottom-left of the patch, in source pixels
 * @throws RangeError where the corners are no quadrilateral
 */
export function warpLinear(picture: Picture, corners: FourPoints, width: number, height: number): LinearPatch {
  const h = homographyFrom(rectangle(width, height), corners);
  if (!h) throw new RangeError("The four corners do not span a quadrilateral.");
  const [r, g, b] = rooms.map((room) => ({ width, height, data: room(width * height) }));
  const patch = { r, g, b, clipped: new Uint8Array(width * height) };
  const factor = blockFactor(corners, width, height);
  if (factor === 1) sampleCodes(picture, h, patch);
  else sampleBlocks(picture, corners, factor, h, patch);
  return patch;
}

/** The same, encoded again as 8-bit sRGB: for showing. */
export function warpPicture(picture: Picture, corners: FourPoints, width: number, height: number): Picture {
  const { r, g, b } = warpLinear(picture, corners, width, height);
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

/** Linear light of each 8-bit code again: in double precision the engine need not convert what it adds up. */
const LINEAR = Float64Array.from(LINEAR_OF_CODE);

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

/** Where the vector code finds and puts what it needs for a patch: addresses in its memory. */
interface PatchRoom {
  readonly linear: number;
  readonly limits: number;
  readonly place: number;
  readonly pixels: number;
  readonly light: number;
  readonly mask: number;
  readonly out: number;
}

/** Bilinear between averaged blocks of `step` x `step` pixels, of the part of the picture that the patch needs. */
function sampleBlocks(picture: Picture, corners: FourPoints, step: number, h: Homography, patch: LinearPatch): void {
  const [x0, y0, x1, y1] = box(picture, corners, 2 * step);
  const [w, rows] = [Math.ceil((x1 - x0) / step), Math.ceil((y1 - y0) / step)];
  const across = Math.min(x0 + w * step, picture.width) - x0;
  const { width, height } = patch.r;
  const room = patchRoom(w * rows, width * height);
  const memory = memoryFor(room.pixels + 3 * step * across - ROOM);
  const { buffer } = memory;
  new Float64Array(buffer, room.linear, LINEAR.length).set(LINEAR);
  new Float64Array(buffer, room.place, 12).set([...h, x0, y0, 1 / step]);
  const bytes = new Uint8Array(buffer);
  bytes.set(LIMIT, room.limits);
  const code = vectorCode();
  for (let y = 0; y < rows; y++) {
    const first = y0 + y * step;
    const last = Math.min(first + step, picture.height);
    for (let yy = first; yy < last; yy++) {
      const from = 3 * (yy * picture.width + x0);
      bytes.set(picture.data.subarray(from, from + 3 * across), room.pixels + 3 * (yy - first) * across);
    }
    const [light, mask] = [room.light + 12 * y * w, room.mask + y * w];
    code.averageBlocks(room.pixels, across, last - first, step, room.linear, room.limits, light, mask);
  }
  code.sampleBlocks(room.light, room.mask, w, rows, room.place, width, height, room.out);
  const size = width * height;
  const out = room.out / 4;
  [patch.r, patch.g, patch.b].forEach(({ data }, c) => {
    data.set(memory.subarray(out + c * size, out + (c + 1) * size));
  });
  patch.clipped.set(bytes.subarray(room.out + 12 * size, room.out + 13 * size));
}

/** @param blocks how many; `size`: pixels of the patch */
function patchRoom(blocks: number, size: number): PatchRoom {
  const linear = ROOM;
  const place = linear + 8 * LINEAR.length;
  const limits = place + 8 * 12;
  const light = limits + LIMIT.length;
  // one value more is read behind the last block
  const out = light + 12 * blocks + 4;
  const mask = out + 13 * size;
  return { linear, place, limits, light, out, mask, pixels: mask + blocks };
}
