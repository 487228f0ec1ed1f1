import { solvePositive } from "../math/cholesky.ts";
import { memoryFor, ROOM, vectorCode } from "../math/simd/index.ts";
import type { Plane } from "./picture.ts";

const TERMS = 6;
const bases = new Map<number, Float64Array>();

/** 1, u, v, u u, u v, v v at each place of an n x n grid, u and v from -1 to 1. */
function basisOf(n: number): Float64Array {
  const known = bases.get(n);
  if (known) return known;
  const basis = Float64Array.from({ length: n * n * TERMS }, (_, k) => {
    const i = Math.floor(k / TERMS);
    const u = (2 * (i % n) + 1) / n - 1;
    const v = (2 * Math.floor(i / n) + 1) / n - 1;
    return [1, u, v, u * u, u * v, v * v][k % TERMS];
  });
  bases.set(n, basis);
  return basis;
}

/**
 * Quadratic surface a + b u + c v + d u u + e u v + f v v that most of an n x n grid follows, by iterated reweighting
 * (Tukey's biweight, scale from the median deviation).
 * @param value the grid row by row; u and v run from -1 to 1 over its outer borders
 * @returns the six coefficients in this order
 */
export function fitSurface(value: Float64Array, n: number): Float64Array {
  const weight = new Float64Array(n * n).fill(1);
  let k: Float64Array = new Float64Array(TERMS);
  for (let round = 0; round < 3; round++) {
    if (round > 0) reweigh(surfaceResiduals(value, k, n), weight);
    k = solveSurface(value, weight, basisOf(n));
  }
  return k;
}

/** What is left of the grid when the surface is taken off. */
export function surfaceResiduals(value: Float64Array, k: Float64Array, n: number): Float64Array {
  const basis = basisOf(n);
  const residual = new Float64Array(n * n);
  for (let i = 0, o = 0; i < residual.length; i++) {
    let surface = 0;
    for (let p = 0; p < TERMS; p++) surface += k[p] * basis[o++];
    residual[i] = value[i] - surface;
  }
  return residual;
}

function reweigh(residual: Float64Array, weight: Float64Array): void {
  const spread = 6 * Math.max(0.2, residual.map(Math.abs).sort()[residual.length >> 1]);
  for (let i = 0; i < residual.length; i++) {
    const t = residual[i] / spread;
    weight[i] = t > -1 && t < 1 ? (1 - t * t) ** 2 : 0;
  }
}

/** Weighted least squares by the normal equations; a little on the diagonal keeps them definite. */
function solveSurface(value: Float64Array, weight: Float64Array, basis: Float64Array): Float64Array {
  const m = new Float64Array(TERMS * TERMS);
  const k = new Float64Array(TERMS);
  for (let i = 0; i < value.length; i++) if (weight[i] !== 0) addTerms(basis, i * TERMS, weight[i], value[i], m, k);
  for (let p = 0; p < TERMS; p++) m[p * TERMS + p] += 1e-6 * value.length;
  if (!solvePositive(m, TERMS, [k])) k.fill(0);
  return k;
}

/** What one place of the grid, whose terms begin at `o`, adds to the normal equations. */
function addTerms(basis: Float64Array, o: number, w: number, value: number, m: Float64Array, k: Float64Array): void {
  for (let p = 0; p < TERMS; p++) {
    const wp = w * basis[o + p];
    for (let q = 0; q <= p; q++) m[p * TERMS + q] += wp * basis[o + q];
    k[p] += wp * value;
  }
}

const GRID = 16;

/** A plane less the quadratic surface that most of it follows: an uneven lamp is no content. Into `out`, as large. */
export function detrendInto(plane: Plane, out: Float32Array): void {
  const { width, height } = plane;
  const value = new Float64Array(GRID * GRID);
  const cell = new Float32Array(9);
  for (let j = 0; j < GRID; j++) {
    for (let i = 0; i < GRID; i++) {
      for (let k = 0; k < 9; k++) {
        const x = Math.floor(((i + ((k % 3) + 0.5) / 3) / GRID) * width);
        const y = Math.floor(((j + (Math.floor(k / 3) + 0.5) / 3) / GRID) * height);
        cell[k] = plane.data[y * width + x];
      }
      value[j * GRID + i] = cell.sort()[4];
    }
  }
  const surface = fitSurface(value, GRID);
  const terms = ROOM;
  const src = terms + 8 * TERMS;
  const dst = src + 4 * plane.data.length;
  const memory = memoryFor(dst + 4 * plane.data.length - ROOM);
  new Float64Array(memory.buffer, terms, TERMS).set(surface);
  memory.set(plane.data, src / 4);
  vectorCode().lessQuadric(src, width, height, terms, dst);
  out.set(memory.subarray(dst / 4, dst / 4 + plane.data.length));
}
