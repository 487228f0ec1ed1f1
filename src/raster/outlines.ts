import { singleRoom } from "../math/room.ts";
import { valueBetween, valuesBetween } from "./between.ts";
import { boxBlurInto } from "./blur.ts";
import { BESIDE, middlesOf, noiseBeside, type RadiusRange } from "./middles.ts";
import type { Plane } from "./picture.ts";

/**
 * A closed line round something: how far it runs from its middle in each of `DIRECTIONS` directions, evenly round, all distances across the
 * picture divided by `wide`.
 */
export interface Outline {
  readonly x: number;
  readonly y: number;
  readonly radii: Float32Array;
  readonly wide: number;
}

export const DIRECTIONS = 48;
/** A line is followed as it is in the mean over neighbouring directions, so weighed: noise in it is less by the second figure. */
const ALONG = [1, 2, 3, 2, 1] as const;
const TOTAL = 9;
const REACH = 2;
const QUIETER = 0.48;
/** So many times that noise a line stands out from both its sides where it is followed. */
const CLEAR = 3;
/** An outline is seen in so many of its directions, and so evenly round (spread of its radii over their mean). */
const SEEN = 0.72;
const EVEN = 0.3;
const COS = Float64Array.from({ length: DIRECTIONS }, (_, k) => Math.cos((2 * Math.PI * k) / DIRECTIONS));
const SIN = Float64Array.from({ length: DIRECTIONS }, (_, k) => Math.sin((2 * Math.PI * k) / DIRECTIONS));

const softRoom = singleRoom();

/**
 * Finds thin closed lines, such as a pencil draws round a spot: where many points of lines point at one place, the line is followed
 * round it.
 * @param plane marks stand above 0
 * @param range least and largest radius, pixels
 */
export function findOutlines(plane: Plane, range: RadiusRange): Outline[] {
  const soft = { ...plane, data: softRoom(plane.data.length) };
  boxBlurInto(plane, 1, 1, soft.data);
  const noise = noiseBeside(soft);
  return middlesOf(soft, range, noise).flatMap(({ x, y }) => {
    const outline = follow(soft, x, y, range, noise);
    if (outline === null) return [];
    // It is not to be found from another middle again.
    takeOutlinesOut(soft, [outline]);
    return [outline];
  });
}

