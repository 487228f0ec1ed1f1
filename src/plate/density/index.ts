import { sampleSurface } from "../../math/surface.ts";
import { gaussianBlur } from "../../raster/blur.ts";
import { makePlane, type Plane } from "../../raster/picture.ts";
import type { LinearView, SignalMap } from "../view.ts";
import { fitGround } from "./background.ts";
import { bestMix, type Mix } from "./mix.ts";
import { splitStrokes } from "./strokes.ts";

const CELLS_ACROSS = 30;
/** Half the width below which a mark is a stroke, as a share of the plate's longer side: 0.3 to 0.6 mm on usual plates. */
const THIN = 0.0065;
/** Keeps the logarithm of near-black pixels finite; about the read noise of a phone. */
const DARK = 0.003;
/** Signal below this is never masked as a spot, however quiet the ground. */
const FAINT = 0.004;

/**
 * Signal against the ground: optical density D = -log10(I / I0) (ISO 5-1, from memory) in linear light for uv254 and
 * white, emission above the ground for uv365. The ground is fitted twice, the second time with the spots masked.
 * Channels whose ground is clipped are left out of the mix.
 */
export function density(view: LinearView): SignalMap {
  const { width, height } = view.r;
  const emission = view.light === "uv365";
  const scale = emission ? linearCopy : logCopy;
  const levels = [view.r, view.g, view.b].map(scale) as [Plane, Plane, Plane];
  const usable = [0, 1, 2].map((c) => unclippedShare(view.clipped, 1 << c)) as [number, number, number];
  const sign = emission ? 1 : -1;
  const first = signalAbove(levels, fitOver(levels, null, sign), sign, width, height);
  const mask = maskOf(first, width, height);
  const channels = signalAbove(levels, fitOver(levels, mask, sign), sign, width, height);
  dropClipped(channels, view.clipped);
  const sigma = width / 130;
  const smooth = channels.map((p) => gaussianBlur(p, sigma, sigma));
  const mixWeights = bestMix(smooth, usable, [1, 1, 1]);
  const grey = combine(channels, greyWeights(usable));
  const reach = Math.max(2, Math.round(THIN * Math.max(width, height)));
  const { spots: mix } = splitStrokes(combine(channels, mixWeights), reach);
  const { strokes, noise: strokeNoise } = strokesOf(grey, reach, emission);
  return { light: view.light, width, height, channels, mix, strokes, strokeNoise, grey, noise: Math.max(levelOf(combine(smooth as [Plane, Plane, Plane], mixWeights)).spread, 3e-4), usable };
}

function logCopy(plane: Plane): Plane {
  const out = makePlane(plane.width, plane.height);
  for (let i = 0; i < out.data.length; i++) out.data[i] = Math.log10(plane.data[i] + DARK);
  return out;
}

function linearCopy(plane: Plane): Plane {
  return plane;
}

function unclippedShare(clipped: Uint8Array, bit: number): number {
  let n = 0;
  for (let i = 0; i < clipped.length; i += 3) if (clipped[i] & bit) n++;
  return 1 - n / Math.ceil(clipped.length / 3);
}

function fitOver(levels: readonly Plane[], mask: Uint8Array | null, sign: 1 | -1) {
  const { width, height } = levels[0];
  const gridW = CELLS_ACROSS;
  const gridH = Math.max(12, Math.round((CELLS_ACROSS * height) / width));
  const sums = levels.map(() => new Float64Array(gridW * gridH));
  const coverage = new Float64Array(gridW * gridH);
  const total = new Float64Array(gridW * gridH);
  for (let y = 0; y < height; y++) {
    const gy = Math.min(gridH - 1, Math.floor(((y + 0.5) * gridH) / height));
    for (let x = 0; x < width; x++) {
      const i = y * width + x;
      const g = gy * gridW + Math.min(gridW - 1, Math.floor(((x + 0.5) * gridW) / width));
      total[g]++;
      if (mask?.[i]) continue;
      coverage[g]++;
      for (let c = 0; c < 3; c++) sums[c][g] += levels[c].data[i];
    }
  }
  for (let g = 0; g < coverage.length; g++) {
    for (let c = 0; c < 3; c++) sums[c][g] /= Math.max(coverage[g], 1);
    const share = coverage[g] / Math.max(total[g], 1);
    const edge = g % gridW === 0 || g % gridW === gridW - 1 || g < gridW || g >= gridW * (gridH - 1);
    coverage[g] = (share < 0.15 ? 0 : share) * (edge ? 0.3 : 1);
  }
  return fitGround(sums, coverage, { width: gridW, height: gridH }, sign);
}

