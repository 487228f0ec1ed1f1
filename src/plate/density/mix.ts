import { selectAt } from "../../math/select.ts";
import type { Plane } from "../../raster/picture.ts";

/** Three weights, one per channel. */
export type Mix = [number, number, number];

/** What the ground and the spots of a part of the plate are like, in three channels. */
export interface Learnt {
  /** Of the ground: 3 x 3, loaded on its diagonal. */
  readonly covariance: number[][];
  /** Sum of what stands out; all live channels alike where nothing does. */
  readonly spots: Mix;
  readonly someSpots: boolean;
  /** The same of what a mix for `spots` hardly shows: another hue, or the other sign. */
  readonly hidden: Mix | null;
}

/** Every few pixels of the three channels, interleaved: enough for means and covariances. */
type Sample = Float32Array;

function sampleOf(channels: readonly Plane[], marked: Plane, inside: ((i: number) => boolean) | null): Sample {
  const [r, g, b] = channels.map(({ data }) => data);
  const step = Math.max(1, Math.floor(r.length / 12000));
  const count = Math.ceil(r.length / step);
  const out = new Float32Array(count * 3);
  let k = 0;
  inBlocks(count, (from, to) => {
    k = take(r, g, b, marked.data, inside, from * step, to * step, step, out, k);
  });
  return out.subarray(0, k);
}

/** Takes over the pixels from `from` on that are not marked and are inside; returns where the sample then ends. */
function take(
  r: Float32Array,
  g: Float32Array,
  b: Float32Array,
  marked: Float32Array,
  inside: ((i: number) => boolean) | null,
  from: number,
  to: number,
  step: number,
  out: Float32Array,
  before: number,
): number {
  let k = before;
  for (let i = from; i < to; i += step) {
    if (marked[i] > 0 || (inside !== null && !inside(i))) continue;
    out[k] = r[i];
    out[k + 1] = g[i];
    out[k + 2] = b[i];
    k += 3;
  }
  return k;
}

/** Robust spread of a channel: 1.4826 times the median absolute value. */
function spreadOf(sample: Sample, channel: number): number {
  const sizes = new Float32Array(sample.length / 3);
  inBlocks(sizes.length, (from, to) => sizesOf(sample, channel, from, to, sizes));
  return 1.4826 * selectAt(sizes, sizes.length >> 1) + 1e-7;
}

/** So many pixels at a time: functions of their own for a block each are compiled early by the engine. */
const BLOCK = 512;

function inBlocks(count: number, work: (from: number, to: number) => void): void {
  for (let from = 0; from < count; from += BLOCK) work(from, Math.min(count, from + BLOCK));
}

function sizesOf(sample: Sample, channel: number, from: number, to: number, sizes: Float32Array): void {
  for (let k = from; k < to; k++) sizes[k] = Math.abs(sample[3 * k + channel]);
}

/** Covariance of the quiet pixels: those within three robust deviations in every live channel. */
function quietCovariance(sample: Sample, live: readonly boolean[]): number[][] {
  const limit = live.map((l, c) => (l ? 3 * spreadOf(sample, c) : Number.POSITIVE_INFINITY));
  const sums = new Float64Array(10);
  inBlocks(sample.length / 3, (from, to) => addQuiet(sample, limit, from, to, sums));
  const n = Math.max(sums[0], 1);
  const [r, g, b] = [sums[1] / n, sums[2] / n, sums[3] / n];
  const [rg, rb, gb] = [sums[5] / n - g * r, sums[7] / n - b * r, sums[8] / n - b * g];
  return [
    [sums[4] / n - r * r, rg, rb],
    [rg, sums[6] / n - g * g, gb],
    [rb, gb, sums[9] / n - b * b],
  ];
}

/** Adds the number of pixels within the limits, their sums, and those of their products: rr, gr, gg, br, bg, bb. */
function addQuiet(sample: Sample, limit: readonly number[], from: number, to: number, sums: Float64Array): void {
  const [limitR, limitG, limitB] = limit;
  for (let i = 3 * from; i < 3 * to; i += 3) {
    const r = sample[i];
    const g = sample[i + 1];
    const b = sample[i + 2];
    if (Math.abs(r) > limitR || Math.abs(g) > limitG || Math.abs(b) > limitB) continue;
    sums[0]++;
    sums[1] += r;
    sums[2] += g;
    sums[3] += b;
    sums[4] += r * r;
    sums[5] += g * r;
    sums[6] += g * g;
    sums[7] += b * r;
    sums[8] += b * g;
    sums[9] += b * b;
  }
}

function solve3(m: readonly number[][], v: readonly number[]): Mix {
  const [[a, b, c], [d, e, f], [g, h, i]] = m;
  const det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
  const [x, y, z] = v;
  return [
    (x * (e * i - f * h) - b * (y * i - f * z) + c * (y * h - e * z)) / det,
    (a * (y * i - f * z) - x * (d * i - f * g) + c * (d * z - y * g)) / det,
    (a * (e * z - y * h) - b * (d * z - y * g) + x * (d * h - e * g)) / det,
  ];
}

/** Squared signal over noise of each pixel's channel vector v: v S⁻¹ v; dead channels count as 0. */
function powersOver(m: readonly number[][], sample: Sample, live: readonly boolean[]): Float64Array {
  const out = new Float64Array(sample.length / 3);
  const flat = Float64Array.from(m.flat());
  inBlocks(out.length, (from, to) => powersInBlock(flat, sample, live, from, to, out));
  return out;
}

