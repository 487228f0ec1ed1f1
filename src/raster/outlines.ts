import { selectAt } from "../math/select.ts";
import { boxBlur } from "./blur.ts";
import type { Plane } from "./picture.ts";

/** A closed line round something: how far it runs from its middle in each of `DIRECTIONS` directions, evenly round. */
export interface Outline {
  readonly x: number;
  readonly y: number;
  readonly radii: Float32Array;
}

export const DIRECTIONS = 48;
/** A line is looked for by how it stands out from what lies so far to its either side, pixels. */
const BESIDE = 3;
/** Ridges so many times the usual noise are a line's. */
const RIDGE = 4;
/** A line runs one way: across it the plane is bent this many times as much as along it. */
const ONE_WAY = 2.5;
/** So many times the noise a line stands out from both its sides where it is followed. */
const CLEAR = 3;
/** Where a plane has less noise, what stands out is still no line. */
const LEAST_NOISE = 0.003;
/** An outline is seen in so many of its directions, and so evenly round (spread of its radii over their mean). */
const SEEN = 0.72;
const EVEN = 0.3;
/** Middles that so many ridges point at, as a share of those that a whole outline would send, are looked at. */
const POINTED_AT = 0.35;
const MOST_LOOKED_AT = 40;
/** Middles are gathered in cells of so many pixels. */
const CELL = 3;

const COS = Float64Array.from({ length: DIRECTIONS }, (_, k) => Math.cos((2 * Math.PI * k) / DIRECTIONS));
const SIN = Float64Array.from({ length: DIRECTIONS }, (_, k) => Math.sin((2 * Math.PI * k) / DIRECTIONS));

/**
 * Finds thin closed lines, such as a pencil draws round a spot. Each point of a line points at both its sides (a Hough transform for
 * rings: C. Kimme, D. Ballard, J. Sklansky, Commun. ACM 1975, 18, 120); where many point at one place, the line is followed round it.
 * @param plane marks stand above 0
 * @param range least and largest radius, pixels
 */
export function findOutlines(plane: Plane, range: { readonly least: number; readonly most: number }): Outline[] {
  const soft = boxBlur(plane, 1, 1);
  const ridges = ridgesOf(soft);
  const { votes, needed } = middles(ridges, plane, range);
  return peaksOf(votes, range.least, needed).flatMap(({ x, y }) => {
    const outline = follow(soft, x, y, range, ridges.noise);
    if (outline === null) return [];
    // It is not to be found from another middle again.
    takeOutlinesOut(soft, [outline]);
    return [outline];
  });
}

interface Ridges {
  /** Index, direction across the line, for each point that is of a line. */
  readonly at: Int32Array;
  readonly dx: Float32Array;
  readonly dy: Float32Array;
  /** Usual size of what stands out from both sides. */
  readonly noise: number;
}

/** Where the plane is bent like a ridge: much across, little along (second differences, eigenvectors of the Hessian). */
function ridgesOf({ width, height, data }: Plane): Ridges {
  const s = BESIDE;
  const sample: number[] = [];
  for (let y = s; y < height - s; y += 5)
    for (let x = s; x < width - s; x += 5) {
      const i = y * width + x;
      sample.push(Math.abs(2 * data[i] - data[i - s] - data[i + s]));
    }
  const noise = Math.max(LEAST_NOISE, selectAt(Float32Array.from(sample), sample.length >> 1) / 0.6745);
  const [at, dx, dy]: [number[], number[], number[]] = [[], [], []];
  for (let y = s; y < height - s; y++)
    for (let x = s; x < width - s; x++) {
      const i = y * width + x;
      const xx = 2 * data[i] - data[i - s] - data[i + s];
      const yy = 2 * data[i] - data[i - s * width] - data[i + s * width];
      if (xx + yy < RIDGE * noise) continue;
      const up = i - s * width;
      const down = i + s * width;
      const xy = -(data[down + s] + data[up - s] - data[down - s] - data[up + s]) / 4;
      const middle = (xx + yy) / 2;
      const half = Math.hypot((xx - yy) / 2, xy);
      if (middle + half < RIDGE * noise || middle + half < ONE_WAY * Math.abs(middle - half)) continue;
      const angle = Math.atan2(2 * xy, xx - yy) / 2;
      at.push(i);
      dx.push(Math.cos(angle));
      dy.push(Math.sin(angle));
    }
  return { at: Int32Array.from(at), dx: Float32Array.from(dx), dy: Float32Array.from(dy), noise };
}

