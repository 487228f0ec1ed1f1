import { singleRoom } from "../../math/room.ts";
import { type Surface, sampleSurface } from "../../math/surface.ts";
import { blockMeans } from "../../raster/blocks.ts";
import { boxBlur } from "../../raster/blur.ts";
import { findFlatOutlines } from "../../raster/flatOutlines.ts";
import { findOutlines, takeOutlinesOut } from "../../raster/outlines.ts";
import { makePlane, type Plane } from "../../raster/picture.ts";
import { strokesOf, takeStrokesOut } from "../../raster/strokes.ts";
import type { LinearView, SignalMap } from "../view.ts";
import { clippingsOf, liveChannels } from "./clipping.ts";
import { takeGlareOut } from "./glare.ts";
import { type Channels, groundOf, levelOf, levelsOf, signalAbove } from "./ground.ts";
import type { Mix } from "./mix.ts";
import { bestMixes, type Part } from "./parts.ts";

/** Half the width below which a mark is a stroke, as a share of the plate's longer side: 0.3 to 0.6 mm on usual plates. */
const THIN = 0.0065;
/** Yet narrower where many lanes stand side by side: this share of the width that each of them has leaves small spots whole. */
const THIN_OF_LANE = 0.0675;
/** Grounds and channel mixes are found on means of 3 x 3 pixels: spots are far larger. */
const COARSE = 3;
/** A ground quieter than this is quantised, not quiet. */
const LEAST_NOISE = 3e-4;

/**
 * Signal against the ground: optical density D = -log10(I / I0) (ISO 5-1, from memory) in linear light for uv254 and
 * white, emission above the ground for uv365. The ground is fitted twice, the second time with the spots masked.
 * Channels whose ground is clipped are left out of the mix.
 * @param lanes how many the plate has, or null where nobody said
 */
export function density(photo: LinearView, lanes: number | null = null): SignalMap {
  const view = takeGlareOut(photo);
  const { width, height } = view.r;
  const emission = view.light === "uv365";
  const sign = emission ? 1 : -1;
  const levels = levelsOf([view.r, view.g, view.b], emission);
  const coarse = levels.map((p) => blockMeans(p, COARSE)) as unknown as Channels;
  const usable = [0, 1, 2].map((c) => unclippedShare(view.clipped, 1 << c)) as [number, number, number];
  const clippings = clippingsOf(view, usable, COARSE);
  const partOf = (c: number) => clippings.find(({ channel }) => channel === c) ?? null;
  const ground = groundOf(
    coarse,
    sign,
    [0, 1, 2].map((c) => partOf(c)?.blocks ?? null),
  );
  const channels = signalAbove(
    levels,
    ground,
    sign,
    [0, 1, 2].map((c) => partOf(c)?.pixels ?? null),
  );
  dropClipped(channels, view.clipped, usable, emission);
  const grey = combine(channels, greyWeights(usable));
  if (!emission) takeRingsOut(channels, grey);
  const r = Math.max(1, Math.round(width / 300 / COARSE + 0.2));
  const smooth = channels.map((p) => boxBlur(boxBlur(blockMeans(p, COARSE), r, r), r, r)) as unknown as Channels;
  const reach = strokeReach(width, height, lanes);
  const { strokes, noise: strokeNoise } = thinMarks(grey, reach, emission);
  const live = liveChannels(usable, emission);
  const parts = bestMixes(smooth, blockMeans(strokes, COARSE), live, clippings);
  const cleaned = (mixOf: (part: Part) => Mix) => {
    const plane = mixed(channels, parts, mixOf, COARSE);
    takeStrokesOut(plane, reach);
    return { plane, noise: Math.max(levelOf(mixed(smooth, parts, mixOf, 1)).spread, LEAST_NOISE) };
  };
  const main = cleaned((part) => part.main);
  const some = parts.some((part) => part.counter !== null);
  return {
    light: view.light,
    width,
    height,
    channels,
    ...(emission && { bare: bareOf(ground) }),
    mix: main.plane,
    noise: main.noise,
    counter: some ? cleaned((part) => part.counter ?? [0, 0, 0]) : null,
    strokes,
    strokeNoise,
    grey,
    saturated: saturatedIn(view, parts[0].main),
    usable,
  };
}

function strokeReach(width: number, height: number, lanes: number | null): number {
  const widest = lanes === null ? Infinity : (THIN_OF_LANE * width) / lanes;
  return Math.max(2, Math.round(Math.min(THIN * Math.max(width, height), widest)));
}

/** The ground is smooth: so many pixels a side tell it. */
const BARE_SIDE = 32;

function bareOf(ground: readonly Surface[]): Channels {
  return ground.map((surface) => {
    const plane = makePlane(BARE_SIDE, BARE_SIDE);
    sampleSurface(surface, BARE_SIDE, BARE_SIDE, plane.data);
    return plane;
  }) as unknown as Channels;
}

/** Half of what pencil draws round a spot, as shares of the plate's width, give or take the pencil's own. */
const RINGED = { least: 0.016, most: 0.11, pencil: 3 };

const bareRoom = singleRoom();

