import { type Stripes, spreadOf, stripeCentre } from "./blocks.ts";
import { type RowCurve, rowAt } from "./curves.ts";

/** Upright stripes narrow enough that some lie wholly between the lanes, even of a full plate. */
export const FINE_STRIPES = 120;

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
 * @param curve through the middles of rows at half numbers
 * @param margin of the stripes, as a share of the width
 */
export function goesOn(fine: Stripes, curve: RowCurve, margin: number): number {
  const { count, height, data } = fine;
  const noise = spreadOf(fine);
  const along = new Float64Array(count);
  for (let b = 0; b < count; b++) {
    const middle = Math.round(rowAt(curve, stripeCentre(b, count, margin)) - 0.5);
    for (let y = Math.max(0, middle - 1); y <= Math.min(height - 1, middle + 1); y++)
      along[b] += data[b * height + y] / (3 * noise);
  }
  along.sort();
  const low = along[Math.floor(LOW * count)] + BY_NOISE;
  const high = Math.max(LEAST, along[Math.floor(HIGH * count)] - BY_NOISE);
  return Math.max(0, Math.min(1, (low / high - SPOTS) / (LINE - SPOTS)));
}