/** Follows a line round a place, from direction to direction where it stands out most; null where none goes round. */
function follow(plane: Plane, x: number, y: number, { least, most }: RadiusRange, noise: number): Outline | null {
  const clear = CLEAR * QUIETER * noise;
  const across = most + 1;
  const around = (u: number, v: number) => {
    const out = standingOut(plane, u, v, least, most, clear);
    return out && { out, radii: wayRound(out, least, most) };
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
  return seen >= SEEN * DIRECTIONS && spread < EVEN * mean ? { x: u, y: v, radii, wide: 1 } : null;
}

const rawRoom = singleRoom();
const outRoom = singleRoom();
const alongRoom = singleRoom();

/**
 * For each direction and radius, by how much the plane stands out from what lies further in and further out, in the mean over a few
 * directions; null where it does so by more than `clear` in too few of them. Good until it is called again.
 */
function standingOut(
  plane: Plane,
  x: number,
  y: number,
  least: number,
  most: number,
  clear: number,
): Float32Array | null {
  const across = most + 1;
  const raw = rawRoom(DIRECTIONS * across).fill(0);
  const out = outRoom(DIRECTIONS * across).fill(0);
  const along = alongRoom(across + BESIDE);
  let [looked, shown] = [0, 0];
  // The first directions and the last are neighbours: their means come when all are known.
  for (let k = 0; k < DIRECTIONS + 2 * REACH; k++) {
    if (k < DIRECTIONS) {
      valuesBetween(plane, x, y, COS[k], SIN[k], least - BESIDE, along);
      standOutAlong(along, least, raw, k * across, across);
    }
    if (k < 2 * REACH) continue;
    looked++;
    if (meanAlong(raw, (k - REACH) % DIRECTIONS, across, clear, out)) shown++;
    // Even if all that are left showed it.
    if (shown + DIRECTIONS - looked < SEEN * DIRECTIONS) return null;
  }
  return out;
}

/** The same along one direction, whose place for radius 0 in `out` is `o`. */
function standOutAlong(along: Float32Array, least: number, out: Float32Array, o: number, across: number): void {
  for (let r = least; r < across; r++) out[o + r] = along[r] - Math.max(along[r - BESIDE], along[r + BESIDE]);
}

/** Mean of a direction and of those beside it; whether any of it is above `clear`. */
function meanAlong(raw: Float32Array, k: number, across: number, clear: number, out: Float32Array): boolean {
  const o = k * across;
  for (let j = 0; j < ALONG.length; j++)
    addTimes(raw, ((k + j - REACH + DIRECTIONS) % DIRECTIONS) * across, ALONG[j] / TOTAL, out, o, across);
  return anyAbove(out, o, o + across, clear);
}

function addTimes(from: Float32Array, o: number, weight: number, to: Float32Array, p: number, count: number): void {
  for (let i = 0; i < count; i++) to[p + i] += weight * from[o + i];
}

function anyAbove(values: Float32Array, from: number, to: number, least: number): boolean {
  for (let i = from; i < to; i++) if (values[i] > least) return true;
  return false;
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

/** Half of what is taken out of the way of an outline, pixels: as much of a sharp line, and of the most blurred one. */
const HALF = { sharp: 2.5, blurred: 5 };
/** So much of what a line stands out by may be left beside it. */
const LEFT = 0.3;

/** Takes outlines out of a plane, in place: where one runs, the plane goes evenly from inside to outside. */
export function takeOutlinesOut(plane: Plane, outlines: readonly Outline[]): void {
  const { width, height, data } = plane;
  for (const outline of outlines) {
    const { x, y, radii, wide } = outline;
    const half = halfWidth(plane, outline);
    const reach = Math.ceil(Math.max(...radii)) + half;
    const across = wide * reach;
    const changes: [number, number][] = [];
    for (let v = Math.max(0, Math.floor(y - reach)); v <= Math.min(height - 1, y + reach); v++)
      for (let u = Math.max(0, Math.floor(x - across)); u <= Math.min(width - 1, x + across); u++) {
        const radius = Math.hypot((u - x) / wide, v - y);
        const turn = (Math.atan2(v - y, (u - x) / wide) / (2 * Math.PI) + 1) * DIRECTIONS;
        const [low, part] = [Math.floor(turn) % DIRECTIONS, turn - Math.floor(turn)];
        const line = (1 - part) * radii[low] + part * radii[(low + 1) % DIRECTIONS];
        if (Math.abs(radius - line) > half || radius === 0) continue;
        const on = (r: number) => valueBetween(plane, x + ((u - x) * r) / radius, y + ((v - y) * r) / radius);
        const share = (radius - line + half + 1) / (2 * half + 2);
        changes.push([v * width + u, (1 - share) * on(line - half - 1) + share * on(line + half + 1)]);
      }
    for (const [i, value] of changes) data[i] = Math.min(data[i], value);
  }
}

/** How far from its middle a line goes on, all round, as it stands out of what lies well beside it. */
function halfWidth(plane: Plane, { x, y, radii, wide }: Outline): number {
  const beside = (off: number) =>
    radii.reduce((sum, r, k) => {
      const on = (radius: number) => valueBetween(plane, x + wide * radius * COS[k], y + radius * SIN[k]);
      return sum + on(Math.max(0, r - off)) + on(r + off);
    }, 0);
  const ground = beside(HALF.blurred + 2);
  const middle = beside(0) - ground;
  let half = HALF.sharp;
  while (half < HALF.blurred && beside(half) - ground > LEFT * middle) half += 0.5;
  return half;
}
