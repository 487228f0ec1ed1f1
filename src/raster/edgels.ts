import { singleRoom } from "../math/room.ts";
import type { Sketch } from "./shrink.ts";

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

const planesRoom = singleRoom();
const meansRoom = singleRoom();
const pointRooms = Array.from({ length: 5 }, singleRoom);

/**
 * Edge points after J. Canny (IEEE PAMI 1986, 8, 679): binomial smoothing, central differences in the colour channel
 * with the largest gradient, non-maximum suppression along it, sub-pixel place from a parabola.
 * The weight grows from 0 where the gradient is like that around to 1 where it is far above it and above the noise.
 * @param noise standard deviation of the sketch's noise, codes
 */
export function findEdgels(sketch: Sketch, noise: number): Edgels {
  const { width: w, height: h } = sketch;
  const n = w * h;
  const planes = planesRoom(3 * n);
  const roots = new Float64Array(w);
  const findGradients = gradientRows(sketch, planes, roots);
  // Means of roots along each row, and a row of nothing.
  const means = meansRoom(n + w);
  means.fill(0, n);
  const levels = new Float64Array(2 * w);
  const [x, y, nx, ny, weight] = pointRooms.map((points) => points(Math.ceil(n / 3)));
  const points = { x, y, nx, ny, weight };
  const radius = Math.max(1, Math.round(Math.max(w, h) / 16));
  let count = 0;
  // Each row is done with as soon as what lies around it is known, while that is at hand.
  for (let row = -radius; row < h; row++) {
    const [entering, leaving] = [row + radius, row - radius - 1];
    if (entering < h) {
      findGradients(entering);
      meanAlong(roots, radius, means, entering * w);
    }
    const share = 1 / (Math.min(h - 1, entering) - Math.max(-1, leaving));
    findLevels(means, entering < h ? entering * w : n, leaving < 0 ? n : leaving * w, share, levels, w);
    if (row >= 2 && row < h - 2) count = collectRow(planes, n, w, row, levels, noise, points, count);
  }
  const kept = (values: Float32Array) => values.slice(0, count);
  return { count, x: kept(x), y: kept(y), nx: kept(nx), ny: kept(ny), weight: kept(weight) };
}

// Loops over pixels are functions of their own, a row at a time: the engine compiles those for themselves, and early. It looks again at
// each array that a loop uses at every turn, so what is used together lies in one.

/**
 * Finds the gradients of a sketch, smoothed (1-4-6-4-1 in both directions; borders repeat), a row each time, from the first one on.
 * @param planes for three planes one after another: the gradient of the channel that has the largest, across and down, and its size;
 *   the gradient only where that is above 0
 * @param roots for the roots of the sizes of the latest row
 */
function gradientRows(sketch: Sketch, planes: Float32Array, roots: Float64Array): (row: number) => void {
  const { width: w, height: h } = sketch;
  const n = w * h;
  // For each channel five rows smoothed along, row y in place y modulo 5, and three smoothed both ways.
  const rows = new Float64Array(3 * 8 * w);
  const along = (y: number) => (Math.max(0, Math.min(h - 1, y)) % 5) * w;
  const smooth = (y: number) => (5 + (y % 3)) * w;
  const channels = [sketch.r, sketch.g, sketch.b];
  const smoothRow = (y: number) => {
    for (let c = 0; c < 3; c++) {
      const o = 8 * c * w;
      const e = o + along(y + 2);
      if (y + 2 < h) binomialAlong(channels[c], (y + 2) * w, w, rows, e);
      if (y < 0) continue;
      const a = o + along(y - 2);
      binomialAcross(rows, a, o + along(y - 1), o + along(y), o + along(y + 1), e, o + smooth(y), w);
    }
  };
  for (let y = -2; y < 1; y++) smoothRow(y);
  return (row) => {
    if (row + 1 < h) smoothRow(row + 1);
    planes.fill(0, 2 * n + row * w, 2 * n + (row + 1) * w);
    roots.fill(0);
    if (row === 0 || row + 1 >= h) return;
    steepest(rows, smooth(row - 1), smooth(row), smooth(row + 1), 8 * w, planes, row * w, n, roots);
  };
}

/** The row that begins at `from`, smoothed along it, to where it begins in `out`. */
function binomialAlong(source: Float32Array, from: number, w: number, out: Float64Array, to: number): void {
  const last = from + w - 1;
  let a = source[from];
  let b = a;
  let c = a;
  let d = source[Math.min(from + 1, last)];
  for (let x = 0; x < w; x++) {
    const e = source[Math.min(from + x + 2, last)];
    out[to + x] = Math.fround((a + e + 4 * (b + d) + 6 * c) * 0.0625);
    a = b;
    b = c;
    c = d;
    d = e;
  }
}

/** One row from those that begin at a, b, c, d and e, to where it begins. */
function binomialAcross(
  rows: Float64Array,
  a: number,
  b: number,
  c: number,
  d: number,
  e: number,
  to: number,
  w: number,
): void {
  for (let x = 0; x < w; x++)
    rows[to + x] = Math.fround(
      (rows[a + x] + rows[e + x] + 4 * (rows[b + x] + rows[d + x]) + 6 * rows[c + x]) * 0.0625,
    );
}

/**
 * The gradients of a row, its ends left out, from where it and those above and below it begin.
 * @param channel from a row of red to that of green, and from there to that of blue
 */
