import type { Point, Quad } from "../../model/index.ts";
import type { Sketch } from "../../raster/shrink.ts";

/** What the picture says of one side of a candidate. */
export interface SideEvidence {
  /** Share of the stations where the step from outside to inside goes the same way, 0..1. */
  readonly coherence: number;
  /** Length of the median colour step, codes. */
  readonly step: number;
  /** How much of the change lies at the side itself and not farther in, 0..1. */
  readonly local: number;
  /** True where the outside is beyond the frame. */
  readonly framed: boolean;
}

/** What the picture says of a candidate. */
export interface QuadEvidence {
  readonly sides: readonly SideEvidence[];
  /** Share of the inside that follows one smooth surface, 0..1. */
  readonly smooth: number;
  /** Median deviation of the inside from that surface, codes. */
  readonly roughness: number;
  /** Mean level inside, codes. */
  readonly level: number;
  /** All of it in one number, 0..1. */
  readonly score: number;
}

const STATIONS = 36;
const GRID = 20;

/**
 * Looks at a candidate in the sketch: a step of one kind all along each side, and one smooth layer within.
 * @param quad corners in pixels of the sketch
 * @param noise standard deviation of the sketch's noise, codes
 */
export function judgeQuad(sketch: Sketch, quad: Quad, noise: number): QuadEvidence {
  const sides = [0, 1, 2, 3].map((i) => judgeSide(sketch, quad[i], quad[(i + 1) & 3]));
  const inside = judgeInside(sketch, quad, noise);
  let product = 1;
  for (const side of sides) product *= sideScore(side, noise);
  const edge = Math.sqrt(Math.sqrt(product));
  return { sides, ...inside, score: edge * inside.smooth };
}

/** One side in one number, 0..1. */
export function sideScore(side: SideEvidence, noise: number): number {
  if (side.framed) return 0.6;
  const coherent = Math.max(0.02, (side.coherence - 0.35) / 0.65);
  const seen = side.step / (side.step + 3 * noise + 1);
  return coherent * seen * (0.4 + 0.6 * side.local);
}

const sampled = new Float32Array(3);

function take(sketch: Sketch, x: number, y: number): boolean {
  const { width: w, height: h } = sketch;
  if (x < 0 || y < 0 || x >= w || y >= h) return false;
  const sx = Math.max(0, Math.min(w - 1.001, x - 0.5));
  const sy = Math.max(0, Math.min(h - 1.001, y - 0.5));
  const ix = sx | 0;
  const iy = sy | 0;
  const fx = sx - ix;
  const fy = sy - iy;
  const i = iy * w + ix;
  const right = ix < w - 1 ? 1 : 0;
  const down = iy < h - 1 ? w : 0;
  const w11 = fx * fy;
  const w10 = fx - w11;
  const w01 = fy - w11;
  const w00 = 1 - fx - w01;
  sampled[0] +=
    w00 * sketch.r[i] + w10 * sketch.r[i + right] + w01 * sketch.r[i + down] + w11 * sketch.r[i + right + down];
  sampled[1] +=
    w00 * sketch.g[i] + w10 * sketch.g[i + right] + w01 * sketch.g[i + down] + w11 * sketch.g[i + right + down];
  sampled[2] +=
    w00 * sketch.b[i] + w10 * sketch.b[i + right] + w01 * sketch.b[i + down] + w11 * sketch.b[i + right + down];
  return true;
}

const NEAR = [1.8, 3];
const DEEP = [5.5, 7.5];

/** Three bands along a side (inside, outside, deeper inside), STATIONS x 3 codes each; null where out of frame. */
function band(
  sketch: Sketch,
  a: Point,
  b: Point,
  nx: number,
  ny: number,
  depths: readonly number[],
): Float32Array | null {
  const out = new Float32Array(STATIONS * 3);
  let lost = 0;
  for (let s = 0; s < STATIONS; s++) {
    const t = 0.05 + (0.9 * (s + 0.5)) / STATIONS;
    const x = a[0] + t * (b[0] - a[0]);
    const y = a[1] + t * (b[1] - a[1]);
    sampled.fill(0);
    let got = 0;
    for (const d of depths) if (take(sketch, x + nx * d, y + ny * d)) got++;
    if (got === 0) {
      lost++;
      out[3 * s] = Number.NaN;
      continue;
    }
    for (let c = 0; c < 3; c++) out[3 * s + c] = sampled[c] / got;
  }
  return lost > STATIONS * 0.4 ? null : out;
}