/** @param m row by row */
function powersInBlock(
  m: Float64Array,
  sample: Sample,
  [liveR, liveG, liveB]: readonly boolean[],
  from: number,
  to: number,
  out: Float64Array,
): void {
  const [a, b, c, d, e, f, g, h, i] = m;
  const det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
  const [eifh, difg, dheg] = [e * i - f * h, d * i - f * g, d * h - e * g];
  for (let k = from; k < to; k++) {
    const x = liveR ? sample[3 * k] : 0;
    const y = liveG ? sample[3 * k + 1] : 0;
    const z = liveB ? sample[3 * k + 2] : 0;
    const yifz = y * i - f * z;
    const u = (x * eifh - b * yifz + c * (y * h - e * z)) / det;
    const v = (a * yifz - x * difg + c * (d * z - y * g)) / det;
    const w = (a * (e * z - y * h) - b * (d * z - y * g) + x * dheg) / det;
    out[k] = x * u + y * v + z * w;
  }
}

/** Sum of the channel vectors of the pixels that are `wanted`, or null where they are too few to mean anything. */
function sumWhere(sample: Sample, live: readonly boolean[], wanted: Uint8Array): Mix | null {
  let n = 0;
  let [r, g, b] = [0, 0, 0];
  for (let k = 0; k < wanted.length; k++) {
    if (wanted[k] === 0) continue;
    n++;
    r += sample[3 * k];
    g += sample[3 * k + 1];
    b += sample[3 * k + 2];
  }
  return n < 10 ? null : ([r, g, b].map((sum, c) => (live[c] ? sum : 0)) as Mix);
}

function project(sample: Sample, w: Mix): Float32Array {
  const out = new Float32Array(sample.length / 3);
  inBlocks(out.length, (from, to) => projectBlock(sample, w, from, to, out));
  return out;
}

function projectBlock(sample: Sample, [r, g, b]: Mix, from: number, to: number, out: Float32Array): void {
  for (let k = from; k < to; k++) out[k] = r * sample[3 * k] + g * sample[3 * k + 1] + b * sample[3 * k + 2];
}

/**
 * The mix of the live channels with the best contrast to noise for spots of direction `s`: w = S⁻¹ s, S the covariance of the
 * ground (Fisher 1936, Annals of Eugenics 7, 179).
 * @param shown what such a spot is to read as, over its density in the live channel that shows it best
 */
export function mixFor(covariance: number[][], s: Mix, live: readonly boolean[], shown = 1): Mix {
  const top = Math.max(...s.map((v, c) => (live[c] ? Math.abs(v) : 0)));
  if (!(top > 0)) return [0, 0, 0];
  const noise = covariance.map((row, c) => row.map((v, k) => (live[c] && live[k] ? v : c === k ? 1 : 0)));
  const unit = s.map((v, c) => (live[c] ? v / top : 0)) as Mix;
  const w = solve3(noise, unit);
  const gain = w[0] * unit[0] + w[1] * unit[1] + w[2] * unit[2];
  return w.map((v, c) => (live[c] ? (shown * v) / gain : 0)) as Mix;
}

/** Squared deviations from which a pixel is no noise: two in 12 000 have more by chance, a faint spot of a rare hue has them. */
const NO_NOISE = 20;
/** A mix that shows less than this share of a pixel's deviations hardly shows it. */
const HARDLY = 0.55;

/** A part of the plate of fewer pixels than this share of it teaches nothing. */
const LEAST_PART = 0.05;

/**
 * Learns ground and spots of a part of the plate. The covariance is loaded on its diagonal so that a common-mode texture
 * cannot turn a mix into a difference of near-equal channels.
 * @param smooth the three channels, smoothed to the size of a small spot
 * @param marked same size, above 0 where pencil or dust is: left out
 * @param live channels to be learnt from
 * @param inside tells which pixels belong to the part; null: all
 * @returns null where they are too few
 */
export function learn(
  smooth: readonly Plane[],
  marked: Plane,
  live: readonly boolean[],
  inside: ((i: number) => boolean) | null,
): Learnt | null {
  const sample = sampleOf(smooth, marked, inside);
  if (inside && sample.length < LEAST_PART * sampleOf(smooth, marked, null).length) return null;
  const noise = quietCovariance(sample, live);
  const load = 0.25 * Math.max(...live.map((l, c) => (l ? noise[c][c] : 0))) + 1e-9;
  for (let c = 0; c < 3; c++) {
    noise[c][c] += load;
    if (!live[c]) {
      for (let k = 0; k < 3; k++) noise[c][k] = noise[k][c] = 0;
      noise[c][c] = 1;
    }
  }
  let spots: Mix = live.map((l) => (l ? 1 : 0)) as Mix;
  let someSpots = false;
  for (let round = 0; round < 3; round++) {
    const values = project(sample, solve3(noise, spots));
    const { middle, sd } = centre(values);
    const wanted = new Uint8Array(values.length);
    for (let k = 0; k < wanted.length; k++) if (values[k] > middle + 5 * sd) wanted[k] = 1;
    const found = sumWhere(sample, live, wanted);
    someSpots ||= found !== null;
    spots = found ?? spots;
  }
  const values = project(sample, mixFor(noise, spots, live));
  const { middle, sd } = centre(values);
  const powers = powersOver(noise, sample, live);
  const wanted = new Uint8Array(values.length);
  for (let k = 0; k < wanted.length; k++)
    if (powers[k] > NO_NOISE && (values[k] - middle) / sd < HARDLY * Math.sqrt(powers[k])) wanted[k] = 1;
  return { covariance: noise, spots, someSpots, hidden: sumWhere(sample, live, wanted) };
}

function centre(values: Float32Array): { middle: number; sd: number } {
  const sample = values.slice();
  const middle = selectAt(sample, sample.length >> 1);
  const low = selectAt(sample, Math.floor(sample.length * 0.16));
  return { middle, sd: Math.max(middle - low, 1e-9) };
}
