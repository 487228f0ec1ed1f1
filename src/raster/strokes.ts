import { selectAt } from "../math/select.ts";
import { boxBlur } from "./blur.ts";
import { opening } from "./morphology.ts";
import { makePlane, type Plane } from "./picture.ts";

/** A mark whose opening keeps less than this share of it is a stroke; a round spot twice as wide keeps about 0.8. */
const KEPT = 0.5;

/**
 * Parts thin marks (pencil, scratches, dust) from broad ones: the white top-hat (Meyer 1979), which is what an opening
 * with a square of 2 * reach + 1 pixels takes away. Where it takes most of the signal the opened value stays.
 */
export function splitStrokes(plane: Plane, reach: number): { spots: Plane; strokes: Plane; noise: number } {
  const soft = boxBlur(plane, 1, 1);
  const opened = opening(soft, reach, reach);
  const { median: lift, spread } = topHatLevel(soft, opened);
  const spots = makePlane(plane.width, plane.height);
  const strokes = makePlane(plane.width, plane.height);
  for (let i = 0; i < spots.data.length; i++) {
    const hat = soft.data[i] - opened.data[i] - lift;
    const level = soft.data[i];
    // A ridge of bare ground between two signals of the other sign is no mark: the mark itself must stand above ground.
    const thin = hat > 4 * spread && hat > (1 - KEPT) * level && level > 0.5 * hat;
    spots.data[i] = thin ? Math.min(opened.data[i] + lift, plane.data[i]) : plane.data[i];
    strokes.data[i] = thin ? hat : 0;
  }
  return { spots, strokes, noise: spread };
}

/** What noise alone makes of the top-hat: its median and lower spread. */
function topHatLevel(soft: Plane, opened: Plane): { median: number; spread: number } {
  const sample = new Float32Array(Math.ceil(soft.data.length / 13));
  for (let i = 0, k = 0; i < soft.data.length; i += 13) sample[k++] = soft.data[i] - opened.data[i];
  const median = selectAt(sample, sample.length >> 1);
  const low = selectAt(sample.subarray(0, sample.length >> 1), Math.floor(sample.length * 0.16));
  return { median, spread: Math.max(median - low, 5e-4) };
}