/** Takes what pencil drew round spots out of the channels; twice, for one ring may hide behind another that it touches. */
function takeRingsOut(channels: Channels, grey: Plane): void {
  const { width } = grey;
  const range = {
    least: Math.round(RINGED.least * width) + RINGED.pencil,
    most: Math.round(RINGED.most * width),
  };
  const rings = findOutlines(grey, range);
  const bare = { ...grey, data: bareRoom(grey.data.length) };
  bare.data.set(grey.data);
  for (const plane of [bare, ...channels]) takeOutlinesOut(plane, rings);
  const flat = findFlatOutlines(bare, range);
  for (const plane of [bare, ...channels]) takeOutlinesOut(plane, flat);
  if (rings.length + flat.length === 0) return;
  const hidden = findOutlines(bare, range);
  for (const plane of channels) takeOutlinesOut(plane, hidden);
}

/** One plane of the channels, mixed in each part of the plate as is best there. */
function mixed(channels: Channels, parts: readonly Part[], mixOf: (part: Part) => Mix, factor: number): Plane {
  const out = combine(channels, mixOf(parts[0]));
  for (const part of parts) {
    if (part.where !== null) replaceWhere(out, combine(channels, mixOf(part)), part.where, factor);
  }
  return out;
}

/** @param factor pixels a side that make one of `where` */
function replaceWhere(plane: Plane, instead: Plane, where: Plane, factor: number): void {
  const { width, height, data } = plane;
  for (let y = 0, i = 0; y < height; y++) {
    const row = Math.min(where.height - 1, Math.floor(y / factor)) * where.width;
    for (let x = 0; x < width; x++, i++) {
      const share = where.data[row + Math.min(where.width - 1, Math.floor(x / factor))];
      data[i] += share * (instead.data[i] - data[i]);
    }
  }
}

/** Where channels that make at least half of a mix are at the limit on the spots' side: bright at 365 nm, dark elsewhere. */
function saturatedIn({ clipped, light, r: { width, height } }: LinearView, mix: Mix): Plane | null {
  const shift = light === "uv365" ? 0 : 3;
  const weight = mix.map(Math.abs);
  const half = 0.5 * (weight[0] + weight[1] + weight[2]);
  const full = Uint8Array.from({ length: 8 }, (_, bits) =>
    weight.reduce((s, w, c) => s + (bits & (1 << c) ? w : 0), 0) >= half ? 1 : 0,
  );
  const first = firstFull(clipped, shift, full);
  if (first < 0) return null;
  const out = makePlane(width, height);
  for (let i = first; i < clipped.length; i++) out.data[i] = full[(clipped[i] >> shift) & 7];
  return out;
}

/** The first pixel that is; -1 where none is, as on most plates. */
function firstFull(clipped: Uint8Array, shift: number, full: Uint8Array): number {
  for (let i = 0; i < clipped.length; i++) if (full[(clipped[i] >> shift) & 7] === 1) return i;
  return -1;
}

function unclippedShare(clipped: Uint8Array, bit: number): number {
  return 1 - clippedOfThirds(clipped, bit) / Math.ceil(clipped.length / 3);
}

/** How many of every third pixel are. */
function clippedOfThirds(clipped: Uint8Array, bit: number): number {
  let n = 0;
  for (let i = 0; i < clipped.length; i += 3) if (clipped[i] & bit) n++;
  return n;
}

/** A clipped pixel over a clipped ground says nothing: it reads as ground. At 365 nm it may be a blinding spot. */
function dropClipped(channels: Channels, clipped: Uint8Array, usable: readonly number[], emission: boolean): void {
  for (let c = 0; c < 3; c++) {
    if (usable[c] <= 0.97) dropIn(channels[c].data, clipped, 1 << c, emission);
  }
}

function dropIn(data: Float32Array, clipped: Uint8Array, bit: number, emission: boolean): void {
  for (let i = 0; i < data.length; i++) if (clipped[i] & bit && !(emission && data[i] > 0)) data[i] = 0;
}

function greyWeights(usable: readonly number[]): Mix {
  const live = usable.map((u) => (u > 0.34 ? 1 : 0));
  const n = live[0] + live[1] + live[2];
  return (n === 0 ? [1 / 3, 1 / 3, 1 / 3] : live.map((l) => l / n)) as Mix;
}

function combine(channels: Channels, weights: Mix): Plane {
  const out = makePlane(channels[0].width, channels[0].height);
  const [r, g, b] = channels.map((channel) => channel.data);
  const [wr, wg, wb] = weights;
  addThree(wr, r, wg, g, wb, b, out.data);
  return out;
}

/** A function of its own, which the engine compiles early. */
function addThree(
  wr: number,
  r: Float32Array,
  wg: number,
  g: Float32Array,
  wb: number,
  b: Float32Array,
  out: Float32Array,
): void {
  for (let i = 0; i < out.length; i++) out[i] = wr * r[i] + wg * g[i] + wb * b[i];
}

/** Thin marks, darker than the ground; at 365 nm pencil may be either. */
function thinMarks(grey: Plane, reach: number, either: boolean): { strokes: Plane; noise: number } {
  const { strokes, noise } = strokesOf(grey, reach);
  if (!either) return { strokes, noise };
  const dark = strokesOf({ ...grey, data: grey.data.map((v) => -v) }, reach);
  for (let i = 0; i < strokes.data.length; i++) strokes.data[i] = Math.max(strokes.data[i], dark.strokes.data[i]);
  return { strokes, noise: Math.max(noise, dark.noise) };
}
