import { selectAt } from "../math/select.ts";
import { boxBlurInto } from "./blur.ts";
import { openInPlace } from "./morphology.ts";
import { makePlane, type Plane } from "./picture.ts";
import { workingRoom } from "./workingRoom.ts";

/** A mark whose opening keeps less than this share of it is a stroke; a round spot twice as wide keeps about 0.8. */
const KEPT = 0.5;

const softRoom = workingRoom();
const openedRoom = workingRoom();

/**
 * Parts thin marks (pencil, scratches, dust) from broad ones: the white top-hat (Meyer 1979), which is what an opening
 * with a square of 2 * reach + 1 pixels takes away. Where it takes most of the signal the opened value stays.
 */
export function splitStrokes(plane: Plane, reach: number): { spots: Plane; strokes: Plane; noise: number } {
  const { width, height, data } = plane;
  const soft = softRoom(data.length);
  const opened = openedRoom(data.length);
  boxBlurInto(plane, 1, 1, soft);
  opened.set(soft);
  openInPlace(opened, width, reach, reach);
  const { median: lift, spread } = topHatLevel(soft, opened);
  const spots = makePlane(width, height);
  const strokes = makePlane(width, height);
  spots.data.set(data);
  for (let i = 0; i < data.length; i++) {
    const hat = soft[i] - opened[i] - lift;
    const level = soft[i];
    // A ridge of bare ground between two signals of the other sign is no mark: the mark itself must stand above ground.
    const thin = hat > 4 * spread && hat > (1 - KEPT) * level && level > 0.5 * hat;
    if (!thin) continue;
    spots.data[i] = Math.min(opened[i] + lift, data[i]);
    strokes.data[i] = hat;
  }
  return { spots, strokes, noise: spread };
}

/** What noise alone makes of the top-hat: its median and lower spread. */
function topHatLevel(soft: Float32Array, opened: Float32Array): { median: number; spread: number } {
  const sample = new Float32Array(Math.ceil(soft.length / 13));
  for (let i = 0, k = 0; i < soft.length; i += 13) sample[k++] = soft[i] - opened[i];
  const median = selectAt(sample, sample.length >> 1);
  const low = selectAt(sample.subarray(0, sample.length >> 1), Math.floor(sample.length * 0.16));
  return { median, spread: Math.max(median - low, 5e-4) };
}