function middles(
  { at, dx, dy }: Ridges,
  { width, height }: Plane,
  { least, most }: { readonly least: number; readonly most: number },
) {
  const [across, down] = [Math.ceil(width / CELL), Math.ceil(height / CELL)];
  const raw = { width: across, height: down, data: new Float32Array(across * down) };
  for (let k = 0; k < at.length; k++) {
    const x = at[k] % width;
    const y = (at[k] - x) / width;
    for (let r = least; r <= most; r += CELL)
      for (let side = -r; side <= r; side += 2 * r) {
        const u = Math.floor((x + side * dx[k]) / CELL);
        const v = Math.floor((y + side * dy[k]) / CELL);
        // A longer line sends more: each place is told what share of a whole outline points at it.
        if (u >= 0 && v >= 0 && u < across && v < down) raw.data[v * across + u] += 1 / r;
      }
  }
  const votes = boxBlur(raw, 1, 1);
  // Of a line one pixel wide: each of its points is in one cell, so far as its radius is in steps of the cells.
  return { votes, needed: (POINTED_AT * 2 * Math.PI) / 9 };
}

/** The highest places, the highest first, none near another. */
function peaksOf({ width, data }: Plane, apart: number, least: number): { x: number; y: number }[] {
  const some: number[] = [];
  for (let i = 0; i < data.length; i++)
    if (data[i] >= least && data[i] >= (data[i - 1] ?? 0) && data[i] > (data[i + 1] ?? 0)) some.push(i);
  some.sort((a, b) => data[b] - data[a] || a - b);
  const taken: { x: number; y: number }[] = [];
  for (const i of some) {
    if (taken.length >= MOST_LOOKED_AT) break;
    const [x, y] = [((i % width) + 0.5) * CELL, (Math.floor(i / width) + 0.5) * CELL];
    if (taken.every((t) => Math.hypot(t.x - x, t.y - y) > apart / 2)) taken.push({ x, y });
  }
  return taken;
}

/** Follows a line round a place, from direction to direction where it stands out most; null where none goes round. */
function follow(
  plane: Plane,
  x: number,
  y: number,
  { least, most }: { readonly least: number; readonly most: number },
  noise: number,
): Outline | null {
  const clear = CLEAR * noise;
  const across = most + 1;
  const around = (u: number, v: number) => {
    const out = standingOut(plane, u, v, least, most);
    let shown = 0;
    for (let k = 0; k < DIRECTIONS; k++) if (anyAbove(out, k * across + least, (k + 1) * across, clear)) shown++;
    return shown >= SEEN * DIRECTIONS ? { out, radii: wayRound(out, least, most) } : null;
  };
  const first = around(x, y);
  if (first === null) return null;
  // The middle is where the line has it, which is told once the line is known.
  const shift = (axis: Float64Array) => (2 * first.radii.reduce((sum, r, k) => sum + r * axis[k], 0)) / DIRECTIONS;
  const [u, v] = [x + shift(COS), y + shift(SIN)];
  const second = around(u, v);
  if (second === null) return null;
  const { out, radii } = second;
  const seen = radii.reduce((n, r, k) => n + (out[k * across + r] > clear ? 1 : 0), 0);
  const mean = radii.reduce((a, b) => a + b, 0) / DIRECTIONS;
  const spread = Math.sqrt(radii.reduce((sum, r) => sum + (r - mean) ** 2, 0) / DIRECTIONS);
  return seen >= SEEN * DIRECTIONS && spread < EVEN * mean ? { x: u, y: v, radii } : null;
}

function anyAbove(values: Float32Array, from: number, to: number, least: number): boolean {
  for (let i = from; i < to; i++) if (values[i] > least) return true;
  return false;
}

