import { ridgeAt, type Stripes, spreadOf, spreadOfRidge, stripeCentre } from "./blocks.ts";
import { type RowCurve, rowAt } from "./curves.ts";

/** Upright stripes narrow enough that some lie wholly between the lanes, even of a full plate. */
export const FINE_STRIPES = 120;

/** Response to a line in narrow stripes: how strong at row y of stripe b, and the spread of all. */
export interface FineResponse {
  readonly count: number;
  readonly height: number;
  readonly noise: number;
  readonly at: (b: number, y: number) => number;
}

/** Ridges of stripes, worked out only where they are asked for. */
export function fineRidge(stripes: Stripes, reach: number): FineResponse {
  const { count, height, data } = stripes;
  return {
    count,
    height,
    noise: spreadOfRidge(stripes, reach),
    at: (b, y) => Math.fround(ridgeAt(data, b * height, y, height, reach)),
  };
}

/** Responses already worked out. */
export function fineStripes(stripes: Stripes): FineResponse {
  const { count, height, data } = stripes;
  return { count, height, noise: spreadOf(stripes), at: (b, y) => data[b * height + y] };
}

/** Shares of the stripes that reach the lower and the upper response compared: a fifth of a plate lies between its lanes. */
const LOW = 0.2;
const HIGH = 0.8;
/** How far noise alone moves the lower response down and the upper one up, in noise widths (normal quantiles of 0.2, 0.8). */
const BY_NOISE = 0.84;
/** Below this upper response, in noise widths, nothing can be told. */
const LEAST = 0.3;
/** Up to this share of the upper response the lower one is a row of spots' and no line's; from the second share on a line's. */
const SPOTS = 0.12;
const LINE = 0.25;

/**
 * Whether a curve goes on between the lanes, as a front does, or is bare there, as a row of spots is: 1 for a line, falling
 * to 0 for spots. A faint line passes, since its noise is allowed for.
 * @param fine response to a line in `FINE_STRIPES` stripes
 * @param sign -1 where the line is a valley of it
 * @param curve through the middles of rows at half numbers
 * @param margin of the stripes, as a share of the width
 */
export function goesOn(fine: FineResponse, sign: 1 | -1, curve: RowCurve, margin: number): number {
  const { count, height, noise } = fine;
  const along = new Float64Array(count);
  for (let b = 0; b < count; b++) {
    const middle = Math.round(rowAt(curve, stripeCentre(b, count, margin)) - 0.5);
    for (let y = Math.max(0, middle - 1); y <= Math.min(height - 1, middle + 1); y++)
      along[b] += (sign * fine.at(b, y)) / (3 * noise);
  }
  along.sort();
  const low = along[Math.floor(LOW * count)] + BY_NOISE;
  const high = Math.max(LEAST, along[Math.floor(HIGH * count)] - BY_NOISE);
  return Math.max(0, Math.min(1, (low / high - SPOTS) / (LINE - SPOTS)));
}
