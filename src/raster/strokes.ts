import { singleRoom } from "../math/room.ts";
import { selectAt } from "../math/select.ts";
import { boxBlurInto } from "./blur.ts";
import { openInPlace } from "./morphology.ts";
import { makePlane, type Plane } from "./picture.ts";

/** A mark whose opening keeps less than this share of it is a stroke; a round spot twice as wide keeps about 0.8. */
const KEPT = 0.5;

const softRoom = singleRoom();
const openedRoom = singleRoom();
const sampleRoom = singleRoom();

/** Every such pixel counts for what noise makes of the top-hat. */
const LEVEL_STEP = 13;

interface TopHat {
  /** The plane a little smoothed, and opened: good until the next top-hat. */
  readonly soft: Float32Array;
  readonly opened: Float32Array;
  /** What noise alone makes of the top-hat: its median and lower spread. */
  readonly lift: number;
  readonly spread: number;
}

/**
 * Parts thin marks (pencil, scratches, dust) from broad ones: the white top-hat (Meyer 1979), which is what an opening
 * with a square of 2 * reach + 1 pixels takes away.
 */
function topHat(plane: Plane, reach: number): TopHat {
  const { width, data } = plane;
  const soft = softRoom(data.length);
  const opened = openedRoom(data.length);
  boxBlurInto(plane, 1, 1, soft);
  opened.set(soft);
  openInPlace(opened, width, reach, reach);
  const { median: lift, spread } = topHatLevel(soft, opened);
  return { soft, opened, lift, spread };
}

/**
 * Whether a pixel belongs to a thin mark, whose top-hat `hat` makes most of its signal `level`. A ridge of bare ground
 * between two signals of the other sign is no mark: the mark itself must stand above ground.
 */
function isThin(hat: number, level: number, spread: number): boolean {
  return hat > 4 * spread && hat > (1 - KEPT) * level && level > 0.5 * hat;
}

/** The thin marks alone, 0 elsewhere, and what noise alone makes of them (one standard deviation). */
export function strokesOf(plane: Plane, reach: number): { strokes: Plane; noise: number } {
  const hat = topHat(plane, reach);
  const { width, height } = plane;
  const strokes = makePlane(width, height);
  for (let y = 0; y < height; y++) thinInRow(hat, y * width, (y + 1) * width, strokes.data);
  return { strokes, noise: hat.spread };
}

function thinInRow({ soft, opened, lift, spread }: TopHat, from: number, to: number, strokes: Float32Array): void {
  for (let i = from; i < to; i++) {
    const hat = soft[i] - opened[i] - lift;
    if (isThin(hat, soft[i], spread)) strokes[i] = hat;
  }
}

/** Takes the thin marks out of a plane, in place: where they are, the opened value stays. */
export function takeStrokesOut(plane: Plane, reach: number): void {
  const hat = topHat(plane, reach);
  const { width, height, data } = plane;
  for (let y = 0; y < height; y++) takeOutOfRow(hat, y * width, (y + 1) * width, data);
}

function takeOutOfRow({ soft, opened, lift, spread }: TopHat, from: number, to: number, data: Float32Array): void {
  for (let i = from; i < to; i++) {
    const hat = soft[i] - opened[i] - lift;
    if (isThin(hat, soft[i], spread)) data[i] = Math.min(opened[i] + lift, data[i]);
  }
}

function topHatLevel(soft: Float32Array, opened: Float32Array): { median: number; spread: number } {
  const sample = sampleRoom(Math.ceil(soft.length / LEVEL_STEP));
  sampleHat(soft, opened, sample);
  const median = selectAt(sample, sample.length >> 1);
  const low = selectAt(sample, Math.floor(sample.length * 0.16));
  return { median, spread: Math.max(median - low, 5e-4) };
}

function sampleHat(soft: Float32Array, opened: Float32Array, sample: Float32Array): void {
  for (let k = 0, i = 0; k < sample.length; k++, i += LEVEL_STEP) sample[k] = soft[i] - opened[i];
}