/** For each direction and radius, by how much the plane stands out from what lies further in and further out. */
function standingOut(plane: Plane, x: number, y: number, least: number, most: number): Float32Array {
  const out = new Float32Array(DIRECTIONS * (most + 1));
  const along = new Float32Array(most + BESIDE + 1);
  for (let k = 0; k < DIRECTIONS; k++) {
    for (let r = least - BESIDE; r <= most + BESIDE; r++) along[r] = valueAt(plane, x + r * COS[k], y + r * SIN[k]);
    for (let r = least; r <= most; r++)
      out[k * (most + 1) + r] = along[r] - Math.max(along[r - BESIDE], along[r + BESIDE]);
  }
  return out;
}

/** The closed way of greatest sum, one radius a direction, by at most one more or less from each to the next (dynamic programme). */
function wayRound(out: Float32Array, least: number, most: number): Float32Array {
  const across = most + 1;
  // Twice round: by the second the way no longer depends on where it began.
  const steps = 2 * DIRECTIONS;
  const from = new Int8Array(steps * across);
  // One more on either side, which no way takes.
  let best = new Float64Array(across + 1).fill(Number.NEGATIVE_INFINITY);
  let next = best.slice();
  for (let r = least; r <= most; r++) best[r] = out[r];
  for (let step = 1; step < steps; step++) {
    const row = (step % DIRECTIONS) * across;
    for (let r = least; r <= most; r++) {
      let way = 0;
      let sum = best[r];
      if (best[r - 1] > sum) {
        sum = best[r - 1];
        way = -1;
      }
      if (best[r + 1] > sum) {
        sum = best[r + 1];
        way = 1;
      }
      next[r] = sum + out[row + r];
      from[step * across + r] = way;
    }
    [best, next] = [next, best];
  }
  let r = best.indexOf(Math.max(...best));
  const radii = new Float32Array(DIRECTIONS);
  for (let step = steps - 1; step >= DIRECTIONS; step--) {
    radii[step % DIRECTIONS] = r;
    r += from[step * across + r];
  }
  return radii;
}

/** The plane between its pixels; 0 outside. */
function valueAt({ width, height, data }: Plane, x: number, y: number): number {
  const [u, v] = [Math.floor(x), Math.floor(y)];
  if (u < 0 || v < 0 || u >= width - 1 || v >= height - 1) return 0;
  const i = v * width + u;
  const [a, b] = [x - u, y - v];
  return (1 - b) * ((1 - a) * data[i] + a * data[i + 1]) + b * ((1 - a) * data[i + width] + a * data[i + width + 1]);
}

/** Half of what is taken out of the way of an outline, pixels. */
const HALF = 2.5;

/** Takes outlines out of a plane, in place: where one runs, the plane goes evenly from inside to outside. */
export function takeOutlinesOut(plane: Plane, outlines: readonly Outline[]): void {
  const { width, height, data } = plane;
  for (const { x, y, radii } of outlines) {
    const reach = Math.ceil(Math.max(...radii)) + HALF;
    const changes: [number, number][] = [];
    for (let v = Math.max(0, Math.floor(y - reach)); v <= Math.min(height - 1, y + reach); v++)
      for (let u = Math.max(0, Math.floor(x - reach)); u <= Math.min(width - 1, x + reach); u++) {
        const radius = Math.hypot(u - x, v - y);
        const turn = (Math.atan2(v - y, u - x) / (2 * Math.PI) + 1) * DIRECTIONS;
        const [low, part] = [Math.floor(turn) % DIRECTIONS, turn - Math.floor(turn)];
        const line = (1 - part) * radii[low] + part * radii[(low + 1) % DIRECTIONS];
        if (Math.abs(radius - line) > HALF || radius === 0) continue;
        const on = (r: number) => valueAt(plane, x + ((u - x) * r) / radius, y + ((v - y) * r) / radius);
        const share = (radius - line + HALF + 1) / (2 * HALF + 2);
        changes.push([v * width + u, (1 - share) * on(line - HALF - 1) + share * on(line + HALF + 1)]);
      }
    for (const [i, value] of changes) data[i] = Math.min(data[i], value);
  }
}
