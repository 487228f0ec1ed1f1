import type { Quad } from "../../model/index.ts";
import type { Sketch } from "../../raster/shrink.ts";

/** What the picture says of the inside of a candidate. */
export interface InsideEvidence {
  /** Share of the inside that follows one smooth surface, 0..1. */
  readonly smooth: number;
  /** Median deviation from that surface, codes. */
  readonly roughness: number;
  /** Mean level, codes. */
  readonly level: number;
}

const GRID = 18;
const TERMS = 6;
const MARGIN = 0.06;

/** 1, u, v, u u, u v, v v at each place of the grid, u and v from -1 to 1. */
const BASIS = Float64Array.from({ length: GRID * GRID * TERMS }, (_, k) => {
  const i = Math.floor(k / TERMS);
  const u = (2 * (i % GRID) + 1) / GRID - 1;
  const v = (2 * Math.floor(i / GRID) + 1) / GRID - 1;
  return [1, u, v, u * u, u * v, v * v][k % TERMS];
});

/**
 * How much of the inside is one smooth layer: a quadratic surface is fitted to a grid of samples by iterated
 * reweighting (Tukey's biweight), and the samples that follow it are counted.
 * @param quad corners in pixels of the sketch
 * @param noise standard deviation of the sketch's noise, codes
 */
export function judgeInside(sketch: Sketch, quad: Quad, noise: number): InsideEvidence {
  const value = gridOf(sketch, quad);
  const n = value.length;
  let level = 0;
  for (let i = 0; i < n; i++) level += value[i] / n;
  const residual = deviations(value);
  const sorted = residual.map(Math.abs).sort();
  const tolerance = Math.max(4 * noise, 0.06 * level, 2);
  let follow = 0;
  while (follow < n && sorted[follow] <= tolerance) follow++;
  return { smooth: follow / n, roughness: sorted[n >> 1], level };
}

function gridOf(sketch: Sketch, quad: Quad): Float64Array {
  const { width: w, height: h, r, g, b } = sketch;
  const value = new Float64Array(GRID * GRID);
  for (let j = 0, i = 0; j < GRID; j++) {
    const v = MARGIN + ((1 - 2 * MARGIN) * (j + 0.5)) / GRID;
    const leftX = quad[0][0] + v * (quad[3][0] - quad[0][0]);
    const leftY = quad[0][1] + v * (quad[3][1] - quad[0][1]);
    const rightX = quad[1][0] + v * (quad[2][0] - quad[1][0]);
    const rightY = quad[1][1] + v * (quad[2][1] - quad[1][1]);
    for (let k = 0; k < GRID; k++, i++) {
      const u = MARGIN + ((1 - 2 * MARGIN) * (k + 0.5)) / GRID;
      const x = Math.max(1, Math.min(w - 2, Math.floor(leftX + u * (rightX - leftX))));
      const y = Math.max(1, Math.min(h - 2, Math.floor(leftY + u * (rightY - leftY))));
      const p = y * w + x;
      value[i] = (r[p] + g[p] + b[p] + r[p + 1] + g[p + 1] + b[p + 1] + r[p + w] + g[p + w] + b[p + w]) / 9;
    }
  }
  return value;
}

function deviations(value: Float64Array): Float64Array {
  const n = value.length;
  const weight = new Float64Array(n).fill(1);
  const residual = new Float64Array(n);
  const m = new Float64Array(TERMS * (TERMS + 1));
  for (let round = 0; round < 3; round++) {
    const k = solveSurface(value, weight, m);
    for (let i = 0, o = 0; i < n; i++) {
      let surface = 0;
      for (let p = 0; p < TERMS; p++) surface += k[p] * BASIS[o++];
      residual[i] = value[i] - surface;
    }
    const spread = 6 * Math.max(0.2, residual.map(Math.abs).sort()[n >> 1]);
    for (let i = 0; i < n; i++) {
      const t = residual[i] / spread;
      weight[i] = t > -1 && t < 1 ? (1 - t * t) ** 2 : 0;
    }
  }
  return residual;
}

/** Weighted least squares by the normal equations; a trace on the diagonal keeps them solvable. */
function solveSurface(value: Float64Array, weight: Float64Array, m: Float64Array): Float64Array {
  const columns = TERMS + 1;
  m.fill(0);
  for (let i = 0; i < value.length; i++) {
    const w = weight[i];
    if (w === 0) continue;
    const o = i * TERMS;
    for (let p = 0; p < TERMS; p++) {
      const wp = w * BASIS[o + p];
      for (let q = p; q < TERMS; q++) m[p * columns + q] += wp * BASIS[o + q];
      m[p * columns + TERMS] += wp * value[i];
    }
  }
  for (let p = 0; p < TERMS; p++) {
    for (let q = 0; q < p; q++) m[p * columns + q] = m[q * columns + p];
    m[p * columns + p] += 1e-6 * value.length;
  }
  for (let c = 0; c < TERMS; c++) {
    for (let r = 0; r < TERMS; r++) {
      if (r === c) continue;
      const f = m[r * columns + c] / m[c * columns + c];
      for (let k = c; k <= TERMS; k++) m[r * columns + k] -= f * m[c * columns + k];
    }
  }
  const solution = new Float64Array(TERMS);
  for (let p = 0; p < TERMS; p++) solution[p] = m[p * columns + TERMS] / m[p * columns + p];
  return solution;
}
