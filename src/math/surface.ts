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
  const cells = gridW * gridH;
  const count = values.length;
  const across = ROOM;
  const down = across + 32 * gridW;
  const b = down + 32 * gridH;
  const given = b + 8 * 16;
  const measured = given + 8 * cells;
  const matrix = measured + 8 * cells * count;
  const firstsAcross = matrix + 8 * n * (n + count);
  const firstsDown = firstsAcross + 4 * gridW;
  const { buffer } = memoryFor(firstsDown + 4 * gridH - ROOM);
  layPlaces(spansX, new Float64Array(buffer, across, 4 * gridW), new Int32Array(buffer, firstsAcross, gridW));
  layPlaces(spansY, new Float64Array(buffer, down, 4 * gridH), new Int32Array(buffer, firstsDown, gridH));
  new Float64Array(buffer, given, cells).set(weights);
  for (let v = 0; v < count; v++) new Float64Array(buffer, measured + 8 * cells * v, cells).set(values[v]);
  const a = new Float64Array(buffer, matrix, n * n).fill(0);
  const rhs = values.map((_, v) => new Float64Array(buffer, matrix + 8 * n * (n + v), n).fill(0));
  vectorCode().addNormals(
    down,
    firstsDown,
    across,
    firstsAcross,
    given,
    measured,
    count,
    gridW,
    gridH,
    nx,
    n,
    matrix,
    b,
  );
  addPenalty(a, nx, ny, shape.stiffness);
  if (!solvePositive(a, n, rhs)) throw new Error("surface fit: matrix is not positive definite");
  return rhs.map((control) => ({ spansX, spansY, control: control.slice() }));
}

/** For each of some evenly spaced places the four weights there, and the first of the four control points. */
function layPlaces(spans: number, weights: Float64Array, firsts: Int32Array): void {
  const w4 = new Float64Array(4);
  for (let k = 0; k < firsts.length; k++) {
    firsts[k] = locate((k + 0.5) / firsts.length, spans, w4);
    weights.set(w4, 4 * k);
  }
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