function judgeSide(sketch: Sketch, a: Point, b: Point): SideEvidence {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  // Corners run clockwise as seen (y down), so the inside lies to the right of the way from a to b.
  const nx = -(b[1] - a[1]) / length;
  const ny = (b[0] - a[0]) / length;
  const inside = band(sketch, a, b, nx, ny, NEAR);
  const outside = band(sketch, a, b, -nx, -ny, NEAR);
  const deep = band(sketch, a, b, nx, ny, DEEP);
  if (!inside || !outside || !deep) return { coherence: 0, step: 0, local: 0, framed: true };
  const step = medianDifference(inside, outside);
  const further = medianDifference(deep, inside);
  const length2 = step[0] ** 2 + step[1] ** 2 + step[2] ** 2;
  let agree = 0;
  let seen = 0;
  for (let s = 0; s < STATIONS; s++) {
    if (Number.isNaN(inside[3 * s]) || Number.isNaN(outside[3 * s])) continue;
    seen++;
    let dot = 0;
    for (let c = 0; c < 3; c++) dot += (inside[3 * s + c] - outside[3 * s + c]) * step[c];
    if (dot > 0.3 * length2) agree++;
  }
  const size = Math.sqrt(length2);
  return { coherence: agree / seen, step: size, local: size / (size + Math.hypot(...further)), framed: false };
}

function medianDifference(a: Float32Array, b: Float32Array): [number, number, number] {
  return [0, 1, 2].map((c) => {
    const values: number[] = [];
    for (let s = 0; s < STATIONS; s++) {
      const v = a[3 * s + c] - b[3 * s + c];
      if (!Number.isNaN(v)) values.push(v);
    }
    values.sort((p, q) => p - q);
    return values[values.length >> 1];
  }) as [number, number, number];
}

function judgeInside(sketch: Sketch, quad: Quad, noise: number): { smooth: number; roughness: number; level: number } {
  const n = GRID * GRID;
  const value = new Float64Array(n);
  let level = 0;
  for (let j = 0, i = 0; j < GRID; j++) {
    for (let k = 0; k < GRID; k++, i++) {
      const u = 0.06 + (0.88 * (k + 0.5)) / GRID;
      const v = 0.06 + (0.88 * (j + 0.5)) / GRID;
      const top = [quad[0][0] + u * (quad[1][0] - quad[0][0]), quad[0][1] + u * (quad[1][1] - quad[0][1])];
      const low = [quad[3][0] + u * (quad[2][0] - quad[3][0]), quad[3][1] + u * (quad[2][1] - quad[3][1])];
      sampled.fill(0);
      take(
        sketch,
        Math.max(0, Math.min(sketch.width - 0.01, top[0] + v * (low[0] - top[0]))),
        Math.max(0, Math.min(sketch.height - 0.01, top[1] + v * (low[1] - top[1]))),
      );
      value[i] = (sampled[0] + sampled[1] + sampled[2]) / 3;
      level += value[i] / n;
    }
  }
  const residual = fitSurface(value);
  const sorted = Float64Array.from(residual, Math.abs).sort();
  const roughness = sorted[n >> 1];
  const tolerance = Math.max(4 * noise, 0.06 * level, 2);
  let follow = 0;
  for (const r of sorted) if (r <= tolerance) follow++;
  return { smooth: follow / n, roughness, level };
}

/** Deviations of a GRID x GRID field from a quadratic surface fitted to it by iterated reweighting (Tukey's biweight). */
function fitSurface(value: Float64Array): Float64Array {
  const n = value.length;
  const weight = new Float64Array(n).fill(1);
  const residual = new Float64Array(n);
  for (let round = 0; round < 4; round++) {
    const m = Array.from({ length: 6 }, () => new Float64Array(7));
    for (let i = 0; i < n; i++) {
      const basis = surfaceBasis(i);
      for (let p = 0; p < 6; p++) {
        const w = weight[i] * basis[p];
        for (let q = p; q < 6; q++) m[p][q] += w * basis[q];
        m[p][6] += w * value[i];
      }
    }
    for (let p = 0; p < 6; p++) {
      for (let q = 0; q < p; q++) m[p][q] = m[q][p];
      m[p][p] += 1e-6 * n;
    }
    const k = solve(m);
    for (let i = 0; i < n; i++) {
      const basis = surfaceBasis(i);
      let fit = 0;
      for (let p = 0; p < 6; p++) fit += k[p] * basis[p];
      residual[i] = value[i] - fit;
    }
    const spread = 6 * Math.max(0.2, Float64Array.from(residual, Math.abs).sort()[n >> 1]);
    for (let i = 0; i < n; i++) {
      const t = residual[i] / spread;
      weight[i] = Math.abs(t) < 1 ? (1 - t * t) ** 2 : 0;
    }
  }
  return residual;
}

const BASES = Array.from({ length: GRID * GRID }, (_, i) => {
  const u = (2 * (i % GRID) + 1) / GRID - 1;
  const v = (2 * Math.floor(i / GRID) + 1) / GRID - 1;
  return [1, u, v, u * u, u * v, v * v];
});

function surfaceBasis(i: number): readonly number[] {
  return BASES[i];
}

function solve(m: Float64Array[]): number[] {
  const n = m.length;
  for (let c = 0; c < n; c++) {
    for (let r = 0; r < n; r++) {
      if (r === c) continue;
      const f = m[r][c] / m[c][c];
      for (let k = c; k <= n; k++) m[r][k] -= f * m[c][k];
    }
  }
  return m.map((row, i) => row[n] / row[i]);
}
