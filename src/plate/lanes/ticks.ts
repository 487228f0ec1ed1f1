import { lineAt, type MigrationLine } from "../../model/index.ts";
import type { Plane } from "../../raster/picture.ts";
import type { SignalMap } from "../view.ts";

/** Rows beside the origin line in which a tick that crosses it shows, as shares of the plate's height: a thick line reaches out to the first. */
const NEAR = 0.01;
const FAR = 0.028;
/** A line shows in no more than this share of the columns beside itself: what does are ticks. */
const BESIDE = 0.3;
/** Noise widths of a stroke. */
const STROKE = 2;
/** Share of the width at each side where strokes are the plate's edge. */
const RIM = 0.025;

/**
 * Strokes that cross the origin line, per column: the weaker of what stands just above and just below the line, so
 * that figures below it and spots above it do not count. In noise widths, summed over the photos.
 */
export function tickColumns(maps: readonly SignalMap[], origin: MigrationLine): Float64Array {
  const { width, height } = maps[0];
  const out = new Float64Array(width);
  const lines = Float64Array.from(out, (_, x) => lineAt(origin, (x + 0.5) / width) * height);
  for (const map of maps) {
    const near = Math.min(NEAR * height, lineReach(map, lines));
    const sum = (x: number, sign: 1 | -1) => sumBeside(map.strokes, x, lines[x], near, sign);
    for (let x = 0; x < width; x++) out[x] += Math.min(sum(x, 1), sum(x, -1)) / map.strokeNoise;
  }
  return out;
}

/** Rows from the line's curve beyond which the line itself does not show: half of it, and how far it strays. */
function lineReach({ strokes: { width, height, data }, strokeNoise }: SignalMap, lines: Float64Array): number {
  const shown = (off: number) => {
    let columns = 0;
    for (let x = 0; x < width; x++) {
      const y = Math.round(lines[x] + off);
      if (y >= 0 && y < height && data[y * width + x] > STROKE * strokeNoise) columns++;
    }
    return columns > BESIDE * width;
  };
  let reach = 2;
  while (reach < NEAR * height && (shown(reach) || shown(-reach))) reach++;
  return reach + 1;
}

/** What stands in a column below the line (sign 1), or above it, from `near` rows on. */
function sumBeside({ width, height, data }: Plane, x: number, line: number, near: number, sign: 1 | -1): number {
  let sum = 0;
  for (let y = Math.round(line + sign * near); sign * (y - line) < FAR * height; y += sign)
    if (y >= 0 && y < height) sum += data[y * width + x];
  return sum;
}

/** Centres of the clear ticks in such columns, where at least `least` of them stand, else none. */
export function tickCentres(columns: Float64Array, least: number): number[] {
  const sorted = columns.slice().sort();
  const clear = Math.max(6, 0.1 * sorted[Math.floor(0.985 * sorted.length)]);
  const centres: number[] = [];
  const rim = Math.round(RIM * columns.length);
  for (let x = rim; x < columns.length - rim; x++) {
    if (columns[x] < clear) continue;
    let sum = 0;
    let moment = 0;
    for (; x < columns.length && columns[x] >= clear; x++) {
      sum += columns[x];
      moment += columns[x] * (x + 0.5);
    }
    centres.push(moment / sum);
  }
  return centres.length >= least ? centres : [];
}
