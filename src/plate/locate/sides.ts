import { selectAt } from "../../math/select.ts";
import type { Point } from "../../model/index.ts";
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

/** What is seen at a side itself, within a few pixels. */
export interface SideStep extends Pick<SideEvidence, "coherence" | "step" | "framed"> {
  readonly from: Point;
  readonly to: Point;
  /** Median colour step from outside to inside, codes. */
  readonly change: readonly [number, number, number];
}

const STATIONS = 28;
/** Distances from the side in pixels of the sketch. The outside reaches beyond a pencil line's own width. */
const INSIDE = Float64Array.of(1.8, 3);
const OUTSIDE = Float64Array.of(2, 3.2, 4.6);
const DEEP = Float64Array.of(6, 8);
const BEYOND = Float64Array.of(6, 8);
/** Share of the stations that may lie beyond the frame. */
const MOST_LOST = 0.4;

const inner = new Float32Array(3 * STATIONS);
const outer = new Float32Array(3 * STATIONS);
const deeper = new Float32Array(3 * STATIONS);
const farther = new Float32Array(3 * STATIONS);

/**
 * Looks along a side of a candidate for a step of one kind.
 * @param a its ends in pixels of the sketch, clockwise about the candidate as seen
 */
export function stepAt(sketch: Sketch, a: Point, b: Point): SideStep {
  const framed = band(sketch, a, b, OUTSIDE, -1, outer) > MOST_LOST * STATIONS;
  if (framed) return { from: a, to: b, coherence: 0, step: 0, change: [0, 0, 0], framed };
  band(sketch, a, b, INSIDE, 1, inner);
  const change = medians(inner, outer);
  const square = change[0] ** 2 + change[1] ** 2 + change[2] ** 2;
  return { from: a, to: b, coherence: agreement(change, 0.3 * square), step: Math.sqrt(square), change, framed };
}

/** Share of the stations whose step from outside to inside goes `least` or more the way of the median one. */
function agreement(change: readonly [number, number, number], least: number): number {
  const [r, g, b] = change;
  let agree = 0;
  let seen = 0;
  for (let s = 0; s < 3 * STATIONS; s += 3) {
    const dot = (inner[s] - outer[s]) * r + (inner[s + 1] - outer[s + 1]) * g + (inner[s + 2] - outer[s + 2]) * b;
    if (Number.isNaN(dot)) continue;
    seen++;
    if (dot > least) agree++;
  }
  return agree / Math.max(1, seen);
}

/** All that is seen of a side: what lies farther in and farther out, too. */
export function evidenceOf(sketch: Sketch, { from, to, coherence, step, change, framed }: SideStep): SideEvidence {
  band(sketch, from, to, INSIDE, 1, inner);
  const inside = medians(inner, null);
  if (framed) return { coherence, step, local: 0, wide: 0, inside, outside: inside, framed };
  band(sketch, from, to, DEEP, 1, deeper);
  const further = medians(deeper, inner);
  const beyond = band(sketch, from, to, BEYOND, -1, farther) <= MOST_LOST * STATIONS;
  return {
    coherence,
    step,
    local: step / (step + Math.hypot(...further)),
    wide: beyond ? Math.hypot(...medians(deeper, farther)) : step,
    inside,
    outside: [inside[0] - change[0], inside[1] - change[1], inside[2] - change[2]],
    framed,
  };
}

/** Mean colour at some distances from a side, station by station; NaN out of frame. Returns how many stations are. */
function band(sketch: Sketch, a: Point, b: Point, depths: Float64Array, sign: number, out: Float32Array): number {
  const { width: w, height: h, r, g, b: blue } = sketch;
  const stations = STATIONS;
  const [ax, ay] = a;
  const [dx, dy] = [b[0] - ax, b[1] - ay];
  const length = Math.hypot(dx, dy);
  // Corners run clockwise as seen (y down), so the inside lies to the right of the way from a to b.
  const nx = (-sign * dy) / length;
  const ny = (sign * dx) / length;
  let lost = 0;
  for (let s = 0; s < stations; s++) {
    const t = 0.05 + (0.9 * (s + 0.5)) / stations;
    let sr = 0;
    let sg = 0;
    let sb = 0;
    let got = 0;
    for (let d = 0; d < depths.length; d++) {
      const x = ax + t * dx + nx * depths[d] - 0.5;
      const y = ay + t * dy + ny * depths[d] - 0.5;
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
    // None: 0 / 0 is NaN.
    out[3 * s] = sr / got;
    out[3 * s + 1] = sg / got;
    out[3 * s + 2] = sb / got;
  }
  return lost;
}

const values = new Float32Array(STATIONS);

/** Median of p, or of p - q, for each colour. */
function medians(p: Float32Array, q: Float32Array | null): [number, number, number] {
  const out: [number, number, number] = [0, 0, 0];
  for (let c = 0; c < 3; c++) {
    let count = 0;
    for (let s = c; s < 3 * STATIONS; s += 3) {
      const v = q ? p[s] - q[s] : p[s];
      if (!Number.isNaN(v)) values[count++] = v;
    }
    out[c] = count > 0 ? selectAt(values.subarray(0, count), count >> 1) : 0;
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