function signalAbove(
  levels: readonly Plane[],
  surfaces: ReturnType<typeof fitGround>,
  sign: 1 | -1,
  width: number,
  height: number,
): [Plane, Plane, Plane] {
  return levels.map((level, c) => {
    const out = makePlane(width, height);
    sampleSurface(surfaces[c], width, height, out.data);
    for (let i = 0; i < out.data.length; i++) out.data[i] = sign * (level.data[i] - out.data[i]);
    const { median } = levelOf(out);
    for (let i = 0; i < out.data.length; i++) out.data[i] -= median;
    return out;
  }) as [Plane, Plane, Plane];
}

/** Pixels that belong to a spot in any channel: smoothed signal above three robust deviations, grown a little. */
function maskOf(channels: readonly Plane[], width: number, height: number): Uint8Array {
  const mask = new Uint8Array(width * height);
  for (const channel of channels) {
    const smooth = gaussianBlur(channel, width / 90, width / 90);
    const { median, spread } = levelOf(smooth);
    const limit = median + Math.max(3 * spread, FAINT);
    for (let i = 0; i < mask.length; i++) if (smooth.data[i] > limit) mask[i] = 1;
  }
  return mask;
}

/** Median and lower spread (median less the 16 % quantile: one deviation of a ground with spots above it). */
function levelOf(plane: Plane): { median: number; spread: number } {
  const sample = new Float32Array(Math.ceil(plane.data.length / 17));
  for (let i = 0, k = 0; i < plane.data.length; i += 17) sample[k++] = plane.data[i];
  sample.sort();
  const median = sample[sample.length >> 1];
  const low = sample[Math.floor(sample.length * 0.16)];
  return { median, spread: Math.max(median - low, 1e-6) };
}

/** A clipped pixel says nothing: it reads as ground. */
function dropClipped(channels: readonly Plane[], clipped: Uint8Array): void {
  for (let i = 0; i < clipped.length; i++) {
    const bits = clipped[i];
    if ((bits & 7) === 0) continue;
    for (let c = 0; c < 3; c++) if (bits & (1 << c) && channels[c].data[i] < 0) channels[c].data[i] = 0;
  }
}

function greyWeights(usable: readonly number[]): Mix {
  const live = usable.map((u) => (u > 0.34 ? 1 : 0));
  const n = live[0] + live[1] + live[2];
  return (n === 0 ? [1 / 3, 1 / 3, 1 / 3] : live.map((l) => l / n)) as Mix;
}

function combine(channels: readonly Plane[], weights: Mix): Plane {
  const out = makePlane(channels[0].width, channels[0].height);
  const [r, g, b] = channels;
  const [wr, wg, wb] = weights;
  for (let i = 0; i < out.data.length; i++) out.data[i] = wr * r.data[i] + wg * g.data[i] + wb * b.data[i];
  return out;
}

/** Thin marks, darker than the ground; at 365 nm pencil may be either. */
function strokesOf(grey: Plane, reach: number, either: boolean): { strokes: Plane; noise: number } {
  const { strokes, noise } = splitStrokes(grey, reach);
  if (!either) return { strokes, noise };
  const dark = splitStrokes({ ...grey, data: grey.data.map((v) => -v) }, reach);
  for (let i = 0; i < strokes.data.length; i++) strokes.data[i] = Math.max(strokes.data[i], dark.strokes.data[i]);
  return { strokes, noise: Math.max(noise, dark.noise) };
}
