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

/** Median of the absolute values, times 1.4826: the standard deviation of a normal ground under outliers. */
function robustSd(values: Float64Array, weights: Float64Array): number {
  return 1.4826 * medianWhere(values.map(Math.abs), weights);
}

function evaluate(surface: Surface, grid: CellGrid): Float64Array {
  const out = new Float32Array(grid.width * grid.height);
  sampleSurface(surface, grid.width, grid.height, out);
  return Float64Array.from(out);
}

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
  let surfaces = fitSurfaces(channels, weights, grid.width, grid.height, SHAPE);
  for (let round = 0; round < ROUNDS; round++) {
    const deviance = new Float64Array(n);
    const against = new Float64Array(n);
    for (let c = 0; c < channels.length; c++) {
      const fit = evaluate(surfaces[c], grid);
      const residual = fit.map((f, i) => sign * (channels[c][i] - f));
      const centre = medianWhere(residual, coverage);
      const sd =
        robustSd(
          residual.map((r) => r - centre),
          coverage,
        ) + FLOOR;
      for (let i = 0; i < n; i++) {
        const r = (residual[i] - centre) / sd;
        if (r > deviance[i]) deviance[i] = r;
        if (-r > against[i]) against[i] = -r;
      }
    }
    for (let i = 0; i < n; i++) {
      const up = deviance[i] / 2.2;
      const down = against[i] / 3.5;
      weights[i] = coverage[i] / ((1 + up * up) * (1 + up * up) * (1 + down * down));
    }
    surfaces = fitSurfaces(channels, weights, grid.width, grid.height, SHAPE);
  }
  return surfaces;
}

/** Median of the values whose weight is above 0; 0 where there is none. */
function medianWhere(values: Float64Array, weights: Float64Array): number {
  const kept = new Float32Array(values.length);
  let n = 0;
  for (let i = 0; i < values.length; i++) if (weights[i] > 0) kept[n++] = values[i];
  return n === 0 ? 0 : selectAt(kept.subarray(0, n), n >> 1);
}