function steepest(
  rows: Float64Array,
  above: number,
  at: number,
  below: number,
  channel: number,
  planes: Float32Array,
  o: number,
  n: number,
  roots: Float64Array,
): void {
  const blue = 2 * channel;
  for (let x = 1; x < roots.length - 1; x++) {
    const i = at + x;
    const up = above + x;
    const down = below + x;
    let dx = rows[i + 1] - rows[i - 1];
    let dy = rows[down] - rows[up];
    let square = Math.fround(dx * dx + dy * dy);
    const gx = rows[i + channel + 1] - rows[i + channel - 1];
    const gy = rows[down + channel] - rows[up + channel];
    const green2 = gx * gx + gy * gy;
    if (green2 > square) {
      dx = gx;
      dy = gy;
      square = Math.fround(green2);
    }
    const bx = rows[i + blue + 1] - rows[i + blue - 1];
    const by = rows[down + blue] - rows[up + blue];
    const blue2 = bx * bx + by * by;
    if (blue2 > square) {
      dx = bx;
      dy = by;
      square = Math.fround(blue2);
    }
    const size = Math.fround(Math.sqrt(square));
    planes[o + x] = dx;
    planes[n + o + x] = dy;
    planes[2 * n + o + x] = size;
    roots[x] = Math.fround(Math.sqrt(size));
  }
}

/** Running means over (2 radius + 1) values, fewer at the ends, to where a row begins in `out`. */
function meanAlong(values: Float64Array, radius: number, out: Float32Array, o: number): void {
  const w = values.length;
  let sum = 0;
  let count = 0;
  for (; count < radius && count < w; count++) sum += values[count];
  for (let x = 0; x < w; x++) {
    if (x + radius < w) {
      sum += values[x + radius];
      count++;
    }
    if (x > radius) {
      sum -= values[x - radius - 1];
      count--;
    }
    out[o + x] = sum / count;
  }
}

/**
 * Strength around each place of a row: the mean of roots, squared, since a few bold edges nearby must not hide a faint one.
 * @param entering where the row of means begins that the sums do not hold yet, and the one that they hold no more
 * @param share one over how many rows they hold then
 * @param levels the strength, and behind it the sums
 */
function findLevels(
  means: Float32Array,
  entering: number,
  leaving: number,
  share: number,
  levels: Float64Array,
  w: number,
): void {
  for (let x = 0; x < w; x++) {
    const sum = levels[w + x] + (means[entering + x] - means[leaving + x]);
    const mean = Math.fround(sum * share);
    levels[w + x] = sum;
    levels[x] = Math.fround(mean * mean);
  }
}

/** The points gathered so far: room for them, as in `Edgels`. */
type Points = Readonly<Record<"x" | "y" | "nx" | "ny" | "weight", Float32Array>>;

/** What is less than this part of the strength around has too little weight: about 0.02. */
const WEAK = 0.7;
/** Beyond rounding. */
const SURELY = 1 + 1e-9;

/** Adds the edge points of one row; returns how many they are then. */
function collectRow(
  planes: Float32Array,
  n: number,
  w: number,
  row: number,
  levels: Float64Array,
  noise: number,
  { x: xs, y: ys, nx, ny, weight }: Points,
  before: number,
): number {
  const floor = 0.9 * noise;
  const weak = WEAK;
  const surely = SURELY;
  const sizes = 2 * n;
  let count = before;
  for (let x = 2, i = row * w + 2; x < w - 2 && count < xs.length; x++, i++) {
    const s = sizes + i;
    const m = planes[s];
    const level = levels[x];
    if (m < floor || m < weak * level) continue;
    const dx = planes[i];
    const dy = planes[n + i];
    const px = Math.abs(dx);
    const py = Math.abs(dy);
    const across = px >= py;
    // The two neighbours that the gradient points between; behind, it comes from between those opposite.
    const near = across ? 1 : w;
    const far = dx * dy >= 0 ? w + 1 : across ? 1 - w : w - 1;
    // Most are told to be no ridge before anything is divided.
    const most = across ? px : py;
    const least = across ? py : px;
    const bar = surely * m * most;
    if ((most - least) * planes[s + near] + least * planes[s + far] > bar) continue;
    if ((most - least) * planes[s - near] + least * planes[s - far] > bar) continue;
    const own = (m / (m + Math.max(noise, level)) - 0.4) / 0.6;
    if (own <= 0.02) continue;
    const ux = dx / m;
    const uy = dy / m;
    const ax = Math.abs(ux);
    const ay = Math.abs(uy);
    const t = across ? ay / ax : ax / ay;
    const after = (1 - t) * planes[s + near] + t * planes[s + far];
    const behind = (1 - t) * planes[s - near] + t * planes[s - far];
    if (m < behind || m <= after) continue;
    const step = across ? (ux >= 0 ? 1 / ax : -1 / ax) : uy >= 0 ? 1 / ay : -1 / ay;
    const curve = behind - 2 * m + after;
    const shift = curve < -1e-9 ? (0.5 * (behind - after)) / curve : 0;
    xs[count] = x + 0.5 + shift * step * ux;
    ys[count] = row + 0.5 + shift * step * uy;
    nx[count] = ux;
    ny[count] = uy;
    weight[count] = own;
    count++;
  }
  return count;
}
