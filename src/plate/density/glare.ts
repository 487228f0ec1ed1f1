import { upperMedian } from "../../math/median.ts";
import { selectAt } from "../../math/select.ts";
import { blockMeans } from "../../raster/blocks.ts";
import type { Plane } from "../../raster/picture.ts";
import type { LinearView } from "../view.ts";
import { type Band, bandAcross } from "./glareBand.ts";

/** Blocks of the longer side that a streak is looked for in. */
const SIDE = 56;
/** Where spots glow, a row of them that touch is brighter than the layer from edge to edge too, but not as evenly. */
const EVEN_AT_365 = 0.55;
/** Streaks taken out of one photo. */
const MOST = 2;
/** Pieces along a streak, and how many of them on either side tell how bright it is at one: spots on it are shorter. */
const PIECES = 28;
const NEAR = 3;
/** How far the band's profile reaches, in distances of its sides. */
const REACH = 2.2;
/** Share of the profile at either end that the layer beside the streak is told from. */
const ENDS = 0.12;
/** Width in pixels of what is taken for one distance from the middle. */
const STEP = 2;

/**
 * Takes straight streaks of glare that run from edge to edge out of a photo of a plate: the mirror image of a tube adds its light to the
 * layer's, so that it is subtracted in linear light and what lies below shows.
 * @returns the view itself where there is none
 */
export function takeGlareOut(view: LinearView): LinearView {
  const even = view.light === "uv365" ? EVEN_AT_365 : 0;
  let clean = view;
  for (let k = 0; k < MOST; k++) {
    const { r, g, b } = clean;
    const factor = Math.max(1, Math.round(Math.max(r.width, r.height) / SIDE));
    const band = bandAcross(lightOf([r, g, b].map((plane) => blockMeans(plane, factor))), even);
    if (band === null) return clean;
    const whole: Band = { ...band, offset: band.offset * factor, aside: band.aside * factor };
    clean = { ...clean, r: without(r, whole), g: without(g, whole), b: without(b, whole) };
  }
  return clean;
}

/** Light that a black channel is taken to have. */
const LEAST_LIGHT = 1e-4;

/** Sum of the channels, each over its median. */
function lightOf(channels: readonly Plane[]): Plane {
  const [{ width, height }] = channels;
  const data = new Float32Array(width * height);
  for (const channel of channels) {
    const middle = selectAt(channel.data, channel.data.length >> 1) + LEAST_LIGHT;
    for (let i = 0; i < data.length; i++) data[i] += channel.data[i] / middle;
  }
  return { width, height, data };
}

/** A channel less what the band adds to it. */
function without(plane: Plane, band: Band): Plane {
  const { width, height, data } = plane;
  const reach = REACH * band.aside;
  const bins = Math.floor((2 * reach) / STEP);
  const half = Math.hypot(width, height) / 2;
  const pieceOf = (t: number) => ((t + half) / (2 * half)) * PIECES;
  const binOf = (s: number) => ((s + reach) / (2 * reach)) * bins;
  const values = Array.from({ length: PIECES * bins }, () => [] as number[]);
  const each = (act: (i: number, piece: number, bin: number) => void) => {
    for (let y = 0, i = 0; y < height; y++)
      for (let x = 0; x < width; x++, i++) {
        const [dx, dy] = [x + 0.5 - width / 2, y + 0.5 - height / 2];
        const s = dx * band.nx + dy * band.ny - band.offset;
        if (Math.abs(s) < reach) act(i, pieceOf(dy * band.nx - dx * band.ny), binOf(s));
      }
  };
  each((i, piece, bin) => values[Math.floor(piece) * bins + Math.floor(bin)].push(data[i]));
  const added = profileOf(values, bins);
  const out = data.slice();
  each((i, piece, bin) => {
    out[i] -= between(added, bins, piece - 0.5, bin - 0.5);
  });
  return { width, height, data: out };
}

/**
 * How much brighter each bin of each piece is than a straight line between its two ends, as its neighbours along the streak have it too;
 * one end does where the other lies beyond the plate.
 */
function profileOf(values: readonly (readonly number[])[], bins: number): Float32Array {
  const ends = Math.max(1, Math.round(ENDS * bins));
  const raw: number[][] = [];
  for (let piece = 0; piece < PIECES; piece++) {
    const own = values.slice(piece * bins, (piece + 1) * bins).map(upperMedian);
    const [first, last] = [mean(own.slice(0, ends)), mean(own.slice(-ends))];
    const [a, b] = [Number.isNaN(first) ? last : first, Number.isNaN(last) ? first : last];
    raw.push(own.map((v, k) => v - a - ((b - a) * k) / (bins - 1)));
  }
  const added = new Float32Array(values.length);
  for (let k = 0; k < bins; k++) {
    const known = raw.flatMap((own, piece) => (Number.isNaN(own[k]) ? [] : [piece]));
    for (let piece = 0; piece < PIECES && known.length > 0; piece++) {
      const at = Math.max(known[0], Math.min(known[known.length - 1], piece));
      // As many on either side, so that one that fades keeps fading to its ends.
      const reach = Math.max(1, Math.min(NEAR, at - known[0], known[known.length - 1] - at));
      const near = known.filter((other) => Math.abs(other - at) <= reach).map((other) => raw[other][k]);
      added[piece * bins + k] = near.length === 0 ? 0 : Math.max(0, upperMedian(near));
    }
  }
  return added;
}

function mean(values: readonly number[]): number {
  const known = values.filter((v) => !Number.isNaN(v));
  return known.reduce((sum, v) => sum + v, 0) / known.length;
}

/** Bilinear between the middles of pieces and bins. */
function between(added: Float32Array, bins: number, piece: number, bin: number): number {
  const p = Math.max(0, Math.min(PIECES - 1.001, piece));
  const k = Math.max(0, Math.min(bins - 1.001, bin));
  const [i, j] = [Math.floor(p), Math.floor(k)];
  const [u, v] = [p - i, k - j];
  const o = i * bins + j;
  return (1 - u) * ((1 - v) * added[o] + v * added[o + 1]) + u * ((1 - v) * added[o + bins] + v * added[o + bins + 1]);
}
