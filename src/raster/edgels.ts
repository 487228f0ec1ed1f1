import type { Sketch } from "./shrink.ts";
import { workingRoom } from "./workingRoom.ts";

/** Edge points of a picture, structure of arrays. */
export interface Edgels {
  readonly count: number;
  /** Sub-pixel position, in pixels of the sketch (a pixel's centre lies at .5). */
  readonly x: Float32Array;
  readonly y: Float32Array;
  /** Unit vector along which the picture gets brighter. */
  readonly nx: Float32Array;
  readonly ny: Float32Array;
  /** Strength against its surroundings, 0..1: faint edges on quiet ground count as much as bold ones. */
  readonly weight: Float32Array;
}

const rooms = Array.from({ length: 5 }, workingRoom);
const pointRooms = Array.from({ length: 5 }, workingRoom);

/**
 * Edge points after J. Canny (IEEE PAMI 1986, 8, 679): binomial smoothing, central differences in the colour channel
 * with the largest gradient, non-maximum suppression along it, sub-pixel place from a parabola.
 * The weight grows from 0 where the gradient is like that around to 1 where it is far above it and above the noise.
 * @param noise standard deviation of the sketch's noise, codes
 */
export function findEdgels(sketch: Sketch, noise: number): Edgels {
  const { width: w, height: h } = sketch;
  const n = w * h;
  const [gx, gy, strength, smooth, rowBuffer] = rooms.map((room) => room(n));
  // Only where this is above 0 are the others read.
  strength.fill(0);
  for (const channel of [sketch.r, sketch.g, sketch.b]) {
    binomial(channel, w, h, rowBuffer, smooth);
    for (let y = 1; y < h - 1; y++) steeper(smooth, w, y, strength, gx, gy);
  }
  // The mean of roots, squared: a few bold edges nearby must not hide a faint one.
  roots(strength, strength);
  roots(strength, smooth);
  const around = boxMean(smooth, w, h, Math.round(Math.max(w, h) / 16), rowBuffer, smooth);
  squares(around);
  return collect(gx, gy, strength, around, w, h, noise);
}

// Loops over pixels are functions of their own, a row at a time: the engine compiles those for themselves, and early.

/** Takes over the gradients of one row of a channel where they are larger than those before. */
function steeper(
  smooth: Float32Array,
  w: number,
  y: number,
  strength: Float32Array,
  gx: Float32Array,
  gy: Float32Array,
): void {
  for (let i = y * w + 1, end = (y + 1) * w - 1; i < end; i++) {
    const dx = smooth[i + 1] - smooth[i - 1];
    const dy = smooth[i + w] - smooth[i - w];
    const m = dx * dx + dy * dy;
    if (m > strength[i]) {
      strength[i] = m;
      gx[i] = dx;
      gy[i] = dy;
    }
  }
}

function roots(values: Float32Array, out: Float32Array): void {
  for (let i = 0; i < values.length; i++) out[i] = Math.sqrt(values[i]);
}

function squares(values: Float32Array): void {
  for (let i = 0; i < values.length; i++) values[i] *= values[i];
}

/** The points gathered so far: room for them, as in `Edgels`. */
type Points = Readonly<Record<"x" | "y" | "nx" | "ny" | "weight", Float32Array>>;

function collect(
  gx: Float32Array,
  gy: Float32Array,
  strength: Float32Array,
  around: Float32Array,
  w: number,
  h: number,
  noise: number,
): Edgels {
  const [x, y, nx, ny, weight] = pointRooms.map((points) => points(Math.ceil((w * h) / 3)));
  const points = { x, y, nx, ny, weight };
  let count = 0;
  for (let row = 2; row < h - 2; row++) count = collectRow(gx, gy, strength, around, w, row, noise, points, count);
  const kept = (values: Float32Array) => values.slice(0, count);
  return { count, x: kept(x), y: kept(y), nx: kept(nx), ny: kept(ny), weight: kept(weight) };
}

/** Adds the edge points of one row; returns how many they are then. */
function collectRow(
  gx: Float32Array,
  gy: Float32Array,
  strength: Float32Array,
  around: Float32Array,
  w: number,
  row: number,
  noise: number,
  { x: xs, y: ys, nx, ny, weight }: Points,
  before: number,
): number {
  const floor = 0.9 * noise;
  let count = before;
  for (let x = 2, i = row * w + 2; x < w - 2 && count < xs.length; x++, i++) {
    const m = strength[i];
    if (m < floor) continue;
    const share = m / (m + Math.max(noise, around[i]));
    const own = (share - 0.4) / 0.6;
    if (own <= 0.02) continue;
    const ux = gx[i] / m;
    const uy = gy[i] / m;
    const ax = Math.abs(ux);
    const ay = Math.abs(uy);
    let before: number;
    let after: number;
    let step: number;
    if (ax >= ay) {
      const t = ay / ax;
      const turn = ux * uy >= 0 ? w : -w;
      after = (1 - t) * strength[i + 1] + t * strength[i + 1 + turn];
      before = (1 - t) * strength[i - 1] + t * strength[i - 1 - turn];
      step = ux >= 0 ? 1 / ax : -1 / ax;
    } else {
      const t = ax / ay;
      const turn = ux * uy >= 0 ? 1 : -1;
      after = (1 - t) * strength[i + w] + t * strength[i + w + turn];
      before = (1 - t) * strength[i - w] + t * strength[i - w - turn];
      step = uy >= 0 ? 1 / ay : -1 / ay;
    }
    if (m < before || m <= after) continue;
    const curve = before - 2 * m + after;
    const shift = curve < -1e-9 ? (0.5 * (before - after)) / curve : 0;
    xs[count] = x + 0.5 + shift * step * ux;
    ys[count] = row + 0.5 + shift * step * uy;
    nx[count] = ux;
    ny[count] = uy;
    weight[count] = own;
    count++;
  }
  return count;
}

