import { selectAt } from "../math/select.ts";
import { boxBlurInto } from "./blur.ts";
import { openInPlace } from "./morphology.ts";
import { makePlane, type Plane } from "./picture.ts";
import { workingRoom } from "./workingRoom.ts";

/** A mark whose opening keeps less than this share of it is a stroke; a round spot twice as wide keeps about 0.8. */
const KEPT = 0.5;

const softRoom = workingRoom();
const openedRoom = workingRoom();

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
  const { soft, opened, lift, spread } = topHat(plane, reach);
  const strokes = makePlane(plane.width, plane.height);
  const { data } = strokes;
  for (let i = 0; i < data.length; i++) {
    const hat = soft[i] - opened[i] - lift;
    if (isThin(hat, soft[i], spread)) data[i] = hat;
  }
  return { strokes, noise: spread };
}

/** Takes the thin marks out of a plane, in place: where they are, the opened value stays. */
export function takeStrokesOut(plane: Plane, reach: number): void {
  const { soft, opened, lift, spread } = topHat(plane, reach);
  const { data } = plane;
  for (let i = 0; i < data.length; i++) {
    const hat = soft[i] - opened[i] - lift;
    if (isThin(hat, soft[i], spread)) data[i] = Math.min(opened[i] + lift, data[i]);
  }
}

function topHatLevel(soft: Float32Array, opened: Float32Array): { median: number; spread: number } {
  const sample = new Float32Array(Math.ceil(soft.length / 13));
  for (let i = 0, k = 0; i < soft.length; i += 13) sample[k++] = soft[i] - opened[i];
  const median = selectAt(sample, sample.length >> 1);
  const low = selectAt(sample.subarray(0, sample.length >> 1), Math.floor(sample.length * 0.16));
  return { median, spread: Math.max(median - low, 5e-4) };
}
