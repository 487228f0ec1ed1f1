import type { Quad } from "../../model/index.ts";
import type { Sketch } from "../../raster/shrink.ts";
import { fitSurface, surfaceResiduals } from "../../raster/trend.ts";

/** What the picture says of the inside of a candidate. */
export interface InsideEvidence {
  /** Share of the inside that follows one smooth surface, 0..1. */
  readonly smooth: number;
  /** Mean level, codes. */
  readonly level: number;
}

const GRID = 18;
const MARGIN = 0.06;

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
  const residual = surfaceResiduals(value, fitSurface(value, GRID), GRID);
  const tolerance = Math.max(4 * noise, 0.06 * level, 2);
  let follow = 0;
  for (let i = 0; i < n; i++) if (Math.abs(residual[i]) <= tolerance) follow++;
  return { smooth: follow / n, level };
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
