import { singleRoom } from "../../math/room.ts";
import { selectAt } from "../../math/select.ts";
import { blockMeans } from "../../raster/blocks.ts";
import { boxBlurInto } from "../../raster/blur.ts";
import { makePlane, type Plane } from "../../raster/picture.ts";
import type { SignalMap } from "../view.ts";

/** A place that stands out of its surroundings as a spot does, in pixels. */
export interface Blob {
  readonly x: number;
  readonly y: number;
  /** Height over its surroundings, in robust standard deviations of what such a window shows elsewhere. */
  readonly z: number;
  /** Full width at half of that height. */
  readonly width: number;
}

/** Half widths of a spot and of its surroundings, as shares of the plate's width. */
const SPOT = 0.009;
const AROUND = 0.04;
/** Surroundings count up to this many noise widths: a heavy neighbour must not hide a faint spot. */
const CAP = 4;
/** Heights below this are the ground. */
const LEAST = 4;
/** Share of the width at each side that is the plate's edge. */
const RIM = 0.012;

/** How far each place rises over its surroundings, at the scale of a spot; one plane of half the size per photo and mix. */
export function spotRises(maps: readonly SignalMap[]): Plane[] {
  return maps.flatMap((m) => [
    rise(m.mix, CAP * m.noise),
    ...(m.counter ? [rise(m.counter.plane, CAP * m.counter.noise)] : []),
  ]);
}

const cappedRoom = singleRoom();
const outerRoom = singleRoom();
const groundRoom = singleRoom();

function rise(plane: Plane, cap: number): Plane {
  // Spots are wide enough to be found at half the size, in a quarter of the time.
  const half = blockMeans(plane, 2);
  const { width, height, data } = half;
  const r = spotRadius(width);
  const inner = makePlane(width, height);
  const capped = { width, height, data: cappedRoom(data.length) };
  const outer = outerRoom(data.length);
  boxBlurInto(half, r, r, outer);
  boxBlurInto({ width, height, data: outer }, r, r, inner.data);
  capInto(data, cap, capped.data);
  const around = Math.round(AROUND * width);
  boxBlurInto(capped, around, around, outer);
  takeOff(outer, inner.data);
  return inner;
}

function capInto(data: Float32Array, cap: number, out: Float32Array): void {
  for (let i = 0; i < out.length; i++) out[i] = Math.max(-cap, Math.min(cap, data[i]));
}

function takeOff(what: Float32Array, from: Float32Array): void {
  for (let i = 0; i < from.length; i++) from[i] -= what[i];
}

const spotRadius = (width: number) => Math.max(1, Math.round(SPOT * width));

/** The tops of such planes in the plate's rows from y0 up to y1, each plane's own ground being its measure. */
export function blobsIn(rises: readonly Plane[], y0: number, y1: number): Blob[] {
  return rises.flatMap((plane) => tops(plane, Math.max(0, y0 >> 1), Math.min(plane.height, y1 >> 1)));
}

function tops({ width, data }: Plane, y0: number, y1: number): Blob[] {
  if (y1 - y0 < 3) return [];
  const r = spotRadius(width);
  const ground = groundRoom(Math.ceil(((y1 - y0) * width) / 7));
  for (let k = 0, i = y0 * width; k < ground.length; k++, i += 7) ground[k] = Math.abs(data[i]);
  const spread = Math.max(1e-6, 1.4826 * selectAt(ground, ground.length >> 1));
  const rim = Math.round(RIM * width);
  const found: Blob[] = [];
  for (let y = y0 + 1; y < y1 - 1; y++)
    for (let x = rim; x < width - rim; x++) {
      const v = data[y * width + x];
      if (v < LEAST * spread || v < data[y * width + x - 1] || v < data[y * width + x + 1]) continue;
      if (isTop(data, width, x, y, Math.max(y0, y - r), Math.min(y1 - 1, y + r), r))
        found.push({ x: 2 * x + 1, y: 2 * y + 1, z: v / spread, width: 2 * halfWidth(data, y * width, x, width, r) });
    }
  return found;
}

/** True where nothing within r is higher; of equal ones the last in reading order counts. */
function isTop(data: Float32Array, width: number, x: number, y: number, from: number, to: number, r: number): boolean {
  const own = y * width + x;
  const v = data[own];
  for (let yy = from; yy <= to; yy++)
    for (let i = yy * width + Math.max(0, x - r), end = yy * width + Math.min(width - 1, x + r); i <= end; i++)
      if (data[i] > v || (data[i] === v && i > own)) return false;
  return true;
}

/** Width of a top at half its height, what the smoothing added taken off in quadrature. */
function halfWidth(data: Float32Array, row: number, x: number, width: number, r: number): number {
  const half = 0.5 * data[row + x];
  let left = x;
  while (left > 0 && data[row + left] > half) left--;
  let right = x;
  while (right < width - 1 && data[row + right] > half) right++;
  // two running means of 2r + 1, each of variance ((2r + 1)^2 - 1) / 12; a bell is 2.355 deviations wide at half height
  const smoothing = (2.355 ** 2 * ((2 * r + 1) ** 2 - 1)) / 6;
  return Math.sqrt(Math.max(1, (right - left) ** 2 - smoothing));
}
