import { solvePositive } from "./cholesky.ts";
import { memoryFor, ROOM, vectorCode } from "./simd/index.ts";

/** Cubic B-spline weights of the four control points around position t in a cell, 0 <= t <= 1. */
function cubicWeights(t: number, out: Float64Array): void {
  const s = 1 - t;
  out[0] = (s * s * s) / 6;
  out[1] = (3 * t * t * t - 6 * t * t + 4) / 6;
  out[2] = (3 * s * s * s - 6 * s * s + 4) / 6;
  out[3] = (t * t * t) / 6;
}

/** Position u in 0..1 on `spans` spans: the first of its four control points, and its weights. */
function locate(u: number, spans: number, weights: Float64Array): number {
  const p = Math.min(Math.max(u, 0), 1) * spans;
  const cell = Math.min(Math.floor(p), spans - 1);
  cubicWeights(p - cell, weights);
  return cell;
}

/** A smooth surface over the unit square: tensor product of cubic B-splines. */
export interface Surface {
  readonly spansX: number;
  readonly spansY: number;
  /** (spansY + 3) rows of (spansX + 3) control values. */
  readonly control: Float64Array;
}

export interface SurfaceShape {
  readonly spansX: number;
  readonly spansY: number;
  /** Weight of the second differences of the control values; larger is stiffer. */
  readonly stiffness: number;
}

/**
 * Penalised tensor-product B-splines (P-splines: Eilers and Marx 1996, Statistical Science 11, 89) through weighted
 * samples on a regular grid of cell centres.
 * @param values one array per surface, each gridW * gridH, row-major
 * @param weights gridW * gridH, >= 0; cells of weight 0 are bridged by the penalty
 */
export function fitSurfaces(
  values: readonly Float64Array[],
  weights: Float64Array,
  gridW: number,
  gridH: number,
  shape: SurfaceShape,
): Surface[] {
  const { spansX, spansY } = shape;
  const nx = spansX + 3;
  const ny = spansY + 3;
  const n = nx * ny;
  const a = new Float64Array(n * n);
  const rhs = values.map(() => new Float64Array(n));
  const wx = new Float64Array(4);
  const wy = new Float64Array(4);
  const firstX = new Int32Array(gridW);
  const weightsX = new Float64Array(4 * gridW);
  for (let gx = 0; gx < gridW; gx++) {
    firstX[gx] = locate((gx + 0.5) / gridW, spansX, wx);
    weightsX.set(wx, 4 * gx);
  }
  const b = new Float64Array(16);
  for (let gy = 0; gy < gridH; gy++) {
    const y0 = locate((gy + 0.5) / gridH, spansY, wy);
    for (let gx = 0; gx < gridW; gx++) {
      const g = gy * gridW + gx;
      if (weights[g] <= 0) continue;
      fillProducts(wy, weightsX, 4 * gx, b);
      addProducts(a, n, b, weights, g, y0 * nx + firstX[gx], nx);
      for (let v = 0; v < values.length; v++) addValue(rhs[v], b, weights, g, values[v], y0 * nx + firstX[gx], nx);
    }
  }
  addPenalty(a, nx, ny, shape.stiffness);
  if (!solvePositive(a, n, rhs)) throw new Error("surface fit: matrix is not positive definite");
  return rhs.map((control) => ({ spansX, spansY, control }));
}

function fillProducts(wy: Float64Array, weightsX: Float64Array, x: number, b: Float64Array): void {
  for (let k = 0; k < 16; k++) b[k] = wy[k >> 2] * weightsX[x + (k & 3)];
}

/** The share of cell `g` in the normal matrix (lower triangle): products of its 16 weights, whose control points begin at `first`. */
function addProducts(
  a: Float64Array,
  n: number,
  b: Float64Array,
  weights: Float64Array,
  g: number,
  first: number,
  nx: number,
): void {
  const w = weights[g];
  for (let p = 0; p < 16; p++) {
    const wp = w * b[p];
    const row = (first + (p >> 2) * nx + (p & 3)) * n + first;
    let q = 0;
    let o = row;
    for (; q + 3 < p; q += 4, o += nx) {
      a[o] += wp * b[q];
      a[o + 1] += wp * b[q + 1];
      a[o + 2] += wp * b[q + 2];
      a[o + 3] += wp * b[q + 3];
    }
    for (; q <= p; q++, o++) a[o] += wp * b[q];
  }
}

function addValue(
  rhs: Float64Array,
  b: Float64Array,
  weights: Float64Array,
  g: number,
  values: Float64Array,
  first: number,
  nx: number,
): void {
  const w = weights[g];
  const value = values[g];
  for (let p = 0; p < 16; p++) rhs[first + (p >> 2) * nx + (p & 3)] += w * b[p] * value;
}

/** Second differences along rows and columns, plus a trace that keeps the matrix definite. */
function addPenalty(a: Float64Array, nx: number, ny: number, stiffness: number): void {
  const n = nx * ny;
  const stencil = [1, -2, 1];
  const add = (base: number, step: number) => {
    for (let p = 0; p < 3; p++)
      for (let q = 0; q <= p; q++) a[(base + p * step) * n + base + q * step] += stiffness * stencil[p] * stencil[q];
  };
  for (let y = 0; y < ny; y++) for (let x = 0; x + 2 < nx; x++) add(y * nx + x, 1);
  for (let x = 0; x < nx; x++) for (let y = 0; y + 2 < ny; y++) add(y * nx + x, nx);
  for (let i = 0; i < n; i++) a[i * n + i] += 1e-7;
}

/** Samples a surface at the pixel centres of a width x height raster, row by row into `out`. */
export function sampleSurface(surface: Surface, width: number, height: number, out: Float32Array): void {
  const { spansX, spansY, control } = surface;
  const nx = spansX + 3;
  const weights = ROOM;
  const rows = weights + 32 * width;
  const starts = rows + 8 * nx * height;
  const values = starts + 4 * (spansX + 1);
  const memory = memoryFor(values + 4 * width * height - ROOM);
  layWeights(new Float64Array(memory.buffer, weights, 4 * width), new Int32Array(memory.buffer, starts, spansX + 1));
  layRows(control, spansY, nx, new Float64Array(memory.buffer, rows, nx * height));
  vectorCode().sampleSpline(rows, starts, weights, spansX, width, height, values);
  out.set(memory.subarray(values / 4, values / 4 + width * height));
}

/** The four weights of each place of a row, all first ones before all second ones, and where each cell begins and the last ends. */
function layWeights(weights: Float64Array, starts: Int32Array): void {
  const [width, spans] = [weights.length / 4, starts.length - 1];
  const w4 = new Float64Array(4);
  starts.fill(width);
  for (let x = width - 1; x >= 0; x--) {
    starts.fill(x, 0, locate((x + 0.5) / width, spans, w4) + 1);
    for (let k = 0; k < 4; k++) weights[k * width + x] = w4[k];
  }
}

/** Control values of each row of the raster: those of its four rows of control points, weighted. */
function layRows(control: Float64Array, spans: number, nx: number, rows: Float64Array): void {
  const height = rows.length / nx;
  const w4 = new Float64Array(4);
  for (let y = 0, o = 0; y < height; y++) {
    let c = locate((y + 0.5) / height, spans, w4) * nx;
    for (let i = 0; i < nx; i++, c++, o++)
      rows[o] =
        w4[0] * control[c] + w4[1] * control[c + nx] + w4[2] * control[c + 2 * nx] + w4[3] * control[c + 3 * nx];
  }
}