/** 1-4-6-4-1 in both directions; borders repeat. */
function binomial(source: Float32Array, w: number, h: number, rows: Float32Array, out: Float32Array): void {
  for (let y = 0; y < h; y++) binomialAlong(source, y * w, w, rows);
  const at = (y: number) => Math.max(0, Math.min(h - 1, y)) * w;
  for (let y = 0; y < h; y++) binomialAcross(rows, at(y - 2), at(y - 1), y * w, at(y + 1), at(y + 2), w, out);
}

/** The row that begins at `o`. */
function binomialAlong(source: Float32Array, o: number, w: number, out: Float32Array): void {
  const last = o + w - 1;
  for (let i = o + 2; i <= last - 2; i++)
    out[i] = (source[i - 2] + source[i + 2] + 4 * (source[i - 1] + source[i + 1]) + 6 * source[i]) * 0.0625;
  binomialAtEnd(source, o, last, o, out);
  binomialAtEnd(source, o, last, Math.min(last, o + 1), out);
  binomialAtEnd(source, o, last, Math.max(o, last - 1), out);
  binomialAtEnd(source, o, last, last, out);
}

/** At place `i` of a row from `first` to `last`, whose ends repeat. */
function binomialAtEnd(source: Float32Array, first: number, last: number, i: number, out: Float32Array): void {
  const a = source[Math.max(first, i - 2)];
  const b = source[Math.max(first, i - 1)];
  const d = source[Math.min(last, i + 1)];
  const e = source[Math.min(last, i + 2)];
  out[i] = (a + e + 4 * (b + d) + 6 * source[i]) * 0.0625;
}

/** One row from those that begin at a, b, c, d and e. */
function binomialAcross(
  rows: Float32Array,
  a: number,
  b: number,
  c: number,
  d: number,
  e: number,
  w: number,
  out: Float32Array,
): void {
  for (let x = 0; x < w; x++)
    out[c + x] = (rows[a + x] + rows[e + x] + 4 * (rows[b + x] + rows[d + x]) + 6 * rows[c + x]) * 0.0625;
}

/** Mean over a square of (2 radius + 1) pixels, cut at the borders, by running sums. */
function boxMean(
  source: Float32Array,
  w: number,
  h: number,
  radius: number,
  rows: Float32Array,
  out: Float32Array,
): Float32Array {
  for (let y = 0; y < h; y++) meanAlong(source, y * w, w, radius, rows);
  const sums = new Float64Array(w);
  for (let y = 0; y < Math.min(radius, h); y++) addRow(rows, y * w, sums);
  for (let y = 0; y < h; y++) {
    if (y + radius < h) addRow(rows, (y + radius) * w, sums);
    if (y - radius - 1 >= 0) takeRow(rows, (y - radius - 1) * w, sums);
    const share = 1 / (Math.min(h - 1, y + radius) - Math.max(0, y - radius) + 1);
    for (let x = 0, i = y * w; x < w; x++, i++) out[i] = sums[x] * share;
  }
  return out;
}

/** Running means of the row that begins at `o`. */
function meanAlong(source: Float32Array, o: number, w: number, radius: number, out: Float32Array): void {
  let sum = 0;
  for (let x = 0; x < Math.min(radius, w); x++) sum += source[o + x];
  for (let x = 0; x < w; x++) {
    if (x + radius < w) sum += source[o + x + radius];
    if (x - radius - 1 >= 0) sum -= source[o + x - radius - 1];
    out[o + x] = sum / (Math.min(w - 1, x + radius) - Math.max(0, x - radius) + 1);
  }
}

function addRow(values: Float32Array, o: number, sums: Float64Array): void {
  for (let x = 0; x < sums.length; x++) sums[x] += values[o + x];
}

function takeRow(values: Float32Array, o: number, sums: Float64Array): void {
  for (let x = 0; x < sums.length; x++) sums[x] -= values[o + x];
}

/**
 * Standard deviation of the pixel noise of a sketch, codes: the median over small blocks of the mean absolute response
 * to the difference of two Laplacians, which is blind to planes and straight edges
 * (J. Immerkaer, Computer Vision and Image Understanding 1996, 64, 300). At least 0.05.
 */
export function sketchNoise(sketch: Sketch): number {
  const { width: w, height: h } = sketch;
  let worst = 0;
  for (const c of [sketch.r, sketch.g, sketch.b]) {
    const means: number[] = [];
    for (let y0 = 1; y0 + 8 < h; y0 += 16) {
      for (let x0 = 1; x0 + 8 < w; x0 += 16) {
        means.push(laplacians(c, w, x0, y0) / 64);
      }
    }
    means.sort((a, b) => a - b);
    const median = means.length > 0 ? means[means.length >> 1] : 0;
    worst = Math.max(worst, (Math.sqrt(Math.PI / 2) / 6) * median);
  }
  return Math.max(0.05, worst);
}

/** Sum of the sizes of the response over 8 x 8 pixels. */
function laplacians(c: Float32Array, w: number, x0: number, y0: number): number {
  let sum = 0;
  for (let y = y0; y < y0 + 8; y++) {
    for (let x = x0, i = y * w + x0; x < x0 + 8; x++, i++) {
      sum += Math.abs(
        c[i - w - 1] +
          c[i - w + 1] +
          c[i + w - 1] +
          c[i + w + 1] -
          2 * (c[i - 1] + c[i + 1] + c[i - w] + c[i + w]) +
          4 * c[i],
      );
    }
  }
  return sum;
}
