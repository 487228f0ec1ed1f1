import { selectAt } from "../math/select.ts";
import { boxBlur } from "./blur.ts";
import type { Plane } from "./picture.ts";

/** A line is looked for by how it stands out from what lies so far to its either side, pixels. */
export const BESIDE = 3;
/** Ridges so many times the usual noise are a line's. */
const RIDGE = 4;
/** A line runs one way: across it the plane is bent this many times as much as along it. */
const ONE_WAY = 2.5;
/** Where a plane has less noise, what stands out is still no line. */
const LEAST_NOISE = 0.003;
/** Middles that so many ridges point at, as a share of those that a whole outline would send, are looked at. */
const POINTED_AT = 0.35;
const MOST_LOOKED_AT = 40;
/** Middles are gathered in cells of so many pixels. */
const CELL = 3;

/** Radii of what is looked for, pixels. */
export interface RadiusRange {
  readonly least: number;
  readonly most: number;
}

/**
 * Places round which a thin closed line may run, the most pointed at first. Each point of a line points at both its sides (a Hough
 * transform for rings: C. Kimme, D. Ballard, J. Sklansky, Commun. ACM 1975, 18, 120).
 * @param plane a little smoothed
 * @param noise usual size of what stands out from both sides
 */
export function middlesOf(plane: Plane, range: RadiusRange, noise: number): { x: number; y: number }[] {
  const { width, height, data } = plane;
  const [across, down] = [Math.ceil(width / CELL), Math.ceil(height / CELL)];
  const raw = { width: across, height: down, data: new Float32Array(across * down) };
  const [xs, dx, dy] = [new Int32Array(width), new Float32Array(width), new Float32Array(width)];
  for (let y = BESIDE; y < height - BESIDE; y++) {
    const count = ridgesInRow(data, width, y, RIDGE * noise, xs, dx, dy);
    for (let k = 0; k < count; k++) pointToSides(xs, dx, dy, k, y, range.least, range.most, raw.data, across, down);
  }
  // Of a line one pixel wide: each of its points is in one cell, so far as its radius is in steps of the cells.
  return peaksOf(boxBlur(raw, 1, 1), range.least, (POINTED_AT * 2 * Math.PI) / 9);
}

/** Usual size of what stands out from both its sides. */
export function noiseBeside({ width, height, data }: Plane): number {
  const [columns, rows] = [width, height].map((side) => Math.max(0, Math.ceil((side - 2 * BESIDE) / 5)));
  const sample = new Float32Array(columns * rows);
  for (let row = 0; row < rows; row++)
    besideInRow(data, (5 * row + BESIDE) * width + BESIDE, sample, row * columns, columns);
  return Math.max(LEAST_NOISE, selectAt(sample, sample.length >> 1) / 0.6745);
}

// Functions of their own for a row, or a point, each: the engine compiles those early.

function besideInRow(data: Float32Array, from: number, sample: Float32Array, o: number, count: number): void {
  for (let k = 0, i = from; k < count; k++, i += 5)
    sample[o + k] = Math.abs(2 * data[i] - data[i - BESIDE] - data[i + BESIDE]);
}

/**
 * Where a row of the plane is bent like a ridge: much across, little along (second differences, eigenvectors of the Hessian).
 * @param xs for each such point its place, `dx` and `dy` the direction across the line
 * @returns how many they are
 */
function ridgesInRow(
  data: Float32Array,
  width: number,
  y: number,
  least: number,
  xs: Int32Array,
  dx: Float32Array,
  dy: Float32Array,
): number {
  const s = BESIDE;
  const away = s * width;
  let count = 0;
  for (let x = s, i = y * width + s; x < width - s; x++, i++) {
    const xx = 2 * data[i] - data[i - s] - data[i + s];
    const yy = 2 * data[i] - data[i - away] - data[i + away];
    if (xx + yy < least) continue;
    const up = i - away;
    const down = i + away;
    const xy = -(data[down + s] + data[up - s] - data[down - s] - data[up + s]) / 4;
    const middle = (xx + yy) / 2;
    const half = Math.hypot((xx - yy) / 2, xy);
    if (middle + half < least || middle + half < ONE_WAY * Math.abs(middle - half)) continue;
    const angle = Math.atan2(2 * xy, xx - yy) / 2;
    xs[count] = x;
    dx[count] = Math.cos(angle);
    dy[count] = Math.sin(angle);
    count++;
  }
  return count;
}

/** Adds up where ridge `k` of a row points. A longer line sends more: each place is told what share of a whole outline points at it. */
function pointToSides(
  xs: Int32Array,
  dx: Float32Array,
  dy: Float32Array,
  k: number,
  y: number,
  least: number,
  most: number,
  votes: Float32Array,
  across: number,
  down: number,
): void {
  for (let r = least; r <= most; r += CELL)
    for (let side = -r; side <= r; side += 2 * r) {
      const u = Math.floor((xs[k] + side * dx[k]) / CELL);
      const v = Math.floor((y + side * dy[k]) / CELL);
      if (u >= 0 && v >= 0 && u < across && v < down) votes[v * across + u] += 1 / r;
    }
}

/** The highest places, the highest first, none near another. */
function peaksOf({ width, height, data }: Plane, apart: number, least: number): { x: number; y: number }[] {
  const some: number[] = [];
  for (let y = 0; y < height; y++) topsInRow(data, y * width, (y + 1) * width, least, some);
  some.sort((a, b) => data[b] - data[a] || a - b);
  const taken: { x: number; y: number }[] = [];
  for (const i of some) {
    if (taken.length >= MOST_LOOKED_AT) break;
    const [x, y] = [((i % width) + 0.5) * CELL, (Math.floor(i / width) + 0.5) * CELL];
    if (taken.every((t) => (t.x - x) ** 2 + (t.y - y) ** 2 > (apart / 2) ** 2)) taken.push({ x, y });
  }
  return taken;
}

function topsInRow(data: Float32Array, from: number, to: number, least: number, tops: number[]): void {
  for (let i = from; i < to; i++)
    if (data[i] >= least && data[i] >= (data[i - 1] ?? 0) && data[i] > (data[i + 1] ?? 0)) tops.push(i);
}
