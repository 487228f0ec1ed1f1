import { connectedPatches, type Patch } from "../../raster/components.ts";
import { FIGURE_NET } from "./figureNet.ts";
import type { Strokes } from "./signs.ts";

/** A figure's size as a share of the plate's longer side, its least size in pixels, and how much longer than wide it may be. */
const SIZE = { least: 0.014, most: 0.085, pixels: 6, slender: 3.5 };
const STROKE = 4;
const LEAST_AREA = 8;
/** Side of the window around a mark over the mark's longer side. */
const WINDOW = 1.28;
/** What the network sees as neither dark nor bright. */
const GREY = 0.25;
/** Share of a mark's probability that is spread over all turns whatever the network says. */
const WARY = 0.08;
/** Logarithm of odds that the figures of a plate weigh at most against a turn. */
const MOST = 25;

const { side: SIDE, scale, biases, output, bias } = FIGURE_NET;
const CELLS = SIDE * SIDE;
const WEIGHTS = Float32Array.from(
  new Int8Array(Uint8Array.from(atob(FIGURE_NET.weights), (c) => c.charCodeAt(0)).buffer),
  (v) => v * scale,
);

/**
 * What the figures on a plate say about its turn: figures are written to be read front up. Each small mark is shown to a network
 * in all four turns; the logarithms of what it answers are added up.
 * @returns for 0, 1, 2 and 3 quarter turns clockwise: tenths of the logarithm of the odds against chance; 0 where nothing is written
 */
export function figuresUpright(signs: Strokes): [number, number, number, number] {
  const sums: [number, number, number, number] = [0, 0, 0, 0];
  for (const patch of figureLike(signs)) {
    const scores = uprightScores(windowOn(signs, patch));
    const top = Math.max(0, ...scores);
    const none = Math.exp(-top);
    const shares = scores.map((s) => Math.exp(s - top));
    const all = shares.reduce((sum, v) => sum + v, none);
    for (let t = 0; t < 4; t++) sums[t] += Math.log(4 * (1 - WARY) * ((shares[t] + none / 4) / all) + WARY);
  }
  return [clipped(sums[0]), clipped(sums[1]), clipped(sums[2]), clipped(sums[3])];
}

function clipped(sum: number): number {
  return Math.max(-MOST, Math.min(MOST, sum)) / 10;
}

function figureLike({ width, height, strokes }: Strokes): Patch[] {
  const mask = new Uint8Array(strokes.length);
  for (let i = 0; i < mask.length; i++) if (strokes[i] > STROKE) mask[i] = 255;
  const long = Math.max(width, height);
  return connectedPatches(mask, width, height, LEAST_AREA).filter(({ x0, x1, y0, y1 }) => {
    const size = Math.max(x1 - x0, y1 - y0);
    if (SIZE.slender * Math.min(x1 - x0, y1 - y0) < size) return false;
    return size >= Math.max(SIZE.pixels, SIZE.least * long) && size <= SIZE.most * long;
  });
}

/** A square around a mark, 12 x 12 means of the strokes, 0 to 1. */
function windowOn(signs: Strokes, { x0, x1, y0, y1 }: Patch): Float32Array {
  const size = Math.max(x1 - x0, y1 - y0) * WINDOW;
  const left = (x0 + x1 - 1 - size) / 2;
  const top = (y0 + y1 - 1 - size) / 2;
  const cell = size / SIDE;
  const fine = Math.max(1, Math.ceil(cell * 1.5));
  const seen = new Float32Array(CELLS);
  for (let j = 0, k = 0; j < SIDE; j++)
    for (let i = 0; i < SIDE; i++, k++)
      for (let b = 0; b < fine; b++)
        for (let a = 0; a < fine; a++)
          seen[k] += strokeAt(signs, left + (i + (a + 0.5) / fine) * cell, top + (j + (b + 0.5) / fine) * cell);
  const most = seen.reduce((m, v) => Math.max(m, v), 0) || 1;
  return seen.map((v) => v / most);
}

/** Strokes between pixels, linearly; 0 outside of the plate and where it is bright. */
function strokeAt({ width, height, strokes }: Strokes, x: number, y: number): number {
  const xi = Math.floor(x);
  const yi = Math.floor(y);
  if (xi < 0 || yi < 0 || xi + 1 >= width || yi + 1 >= height) return 0;
  const i = yi * width + xi;
  const upper = strokes[i] + (strokes[i + 1] - strokes[i]) * (x - xi);
  const lower = strokes[i + width] + (strokes[i + width + 1] - strokes[i + width]) * (x - xi);
  return Math.max(0, upper + (lower - upper) * (y - yi));
}

/** How much a window looks like an upright figure as it is and turned clockwise by 1, 2 and 3 quarters, all four at once. */
function uprightScores(seen: Float32Array): [number, number, number, number] {
  const quarter = turned(seen);
  const half = turned(quarter);
  const threeQuarters = turned(half);
  const scores: [number, number, number, number] = [bias, bias, bias, bias];
  for (let unit = 0; unit < output.length; unit++) {
    let [a, b, c, d]: number[] = [biases[unit], biases[unit], biases[unit], biases[unit]];
    for (let k = 0, i = unit * CELLS; k < CELLS; k++, i++) {
      const weight = WEIGHTS[i];
      a += (seen[k] - GREY) * weight;
      b += (quarter[k] - GREY) * weight;
      c += (half[k] - GREY) * weight;
      d += (threeQuarters[k] - GREY) * weight;
    }
    scores[0] += output[unit] * Math.tanh(a);
    scores[1] += output[unit] * Math.tanh(b);
    scores[2] += output[unit] * Math.tanh(c);
    scores[3] += output[unit] * Math.tanh(d);
  }
  return scores;
}

/** Clockwise by a quarter. */
function turned(seen: Float32Array): Float32Array {
  const to = new Float32Array(CELLS);
  for (let y = 0, k = 0; y < SIDE; y++) for (let x = 0; x < SIDE; x++, k++) to[x * SIDE + SIDE - 1 - y] = seen[k];
  return to;
}
