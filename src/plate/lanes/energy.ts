import { singleRoom } from "../../math/room.ts";
import { selectAt } from "../../math/select.ts";
import { boxBlurInto } from "../../raster/blur.ts";
import type { Plane } from "../../raster/picture.ts";
import type { SignalMap } from "../view.ts";

/** Signal counts from this many noise widths on, and grows with its logarithm: a heavy spot must not outvote ten faint ones. */
const FLOOR = 3;
/** Half the width, as a share of the plate's, of the surroundings that a spot must stand out of: blotches do not. */
const AROUND = 0.09;
/** The outermost share of the width at each side shows the plate's edge, not spots. */
const RIM = 0.015;
/** Of these rows one tells as much as all: the signal is smoothed over more. */
const EVERY = 2;

const smoothRoom = singleRoom();
const aroundRoom = singleRoom();
const energyRoom = singleRoom();

/**
 * Where spots are, all photos of a plate together: per pixel the signal in noise widths, with what every lane shares
 * (front band, pencil lines, tilted ground) and broad blotches taken off row by row, on a logarithmic scale. Every
 * other row alone is filled. Good until the next plate's.
 */
export function spotEnergy(maps: readonly SignalMap[]): Plane {
  const { width, height } = maps[0];
  const out = { width, height, data: energyRoom(width * height).fill(0) };
  const rx = Math.max(1, Math.round(width / 160));
  const rim = Math.round(RIM * width);
  const aspects = maps.flatMap((m) => [{ plane: m.mix, noise: m.noise }, ...(m.counter ? [m.counter] : [])]);
  for (const { plane, noise } of aspects) {
    const around = { width, height, data: aroundRoom(width * height) };
    const smooth = { width, height, data: smoothRoom(width * height) };
    boxBlurInto(plane, rx, rx, around.data);
    boxBlurInto(around, rx, rx, smooth.data);
    boxBlurInto(smooth, Math.round(AROUND * width), 0, around.data);
    const row = new Float32Array(Math.floor(width / 5));
    for (let y = 0; y < height; y += EVERY) {
      const o = y * width;
      for (let k = 0; k < row.length; k++) row[k] = smooth.data[o + 5 * k + 2];
      const shared = Math.max(selectAt(row, Math.floor(row.length * 0.3)), 0);
      addEnergy(smooth.data, around.data, shared, FLOOR * noise, o + rim, o + width - rim, out.data);
    }
  }
  return out;
}

/** One row of it; a function of its own, which the engine compiles early. */
function addEnergy(
  smooth: Float32Array,
  around: Float32Array,
  shared: number,
  floor: number,
  from: number,
  to: number,
  out: Float32Array,
): void {
  for (let i = from; i < to; i++) {
    const z = (smooth[i] - Math.max(shared, around[i])) / floor;
    if (z > 1) out[i] = Math.max(out[i], Math.log2(z) + 0.5);
  }
}

/**
 * Energy per column of a sheared plate: lanes that lean by `shear` (sideways way over way up, plate pixels) become
 * upright. Rows from y0 to y1 count; the pivot is y1.
 */
export function columnEnergy(energy: Plane, y0: number, y1: number, shear: number): Float64Array {
  const { width } = energy;
  const sums = new Float64Array(width);
  for (let y = y0 + (y0 % EVERY); y < y1; y += EVERY) {
    const shift = Math.round(shear * (y1 - y));
    addShifted(energy.data, y * width + shift, Math.max(0, -shift), Math.min(width, width - shift), sums);
  }
  return sums;
}

function addShifted(data: Float32Array, o: number, from: number, to: number, sums: Float64Array): void {
  for (let x = from; x < to; x++) sums[x] += data[o + x];
}
