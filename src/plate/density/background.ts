import { selectAt } from "../../math/select.ts";
import { fitSurfaces, type Surface, sampleSurface } from "../../math/surface.ts";

/** Means over a grid of cells; one row of cells after the other. */
export interface CellGrid {
  readonly width: number;
  readonly height: number;
}

const SHAPE = { spansX: 6, spansY: 8, stiffness: 0.4 };
const ROUNDS = 5;
/** Half a grey level or so: a ground without any noise must not make every cell an outlier. */
const FLOOR = 0.0015;

/**
 * The smooth ground under the spots, fitted to cell means with weights that let go of what sticks out on the spots'
 * side (`sign` = +1: spots lie above the ground, -1: below) at once and of what sticks out on the other side later.
 * Iteratively reweighted penalised splines; asymmetric weights after Eilers 2003, Anal. Chem. 75, 3631.
 * @param channels cell means, one array per channel
 * @param coverage weight of each cell, 0..1 (share of pixels not masked)
 */
export function fitGround(
  channels: readonly Float64Array[],
  coverage: Float64Array,
  grid: CellGrid,
  sign: 1 | -1,
): Surface[] {
  const n = grid.width * grid.height;
  const weights = coverage.slice();
  const fit = new Float32Array(n);
  const residual = new Float64Array(n);
  const kept = new Float32Array(n);
  const deviance = new Float64Array(n);
  const against = new Float64Array(n);
  let surfaces = fitSurfaces(channels, weights, grid.width, grid.height, SHAPE);
  for (let round = 0; round < ROUNDS; round++) {
    deviance.fill(0);
    against.fill(0);
    for (let c = 0; c < channels.length; c++) {
      sampleSurface(surfaces[c], grid.width, grid.height, fit);
      residualsOf(channels[c], fit, sign, residual);
      const centre = medianOf(residual, coverage, kept);
      // A robust standard deviation: the median of the absolute values times 1.4826, of a normal ground under outliers.
      const sd = 1.4826 * medianAround(centre, residual, coverage, kept) + FLOOR;
      addDeviance(residual, centre, sd, deviance, against);
    }
    reweigh(coverage, deviance, against, weights);
    surfaces = fitSurfaces(channels, weights, grid.width, grid.height, SHAPE);
  }
  return surfaces;
}

// Loops of their own, which the engine compiles early.

function residualsOf(values: Float64Array, fit: Float32Array, sign: 1 | -1, residual: Float64Array): void {
  for (let i = 0; i < residual.length; i++) residual[i] = sign * (values[i] - fit[i]);
}

/** How many deviations each cell lies above the ground, and below it, in the channel in which it does most. */
function addDeviance(
  residual: Float64Array,
  centre: number,
  sd: number,
  deviance: Float64Array,
  against: Float64Array,
): void {
  for (let i = 0; i < residual.length; i++) {
    const r = (residual[i] - centre) / sd;
    if (r > deviance[i]) deviance[i] = r;
    if (-r > against[i]) against[i] = -r;
  }
}

function reweigh(coverage: Float64Array, deviance: Float64Array, against: Float64Array, weights: Float64Array): void {
  for (let i = 0; i < weights.length; i++) {
    const up = deviance[i] / 2.2;
    const down = against[i] / 3.5;
    weights[i] = coverage[i] / ((1 + up * up) * (1 + up * up) * (1 + down * down));
  }
}

/** Median of the values whose weight is above 0; 0 where there is none. */
function medianOf(values: Float64Array, weights: Float64Array, kept: Float32Array): number {
  let n = 0;
  for (let i = 0; i < values.length; i++) if (weights[i] > 0) kept[n++] = values[i];
  return n === 0 ? 0 : selectAt(kept.subarray(0, n), n >> 1);
}

/** The same of their distances from `centre`. */
function medianAround(centre: number, values: Float64Array, weights: Float64Array, kept: Float32Array): number {
  let n = 0;
  for (let i = 0; i < values.length; i++) if (weights[i] > 0) kept[n++] = Math.abs(values[i] - centre);
  return n === 0 ? 0 : selectAt(kept.subarray(0, n), n >> 1);
}
