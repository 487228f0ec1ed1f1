import { singleRoom } from "../math/room.ts";
import { memoryFor, ROOM, vectorCode } from "../math/simd/index.ts";
import { type FourPoints, type Homography, homographyFrom, rectangle } from "./homography.ts";
import { LINEAR_OF_CODE, linearToSrgb } from "./linear.ts";
import { layPixels, partWithin } from "./part.ts";
import type { Picture, Plane } from "./picture.ts";

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

const rooms = [singleRoom(), singleRoom(), singleRoom()] as const;

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
  if (factor === 1) sampleCodes(picture, corners, h, patch);
  else sampleBlocks(picture, corners, factor, h, patch);
  return patch;
}

/** The same, encoded again as 8-bit sRGB: for showing. */
export function warpPicture(picture: Picture, corners: FourPoints, width: number, height: number): Picture {
  const { r, g, b } = warpLinear(picture, corners, width, height);
  const size = width * height;
  const [light, encoded, out] = [ROOM, ROOM + 12 * size, ROOM + 12 * size + ENCODED.length];
  const memory = memoryFor(out + 3 * size - ROOM);
  [r, g, b].forEach(({ data }, c) => {
    memory.set(data, light / 4 + c * size);
  });
  const bytes = new Uint8Array(memory.buffer);
  bytes.set(ENCODED, encoded);
  vectorCode().encodeCodes(light, size, encoded, ENCODED_STEPS, out);
  return { width, height, data: bytes.slice(out, out + 3 * size) };
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

/** Linear light of each 8-bit code again: in double precision the engine need not convert what it adds up. */
const LINEAR = Float64Array.from(LINEAR_OF_CODE);

/** Where the vector code finds and puts what it needs for a patch: addresses in its memory. */
interface PatchRoom {
  /** What each code is in linear light, and the bits that it sets. */
  readonly linear: number;
  readonly limits: number;
  /** The homography and four numbers more. */
  readonly place: number;
  readonly out: number;
  /** What comes behind these is whose patch it is. */
  readonly free: number;
}

/** @param size pixels of the patch */
function patchRoom(size: number): PatchRoom {
  const linear = ROOM;
  const place = linear + 8 * LINEAR.length;
  const limits = place + 8 * 13;
  const out = limits + LIMIT.length;
  return { linear, place, limits, out, free: out + 4 * Math.ceil((13 * size) / 4) };
}

/** Lays down the tables, the homography and what else tells the place. */
function layTables({ buffer }: Float32Array, room: PatchRoom, place: readonly number[]): void {
  new Float64Array(buffer, room.linear, LINEAR.length).set(LINEAR);
  new Float64Array(buffer, room.place, place.length).set(place);
  new Uint8Array(buffer, room.limits, LIMIT.length).set(LIMIT);
}

/** Takes the patch out. */
function takePatch(memory: Float32Array, { out }: PatchRoom, { r, g, b, clipped }: LinearPatch): void {
  const size = clipped.length;
  [r, g, b].forEach(({ data }, c) => {
    data.set(memory.subarray(out / 4 + c * size, out / 4 + (c + 1) * size));
  });
  clipped.set(new Uint8Array(memory.buffer, out + 12 * size, size));
}

/** Bilinear in the 8-bit picture itself: the usual case. */
function sampleCodes(picture: Picture, corners: FourPoints, h: Homography, patch: LinearPatch): void {
  const part = partWithin(picture, corners, 2);
  const [x0, y0, x1, y1] = part;
  const { width, height } = patch.r;
  const room = patchRoom(width * height);
  const memory = memoryFor(room.free + 3 * (x1 - x0) * (y1 - y0) + 1 - ROOM);
  layTables(memory, room, [...h, x0, y0, x1 - 1, y1 - 1]);
  layPixels(new Uint8Array(memory.buffer), picture, part, room.free);
  vectorCode().sampleCodes(room.free, x1 - x0, room.linear, room.limits, room.place, width, height, room.out);
  takePatch(memory, room, patch);
}

/** Bilinear between averaged blocks of `step` x `step` pixels, of the part of the picture that the patch needs. */
function sampleBlocks(picture: Picture, corners: FourPoints, step: number, h: Homography, patch: LinearPatch): void {
  const [x0, y0, x1, y1] = partWithin(picture, corners, 2 * step);
  const [w, rows] = [Math.ceil((x1 - x0) / step), Math.ceil((y1 - y0) / step)];
  const across = Math.min(x0 + w * step, picture.width) - x0;
  const { width, height } = patch.r;
  const room = patchRoom(width * height);
  const light = room.free;
  // one value more is read behind the last block
  const mask = light + 12 * w * rows + 4;
  const pixels = mask + w * rows;
  const memory = memoryFor(pixels + 3 * step * across - ROOM);
  layTables(memory, room, [...h, x0, y0, 1 / step]);
  const bytes = new Uint8Array(memory.buffer);
  const code = vectorCode();
  for (let y = 0; y < rows; y++) {
    const first = y0 + y * step;
    const last = Math.min(first + step, picture.height);
    layPixels(bytes, picture, [x0, first, x0 + across, last], pixels);
    const [to, bits] = [light + 12 * y * w, mask + y * w];
    code.averageBlocks(pixels, across, last - first, step, room.linear, room.limits, to, bits);
  }
  code.sampleBlocks(light, mask, w, rows, room.place, width, height, room.out);
  takePatch(memory, room, patch);
}
