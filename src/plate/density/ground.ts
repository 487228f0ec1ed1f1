import { log10All } from "../../math/fastlog.ts";
import { singleRoom } from "../../math/room.ts";
import { selectAt } from "../../math/select.ts";
import { type Surface, sampleSurface } from "../../math/surface.ts";
import { boxBlurInto } from "../../raster/blur.ts";
import { makePlane, type Plane } from "../../raster/picture.ts";
import { fitGround } from "./background.ts";

/** Three planes, red, green and blue. */
export type Channels = readonly [Plane, Plane, Plane];

const CELLS_ACROSS = 30;
/** Keeps the logarithm of near-black pixels finite; about the read noise of a phone. */
const DARK = 0.003;
/** Signal below this is never masked as a spot, however quiet the ground. */
const FAINT = 0.004;
/** Values of a plane that tell its middle well enough. */
const MIDDLE_SAMPLE = 12_000;

const levelRooms = [singleRoom(), singleRoom(), singleRoom()] as const;

/**
 * The scale on which ground and signal add: logarithm of linear light for absorbing spots, light itself for emission.
 * Good until it is called again.
 */
export function levelsOf(light: Channels, emission: boolean): Channels {
  if (emission) return light;
  return light.map(({ width, height, data }, c) => {
    const out = { width, height, data: levelRooms[c](data.length) };
    log10All(data, DARK, out.data);
    return out;
  }) as unknown as Channels;
}

/**
 * The ground under the spots, from levels at a coarse size: fitted twice, the second time with the spots masked. That of a
 * channel clipped in part is fitted where it is not, and goes on from there.
 * @param clipped per channel the pixels to be passed over, or null
 */
export function groundOf(coarse: Channels, sign: 1 | -1, clipped: readonly (Uint8Array | null)[]): Surface[] {
  const first = signalAbove(coarse, fitOver(coarse, null, sign), sign, clipped);
  const spots = maskOf(first);
  const all = fitOver(coarse, spots, sign);
  return all.map((surface, c) => {
    const over = clipped[c];
    return over === null
      ? surface
      : fitOver(
          [coarse[c]],
          spots.map((spot, i) => spot | over[i]),
          sign,
        )[0];
  });
}

/**
 * Levels less ground, turned so that spots are positive, with the middle of the ground at 0.
 * @param clipped per channel the pixels that say nothing of the middle, or null
 */
export function signalAbove(
  levels: Channels,
  ground: readonly Surface[],
  sign: 1 | -1,
  clipped: readonly (Uint8Array | null)[],
): Channels {
  return levels.map((level, c) => {
    const out = makePlane(level.width, level.height);
    sampleSurface(ground[c], level.width, level.height, out.data);
    const step = Math.max(1, Math.floor(out.data.length / MIDDLE_SAMPLE));
    const sample = new Float32Array(Math.ceil(out.data.length / step));
    const over = clipped[c];
    const n = sampleAbove(level.data, out.data, over, step, sample);
    const middle = n === 0 ? 0 : selectAt(sample.subarray(0, n), n >> 1);
    lessGround(level.data, middle, sign, out.data);
    return out;
  }) as unknown as Channels;
}

/** Levels less ground at every `step`th pixel that is not passed over; returns how many those are. */
function sampleAbove(
  levels: Float32Array,
  ground: Float32Array,
  over: Uint8Array | null,
  step: number,
  sample: Float32Array,
): number {
  let n = 0;
  for (let i = 0; i < ground.length; i += step) if (!over?.[i]) sample[n++] = levels[i] - ground[i];
  return n;
}

/** Takes the ground, which lies in `out`, and its middle off the levels. A loop of its own: compiled for itself, it is quick. */
function lessGround(levels: Float32Array, middle: number, sign: 1 | -1, out: Float32Array): void {
  for (let i = 0; i < out.length; i++) out[i] = sign * (levels[i] - out[i] - middle);
}

