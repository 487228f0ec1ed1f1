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
  const out = new Float32Array(Math.ceil(r.length / step) * 3);
  let k = 0;
  for (let i = 0; i < r.length; i += step) {
    if (marked.data[i] > 0 || !(inside?.(i) ?? true)) continue;
    out[k] = r[i];
    out[k + 1] = g[i];
    out[k + 2] = b[i];
    k += 3;
  }
  return out.subarray(0, k);
}

/** Robust spread of each channel: 1.4826 times the median absolute value. */
function spreads(sample: Sample): Mix {
  return [0, 1, 2].map((c) => {
    const values = new Float32Array(sample.length / 3);
    for (let i = 0; i < values.length; i++) values[i] = Math.abs(sample[3 * i + c]);
    return 1.4826 * selectAt(values, values.length >> 1) + 1e-7;
  }) as Mix;
}

/** Covariance of the quiet pixels: those within three robust deviations in every live channel. */
function quietCovariance(sample: Sample, live: readonly boolean[]): number[][] {
  const limit = spreads(sample).map((s, c) => (live[c] ? 3 * s : Number.POSITIVE_INFINITY));
  let n = 0;
  let [sumR, sumG, sumB, rr, gr, gg, br, bg, bb] = [0, 0, 0, 0, 0, 0, 0, 0, 0];
  for (let i = 0; i < sample.length; i += 3) {
    const r = sample[i];
    const g = sample[i + 1];
    const b = sample[i + 2];
    if (Math.abs(r) > limit[0] || Math.abs(g) > limit[1] || Math.abs(b) > limit[2]) continue;
    n++;
    sumR += r;
    sumG += g;
    sumB += b;
    rr += r * r;
    gr += g * r;
    gg += g * g;
    br += b * r;
    bg += b * g;
    bb += b * b;
  }
  n = Math.max(n, 1);
  const [r, g, b] = [sumR / n, sumG / n, sumB / n];
  const [rg, rb, gb] = [gr / n - g * r, br / n - b * r, bg / n - b * g];
  return [
    [rr / n - r * r, rg, rb],
    [rg, gg / n - g * g, gb],
    [rb, gb, bb / n - b * b],
  ];
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
  const [[a, b, c], [d, e, f], [g, h, i]] = m;
  const det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
  const [eifh, difg, dheg] = [e * i - f * h, d * i - f * g, d * h - e * g];
  const [liveR, liveG, liveB] = live;
  const out = new Float64Array(sample.length / 3);
  for (let k = 0; k < out.length; k++) {
    const x = liveR ? sample[3 * k] : 0;
    const y = liveG ? sample[3 * k + 1] : 0;
    const z = liveB ? sample[3 * k + 2] : 0;
    const yifz = y * i - f * z;
    const u = (x * eifh - b * yifz + c * (y * h - e * z)) / det;
    const v = (a * yifz - x * difg + c * (d * z - y * g)) / det;
    const w = (a * (e * z - y * h) - b * (d * z - y * g) + x * dheg) / det;
    out[k] = x * u + y * v + z * w;
  }
  return out;
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
  for (let k = 0; k < out.length; k++)
    out[k] = w[0] * sample[3 * k] + w[1] * sample[3 * k + 1] + w[2] * sample[3 * k + 2];
  return out;
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
  const low = selectAt(sample.subarray(0, sample.length >> 1), Math.floor(sample.length * 0.16));
  return { middle, sd: Math.max(middle - low, 1e-9) };
}
