import { connectedPatches, maskAbove, type Patch } from "../../raster/components.ts";
import { FIGURE_NET } from "./figureNet.ts";
import type { Strokes } from "./signs.ts";

/** A mark that may be a figure. */
export interface FigureMark {
  /** Its middle in shares of the plate's width and height. */
  readonly x: number;
  readonly y: number;
  /** Probabilities: for each of four turns, each answer of the network read that way; last, that it is none. They add up to 1. */
  readonly shares: Float32Array;
}

/** What a mark may be: 0 to 9 are those figures. */
export const ANSWERS = 12;
export const LETTER = 10;
/** Two figures that run together. */
export const PAIR = 11;
const NONE = 4 * ANSWERS;

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

const { side: SIDE, scale, biases, outputScale, outputBiases } = FIGURE_NET;
const CELLS = SIDE * SIDE;
const UNITS = biases.length;
const WEIGHTS = signedBytes(FIGURE_NET.weights, scale);
const OUTPUTS = signedBytes(FIGURE_NET.outputs, outputScale);

function signedBytes(text: string, scale: number): Float32Array {
  const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
  return Float32Array.from(new Int8Array(bytes.buffer), (v) => v * scale);
}

/**
 * The small marks on a plate that are not slender, each read by the network in all four turns.
 * @param joined whether strokes that lie a pixel or two apart are one mark: faint figures fall apart
 */
export function figureMarks(plate: Strokes, joined: boolean): FigureMark[] {
  const { width, height } = plate;
  return figureLike(plate, joined).map((patch) => ({
    x: (patch.x0 + patch.x1 - 1) / 2 / width,
    y: (patch.y0 + patch.y1 - 1) / 2 / height,
    shares: sharesOf(windowOn(plate, patch)),
  }));
}

/**
 * What the figures on a plate say about its turn: figures are written to be read front up.
 * @returns for 0, 1, 2 and 3 quarter turns clockwise: tenths of the logarithm of the odds against chance; 0 where nothing is written
 */
export function figuresUpright(marks: readonly FigureMark[]): [number, number, number, number] {
  const sums: [number, number, number, number] = [0, 0, 0, 0];
  for (const { shares } of marks)
    for (let t = 0; t < 4; t++) {
      let share = shares[NONE] / 4;
      for (let k = t * ANSWERS; k < (t + 1) * ANSWERS; k++) share += shares[k];
      sums[t] += Math.log(4 * (1 - WARY) * share + WARY);
    }
  return [clipped(sums[0]), clipped(sums[1]), clipped(sums[2]), clipped(sums[3])];
}

function clipped(sum: number): number {
  return Math.max(-MOST, Math.min(MOST, sum)) / 10;
}

function figureLike({ width, height, strokes }: Strokes, joined: boolean): Patch[] {
  const mask = maskAbove(strokes, STROKE);
  const long = Math.max(width, height);
  return connectedPatches(joined ? grown(mask, width, height) : mask, width, height, LEAST_AREA).filter(
    ({ x0, x1, y0, y1 }) => {
      const size = Math.max(x1 - x0, y1 - y0);
      if (SIZE.slender * Math.min(x1 - x0, y1 - y0) < size) return false;
      return size >= Math.max(SIZE.pixels, SIZE.least * long) && size <= SIZE.most * long;
    },
  );
}

/** What is set or beside something set. */
function grown(mask: Uint8Array, width: number, height: number): Uint8Array {
  const wide = new Uint8Array(mask.length);
  for (let y = 1; y < height - 1; y++)
    for (let x = 1, i = y * width + 1; x < width - 1; x++, i++) {
      if (mask[i] === 0) continue;
      for (let k = i - width; k <= i + width; k += width) wide[k - 1] = wide[k] = wide[k + 1] = 255;
    }
  return wide;
}

/** A square around a mark, 12 x 12 means of the strokes, 0 to 1. */
function windowOn(signs: Strokes, { x0, x1, y0, y1 }: Patch): Float32Array {
  const size = Math.max(x1 - x0, y1 - y0) * WINDOW;
  const left = (x0 + x1 - 1 - size) / 2;
  const top = (y0 + y1 - 1 - size) / 2;
  const cell = size / SIDE;
  const fine = Math.max(1, Math.ceil(cell * 1.5));
  const seen = new Float32Array(CELLS);
  for (let j = 0; j < SIDE; j++)
    for (let b = 0; b < fine; b++)
      addStrokes(signs, left, top + (j + (b + 0.5) / fine) * cell, cell, fine, seen, j * SIDE);
  const most = seen.reduce((m, v) => Math.max(m, v), 0) || 1;
  return seen.map((v) => v / most);
}

/** Adds up the strokes along a level line, `fine` places a cell. */
function addStrokes(
  signs: Strokes,
  left: number,
  y: number,
  cell: number,
  fine: number,
  seen: Float32Array,
  first: number,
): void {
  for (let i = 0; i < SIDE; i++)
    for (let a = 0; a < fine; a++) seen[first + i] += strokeAt(signs, left + (i + (a + 0.5) / fine) * cell, y);
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

/** What a window shows as it is and turned clockwise by 1, 2 and 3 quarters, all four at once. */
function sharesOf(seen: Float32Array): Float32Array {
  const quarter = turned(seen);
  const half = turned(quarter);
  const shown = [seen, quarter, half, turned(half)].map(lessGrey);
  const scores = new Float64Array(NONE + 1);
  for (let t = 0; t < 4; t++) scores.set(outputBiases, t * ANSWERS);
  for (let unit = 0; unit < UNITS; unit++) addUnit(unit, shown, scores);
  const top = scores.reduce((most, score) => Math.max(most, score), 0);
  const shares = Float32Array.from(scores, (score) => Math.exp(score - top));
  const all = shares.reduce((sum, share) => sum + share, 0);
  return shares.map((share) => share / all);
}

function lessGrey(window: Float32Array): Float64Array {
  const less = new Float64Array(CELLS);
  for (let k = 0; k < CELLS; k++) less[k] = window[k] - GREY;
  return less;
}

/** Adds to the scores of the four windows what one hidden unit makes of each. */
function addUnit(
  unit: number,
  [none, quarter, half, threeQuarters]: readonly Float64Array[],
  scores: Float64Array,
): void {
  let [a, b, c, d]: number[] = [biases[unit], biases[unit], biases[unit], biases[unit]];
  for (let k = 0, i = unit * CELLS; k < CELLS; k++, i++) {
    const weight = WEIGHTS[i];
    a += none[k] * weight;
    b += quarter[k] * weight;
    c += half[k] * weight;
    d += threeQuarters[k] * weight;
  }
  [a, b, c, d] = [Math.tanh(a), Math.tanh(b), Math.tanh(c), Math.tanh(d)];
  for (let k = 0, i = unit; k < ANSWERS; k++, i += UNITS) {
    const weight = OUTPUTS[i];
    scores[k] += a * weight;
    scores[k + ANSWERS] += b * weight;
    scores[k + 2 * ANSWERS] += c * weight;
    scores[k + 3 * ANSWERS] += d * weight;
  }
}

/** Clockwise by a quarter. */
function turned(seen: Float32Array): Float32Array {
  const to = new Float32Array(CELLS);
  for (let y = 0, k = 0; y < SIDE; y++) for (let x = 0; x < SIDE; x++, k++) to[x * SIDE + SIDE - 1 - y] = seen[k];
  return to;
}
