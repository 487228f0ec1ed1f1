import { doubleRoom, singleRoom } from "../../math/room.ts";
import type { SignalMap } from "../view.ts";

/** Side of the square that a mark fills, and how far to its sides the layer is compared, as shares of the longer side. */
const SIZE = 0.012;
const BESIDE = 0.0165;
const FAR = 0.04;
/** How far from the middle of its figure a mark stands, as a share of the width. */
const OFF = 0.02;
/** Of so many rows one says what chance does. */
const EVERY = 3;

/** What stands out within a column of a plate, in each row that is looked at. */
export interface Column {
  /** The strongest contrast of a small square to the layer close by at both sides. */
  readonly near: Float32Array;
  /** The contrast of the strongest square of row k to the layer farther off: more for a spot, not for a thin mark. */
  readonly far: (k: number) => number;
}

/** Contrasts of small squares over some rows of a plate. */
export interface Contrasts {
  /** The first row looked at, and the one after the last. */
  readonly from: number;
  readonly to: number;
  /**
   * @param x its middle in pixels
   * @param sign -1 where marks are brighter than the layer
   */
  readonly column: (x: number, sign: 1 | -1) => Column;
  /** What columns all over the plate show: the median, and how far a sixth of them lie below it. */
  readonly byChance: (sign: 1 | -1) => { readonly middle: number; readonly spread: number };
}

const sumsRoom = doubleRoom();
const gridRoom = singleRoom();

/** To be asked until those of the next photo are made, for which the same room is used. */
export function contrastsOf({ grey, width, height }: SignalMap, from: number, to: number): Contrasts {
  const half = Math.max(1, Math.round((SIZE * Math.max(width, height)) / 2));
  const beside = Math.round(BESIDE * Math.max(width, height)) + 1;
  const wide = Math.round(FAR * Math.max(width, height));
  const reach = OFF * width;
  const step = Math.max(1, half >> 1);
  const rows = to - from;
  const sums = squareSums(grey, from, to, half);
  const area = (2 * half + 1) ** 2;
  const mean = (k: number, c: number) => {
    const o = k * (width + 1) + Math.max(half, Math.min(width - half - 1, c));
    return (sums[o + half + 1] - sums[o - half]) / area;
  };
  const against = (k: number, c: number, off: number) => mean(k, c) - (mean(k, c - off) + mean(k, c + off)) / 2;
  // Places `step` apart whose neighbours are on the plate.
  const first = Math.ceil((half + beside) / step);
  const last = Math.floor((width - half - beside - 1) / step);
  const places = last - first + 1;
  const grid = gridRoom(rows * places);
  for (let k = 0; k < rows; k++)
    contrastsOfRow(sums, k * (width + 1), half, beside, first * step, step, grid, k * places, places);

  const column = (x: number, sign: 1 | -1, every = 1): Column => {
    const begin = Math.max(first, Math.ceil((x - reach) / step)) - first;
    const end = Math.min(last, Math.floor((x + reach) / step)) - first;
    const near = new Float32Array(rows);
    const at = new Int32Array(rows).fill(-1);
    for (let k = 0; k < rows; k += every) {
      const i = strongest(grid, k * places + begin, k * places + end, sign);
      if (i < 0) continue;
      at[k] = (first + i - k * places) * step;
      near[k] = sign * grid[i];
    }
    return { near, far: (k) => (at[k] < 0 ? 0 : sign * against(k, at[k], wide)) };
  };
  const byChance = (sign: 1 | -1) => {
    const count = Math.floor(1 / (2 * OFF));
    const kept = Math.ceil(rows / EVERY);
    const all = new Float32Array((count - 2) * kept);
    for (let c = 1, n = 0; c < count - 1; c++) {
      const { near } = column(((c + 0.5) * width) / count, sign, EVERY);
      for (let k = 0; k < rows; k += EVERY) all[n++] = near[k];
    }
    all.sort();
    const middle = all[all.length >> 1];
    return { middle, spread: Math.max(1e-6, middle - all[Math.floor(0.16 * all.length)]) };
  };
  return { from, to, column, byChance };
}

// Functions of their own for a row each: the engine compiles those early.

/** Contrasts of `count` squares of one row, whose sums begin at `o`, from x on and `step` apart: into `grid` from `g` on. */
function contrastsOfRow(
  sums: Float64Array,
  o: number,
  half: number,
  beside: number,
  x: number,
  step: number,
  grid: Float32Array,
  g: number,
  count: number,
): void {
  const area = (2 * half + 1) ** 2;
  for (let i = o + x, end = g + count; g < end; g++, i += step) {
    const own = (sums[i + half + 1] - sums[i - half]) / area;
    const left = (sums[i - beside + half + 1] - sums[i - beside - half]) / area;
    const right = (sums[i + beside + half + 1] - sums[i + beside - half]) / area;
    grid[g] = own - (left + right) / 2;
  }
}

/** Where the first of the strongest of some contrasts is; -1 where there is none. */
function strongest(grid: Float32Array, from: number, to: number, sign: 1 | -1): number {
  let at = from <= to ? from : -1;
  for (let i = from + 1; i <= to; i++) if (sign * grid[i] > sign * grid[at]) at = i;
  return at;
}

/** For each row the sums from the left of what lies at most `half` rows off it. */
function squareSums({ width, height, data }: SignalMap["grey"], from: number, to: number, half: number): Float64Array {
  const sums = sumsRoom((width + 1) * (to - from)).fill(0);
  const across = new Float64Array(width);
  const take = (y: number, by: 1 | -1) => {
    if (y >= 0 && y < height) addRow(data, y * width, by, across);
  };
  for (let y = from - half; y < from + half; y++) take(y, 1);
  for (let k = 0; k < to - from; k++) {
    take(from + k + half, 1);
    sumUp(across, sums, k * (width + 1));
    take(from + k - half, -1);
  }
  return sums;
}

function addRow(data: Float32Array, o: number, by: 1 | -1, sums: Float64Array): void {
  for (let x = 0; x < sums.length; x++) sums[x] += by * data[o + x];
}

function sumUp(values: Float64Array, sums: Float64Array, o: number): void {
  let s = 0;
  for (let x = 0; x < values.length; x++) {
    s += values[x];
    sums[o + x + 1] = s;
  }
}
