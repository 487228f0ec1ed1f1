import type { Plane } from "../../raster/picture.ts";
import { heightOfRf, type LaneTrack, laneX, type PlateFrame } from "../frame.ts";

/** Rf grid that all lanes share: from a little below the origin to a little above the front. */
export const RF_FROM = -0.08;
export const RF_TO = 1.08;
export const RF_STEPS = 348;
export const RF_STEP = (RF_TO - RF_FROM) / RF_STEPS;
/** Columns across a lane, from -0.6 to +0.6 pitch around its centre. */
export const ACROSS = 25;
export const REACH = 0.6;

/** Rf of grid row r (its centre). */
export function rfOfRow(r: number): number {
  return RF_FROM + (r + 0.5) * RF_STEP;
}

/** Grid row (fractional) of an Rf. */
export function rowOfRf(rf: number): number {
  return (rf - RF_FROM) / RF_STEP - 0.5;
}

/** Signal around one lane, straightened: row-major, RF_STEPS rows (row 0 at the lowest Rf) of ACROSS columns. */
export interface Strip {
  readonly data: Float32Array;
}

const RFS = Float64Array.from({ length: RF_STEPS }, (_, r) => rfOfRow(r));
const OFFSETS = Float64Array.from({ length: ACROSS }, (_, c) => offsetOfColumn(c));

/** Offset of column c from the lane's centre, in pitches. */
export function offsetOfColumn(c: number): number {
  return -REACH + ((c + 0.5) * 2 * REACH) / ACROSS;
}

/** Share of the plate's width along its sides where its rim may show: what lies there is taken from further in. */
const RIM = 0.02;

/** Weights of the columns, by their offset from the lane's centre in pitches; they sum to 1. */
export function columnWeights(f: (offset: number) => number): Float64Array {
  const w = Float64Array.from({ length: ACROSS }, (_, c) => f(offsetOfColumn(c)));
  const sum = w.reduce((a, b) => a + b, 0);
  return w.map((v) => v / sum);
}

const LEFT_GAP = columnWeights((o) => (o < -0.42 && o > -0.58 ? 1 : 0));
const RIGHT_GAP = columnWeights((o) => (o > 0.42 && o < 0.58 ? 1 : 0));

/** What the gaps on the left and on the right of a lane show, row by row. */
export function gapsOf(strip: Strip): [Float64Array, Float64Array] {
  return [across(strip, LEFT_GAP), across(strip, RIGHT_GAP)];
}

/** Weighted mean across a lane, row by row. */
export function across({ data }: Strip, weights: Float64Array): Float64Array {
  const out = new Float64Array(RF_STEPS);
  const first = weights.findIndex((w) => w !== 0);
  const last = weights.findLastIndex((w) => w !== 0);
  // Each sum waits for the one before it: four rows at a time keep the processor busy meanwhile. They come out even.
  for (let r = 0; r < RF_STEPS; r += 4) acrossFourRows(data, weights, first, last, r, out);
  return out;
}

function acrossFourRows(
  data: Float32Array,
  weights: Float64Array,
  first: number,
  last: number,
  r: number,
  out: Float64Array,
): void {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  for (let c = first, i = r * ACROSS + first; c <= last; c++, i++) {
    const w = weights[c];
    s0 += w * data[i];
    s1 += w * data[i + ACROSS];
    s2 += w * data[i + 2 * ACROSS];
    s3 += w * data[i + 3 * ACROSS];
  }
  out[r] = s0;
  out[r + 1] = s1;
  out[r + 2] = s2;
  out[r + 3] = s3;
}

/** Value below which the share q of a sorted sample lies. */
export function quantile(sorted: ArrayLike<number>, q: number): number {
  return sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))] ?? 0;
}

/** True where origin line or front band pass. */
export function crossed(rf: number): boolean {
  return Math.abs(rf) < 0.05 || rf > 0.94;
}

/**
 * Cuts a lane out of a plane along its own centre line and its own way from origin to front (bilinear).
 * The sampling step may be coarser than a pixel: the plane should be smoothed to about that step first.
 */
export function cutStrip(plane: Plane, frame: PlateFrame, track: LaneTrack): Strip {
  const data = new Float32Array(RF_STEPS * ACROSS);
  const middles = new Float64Array(RF_STEPS);
  for (let r = 0; r < RF_STEPS; r++) middles[r] = laneX(frame, track, heightOfRf(frame, track.x, RFS[r]));
  for (let r = 0; r < RF_STEPS; r++) cutRow(plane, frame, middles, r, data);
  return { data };
}

/** One row, about its own middle; all in one function, which the engine compiles early: numbers handed on would be boxed. */
function cutRow(
  { width, height, data }: Plane,
  { pitch, origin, front }: PlateFrame,
  middles: Float64Array,
  r: number,
  out: Float32Array,
): void {
  const middle = middles[r];
  const rf = RFS[r];
  const o = r * ACROSS;
  for (let c = 0; c < ACROSS; c++) {
    const u = middle + OFFSETS[c] * pitch;
    const within = Math.min(1, Math.max(0, u));
    // As `heightOfRf` has it, with what stays the same taken out of the loop.
    const bend = 2 * within - 1;
    const bottom = origin.y + origin.tilt * (within - 0.5) + origin.bow * bend * bend;
    const top = front.y + front.tilt * (within - 0.5) + front.bow * bend * bend;
    const y = bottom - rf * (bottom - top);
    const cx = Math.min(Math.max(Math.min(Math.max(u, RIM), 1 - RIM) * width - 0.5, 0), width - 1.001);
    const cy = Math.min(Math.max(y * height - 0.5, 0), height - 1.001);
    const x0 = Math.floor(cx);
    const y0 = Math.floor(cy);
    const tx = cx - x0;
    const ty = cy - y0;
    const i = y0 * width + x0;
    const upper = data[i] * (1 - tx) + data[i + 1] * tx;
    const lower = data[i + width] * (1 - tx) + data[i + width + 1] * tx;
    out[o + c] = upper * (1 - ty) + lower * ty;
  }
}
