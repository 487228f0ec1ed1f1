import type { Point, Quad } from "../../model/index.ts";
import type { Sketch } from "../../raster/shrink.ts";

/** What the picture says of one side of a candidate. */
export interface SideEvidence {
  /** Share of the stations where the step from outside to inside goes the same way, 0..1. */
  readonly coherence: number;
  /** Length of the median colour step from outside to inside, codes. */
  readonly step: number;
  /** How much of the change lies at the side itself and not farther in, 0..1. */
  readonly local: number;
  /** Distance between the colours farther in and farther out, codes: about 0 at a drawn line, the step at a rim. */
  readonly wide: number;
  /** Median colour just inside, codes. */
  readonly inside: readonly [number, number, number];
  /** Median colour just outside, codes; that inside where the outside is beyond the frame. */
  readonly outside: readonly [number, number, number];
  /** True where the outside is beyond the frame. */
  readonly framed: boolean;
}

const STATIONS = 28;
/** Distances from the side in pixels of the sketch. The outside reaches beyond a pencil line's own width. */
const INSIDE = [1.8, 3];
const OUTSIDE = [2, 3.2, 4.6];
const DEEP = [6, 8];
const BEYOND = [6, 8];

/**
 * Looks along the four sides (top, right, bottom, left) of a candidate for a step of one kind.
 * @param quad corners in pixels of the sketch, clockwise as seen
 * @param worth asked of the sides seen so far before the next is looked at
 * @returns null where that was no longer worth it
 */
export function judgeSides(
  sketch: Sketch,
  quad: Quad,
  worth: (sofar: readonly SideEvidence[]) => boolean,
): SideEvidence[] | null {
  const sides: SideEvidence[] = [];
  for (let i = 0; i < 4; i++) {
    if (!worth(sides)) return null;
    sides.push(judgeSide(sketch, quad[i], quad[(i + 1) & 3]));
  }
  return sides;
}

const inner = new Float32Array(3 * STATIONS);
const outer = new Float32Array(3 * STATIONS);
const deeper = new Float32Array(3 * STATIONS);
const farther = new Float32Array(3 * STATIONS);

function judgeSide(sketch: Sketch, a: Point, b: Point): SideEvidence {
  const lost = band(sketch, a, b, OUTSIDE, -1, outer);
  band(sketch, a, b, INSIDE, 1, inner);
  band(sketch, a, b, DEEP, 1, deeper);
  const inside = medians(inner, null);
  if (lost > 0.4 * STATIONS) return { coherence: 0, step: 0, local: 0, wide: 0, inside, outside: inside, framed: true };
  const step = medians(inner, outer);
  const further = medians(deeper, inner);
  const square = step[0] ** 2 + step[1] ** 2 + step[2] ** 2;
  let agree = 0;
  let seen = 0;
  for (let s = 0; s < 3 * STATIONS; s += 3) {
    const dot =
      (inner[s] - outer[s]) * step[0] +
      (inner[s + 1] - outer[s + 1]) * step[1] +
      (inner[s + 2] - outer[s + 2]) * step[2];
    if (Number.isNaN(dot)) continue;
    seen++;
    if (dot > 0.3 * square) agree++;
  }
  const size = Math.sqrt(square);
  const beyond = band(sketch, a, b, BEYOND, -1, farther) <= 0.4 * STATIONS;
  return {
    coherence: agree / Math.max(1, seen),
    step: size,
    local: size / (size + Math.hypot(...further)),
    wide: beyond ? Math.hypot(...medians(deeper, farther)) : size,
    inside,
    outside: [inside[0] - step[0], inside[1] - step[1], inside[2] - step[2]],
    framed: false,
  };
}

/** Mean colour at some distances from a side, station by station; NaN out of frame. Returns how many stations are. */
function band(sketch: Sketch, a: Point, b: Point, depths: readonly number[], sign: number, out: Float32Array): number {
  const { width: w, height: h, r, g, b: blue } = sketch;
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  // Corners run clockwise as seen (y down), so the inside lies to the right of the way from a to b.
  const nx = (-sign * (b[1] - a[1])) / length;
  const ny = (sign * (b[0] - a[0])) / length;
  const count = depths.length;
  let lost = 0;
  for (let s = 0; s < STATIONS; s++) {
    const t = 0.05 + (0.9 * (s + 0.5)) / STATIONS;
    let sr = 0;
    let sg = 0;
    let sb = 0;
    let got = 0;
    for (let d = 0; d < count; d++) {
      const x = a[0] + t * (b[0] - a[0]) + nx * depths[d] - 0.5;
      const y = a[1] + t * (b[1] - a[1]) + ny * depths[d] - 0.5;
      if (!(x >= 0 && y >= 0 && x < w - 1 && y < h - 1)) continue;
      const ix = x | 0;
      const iy = y | 0;
      const fx = x - ix;
      const fy = y - iy;
      const i = iy * w + ix;
      const w11 = fx * fy;
      const w10 = fx - w11;
      const w01 = fy - w11;
      const w00 = 1 - fx - w01;
      sr += w00 * r[i] + w10 * r[i + 1] + w01 * r[i + w] + w11 * r[i + w + 1];
      sg += w00 * g[i] + w10 * g[i + 1] + w01 * g[i + w] + w11 * g[i + w + 1];
      sb += w00 * blue[i] + w10 * blue[i + 1] + w01 * blue[i + w] + w11 * blue[i + w + 1];
      got++;
    }
    if (got === 0) lost++;
    out[3 * s] = got > 0 ? sr / got : Number.NaN;
    out[3 * s + 1] = got > 0 ? sg / got : Number.NaN;
    out[3 * s + 2] = got > 0 ? sb / got : Number.NaN;
  }
  return lost;
}

const sorting = new Float32Array(STATIONS);

/** Median of p, or of p - q, for each colour. */
function medians(p: Float32Array, q: Float32Array | null): [number, number, number] {
  const out: [number, number, number] = [0, 0, 0];
  for (let c = 0; c < 3; c++) {
    let count = 0;
    for (let s = c; s < 3 * STATIONS; s += 3) {
      const v = q ? p[s] - q[s] : p[s];
      if (Number.isNaN(v)) continue;
      let k = count++;
      while (k > 0 && sorting[k - 1] > v) {
        sorting[k] = sorting[k - 1];
        k--;
      }
      sorting[k] = v;
    }
    out[c] = count > 0 ? sorting[count >> 1] : 0;
  }
  return out;
}

/** Whether the colour changes at this side as it does at the plate's other sides: a pencil line may change it the other way. */
export function leadsToBench(side: SideEvidence, all: readonly SideEvidence[]): boolean {
  let dot = 0;
  for (let c = 0; c < 3; c++) {
    for (const other of all) dot += (side.inside[c] - side.outside[c]) * (other.inside[c] - other.outside[c]);
  }
  return dot > 0.5 * all.reduce((sum, other) => sum + side.step * other.step, 0);
}

/** Distance between two colours, codes. */
export function colourDistance(a: readonly number[], b: readonly number[]): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}