/** Median and lower spread (median less the 16 % quantile: one deviation of a ground with spots above it). */
export function levelOf(plane: Plane): { median: number; spread: number } {
  const step = Math.max(1, Math.floor(plane.data.length / MIDDLE_SAMPLE));
  const sample = new Float32Array(Math.ceil(plane.data.length / step));
  everyOf(plane.data, step, sample);
  const median = selectAt(sample, sample.length >> 1);
  const low = selectAt(sample, Math.floor(sample.length * 0.16));
  return { median, spread: Math.max(median - low, 1e-6) };
}

function everyOf(values: Float32Array, step: number, sample: Float32Array): void {
  for (let k = 0, i = 0; k < sample.length; k++, i += step) sample[k] = values[i];
}

function fitOver(levels: readonly Plane[], mask: Uint8Array | null, sign: 1 | -1): Surface[] {
  const { width, height } = levels[0];
  const gridW = CELLS_ACROSS;
  const gridH = Math.max(12, Math.round((CELLS_ACROSS * height) / width));
  const sums = levels.map(() => new Float64Array(gridW * gridH));
  const coverage = new Float64Array(gridW * gridH);
  const total = new Float64Array(gridW * gridH);
  const columns = Int32Array.from({ length: width }, (_, x) =>
    Math.min(gridW - 1, Math.floor(((x + 0.5) * gridW) / width)),
  );
  for (let y = 0; y < height; y++) {
    const row = Math.min(gridH - 1, Math.floor(((y + 0.5) * gridH) / height)) * gridW;
    countRow(columns, row, mask, y * width, total, coverage);
    for (let c = 0; c < levels.length; c++) addRow(levels[c].data, columns, row, mask, y * width, sums[c]);
  }
  for (let g = 0; g < coverage.length; g++) {
    for (const sum of sums) sum[g] /= Math.max(coverage[g], 1);
    const share = coverage[g] / Math.max(total[g], 1);
    const edge = g % gridW === 0 || g % gridW === gridW - 1 || g < gridW || g >= gridW * (gridH - 1);
    coverage[g] = (share < 0.15 ? 0 : share) * (edge ? 0.3 : 1);
  }
  return fitGround(sums, coverage, { width: gridW, height: gridH }, sign);
}

// Functions of their own for a row of pixels each: the engine compiles those early.

/** Counts the pixels of a row in their cells, all and those that are not masked. */
function countRow(
  columns: Int32Array,
  row: number,
  mask: Uint8Array | null,
  o: number,
  total: Float64Array,
  coverage: Float64Array,
): void {
  for (let x = 0; x < columns.length; x++) {
    const cell = row + columns[x];
    total[cell]++;
    if (!mask?.[o + x]) coverage[cell]++;
  }
}

function addRow(
  level: Float32Array,
  columns: Int32Array,
  row: number,
  mask: Uint8Array | null,
  o: number,
  sums: Float64Array,
): void {
  for (let x = 0; x < columns.length; x++) if (!mask?.[o + x]) sums[row + columns[x]] += level[o + x];
}

const onceRoom = singleRoom();
const smoothRoom = singleRoom();

/** Pixels that belong to a spot in any channel: smoothed signal three robust deviations above the ground. */
function maskOf(channels: Channels): Uint8Array {
  const { width, height } = channels[0];
  const mask = new Uint8Array(width * height);
  const r = Math.max(1, Math.round(width / 90));
  for (const channel of channels) {
    const smooth = { width, height, data: smoothRoom(mask.length) };
    const once = { width, height, data: onceRoom(mask.length) };
    boxBlurInto(channel, r, r, once.data);
    boxBlurInto(once, r, r, smooth.data);
    const { median, spread } = levelOf(smooth);
    const limit = median + Math.max(3 * spread, FAINT);
    markAbove(limit, smooth.data, mask);
  }
  return mask;
}

function markAbove(limit: number, data: Float32Array, mask: Uint8Array): void {
  for (let i = 0; i < mask.length; i++) if (data[i] > limit) mask[i] = 1;
}
